package disk

import (
	"fmt"
	"os"
	"testing"
)

// TestHeld: where the system tells which program has something open, the maker is told.
func TestHeld(t *testing.T) {
	err := fmt.Errorf("the folder: %w", &held{[]string{"a viewer", "a shell"}, os.ErrPermission})
	want := "the files can't be changed while open elsewhere (a viewer, a shell). Close it there, then try again"
	if got, ok := Unwritten(err, "the files"); !ok || got != want {
		t.Errorf("told %q, want %q", got, want)
	}
}
