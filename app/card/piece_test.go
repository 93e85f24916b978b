package card

import (
	"testing"

	"grainstack/slicing/geom"
)

func solidTurn() geom.Turn { return geom.TurnXYZ(10, 20, 30) }

func TestThousands(t *testing.T) {
	for n, want := range map[int]string{0: "0", 999: "999", 1000: "1\u2009000", 612000: "612\u2009000", 1234567: "1\u2009234\u2009567"} {
		if got := Thousands(n); got != want {
			t.Errorf("%d: %q", n, got)
		}
	}
}
