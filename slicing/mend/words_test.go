package mend

import (
	"strings"
	"testing"
)

// TestEveryActionHasItsWords, once and several times, with their number where they are counted.
func TestEveryActionHasItsWords(t *testing.T) {
	for k := Welded; k <= Shifted; k++ {
		one, many := k.text(1, 0.5), k.text(1234, 0.5)
		_, counts := counted[k]
		if one == "" || many == "" || strings.Contains(one+many, "%!") || counts != (one != many) {
			t.Errorf("kind %d: %q, %q", k, one, many)
		}
	}
}
