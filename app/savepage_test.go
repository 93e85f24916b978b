package app

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2/test"
)

// Asking where a file goes leaves what stands there as it is, and asks once more before it is replaced.
func TestWhereAFileGoes(t *testing.T) {
	w := newRig(t, ring())
	dir := t.TempDir()
	there := filepath.Join(dir, "hare.grainstack")
	if err := os.WriteFile(there, []byte("as it was"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		why, name, folder string
		want              string
		confirms          int // how often the button has to be pressed
	}{
		{"a new name gets the usual ending", "doe", dir, filepath.Join(dir, "doe.grainstack"), 1},
		{"capitals are an ending as well", "doe.GRAINSTACK", dir, filepath.Join(dir, "doe.GRAINSTACK"), 1},
		{"what is there is asked about", "hare", dir, there, 2},
		{"no name", "  ", dir, "", 2},
		{"a name that leads elsewhere", "../hare", dir, "", 2},
		{"no folder", "hare", filepath.Join(dir, "missing"), "", 2},
	} {
		got, leftAlone := "", false
		p := w.chooseWhere("Save the job", "hare.grainstack", func(path string) { got = path }, func() { leftAlone = true })
		p.name.SetText(tt.name)
		p.folder.SetText(tt.folder)
		for range tt.confirms {
			test.Tap(p.write)
		}
		if got != tt.want {
			t.Errorf("%s: %q, wanted %q (%s)", tt.why, got, tt.want, p.said.Text)
		}
		p.dialog.Hide()
		if (got == "") != leftAlone {
			t.Errorf("%s: chosen %q and left %v", tt.why, got, leftAlone)
		}
	}
	if b, err := os.ReadFile(there); err != nil || string(b) != "as it was" {
		t.Errorf("the file that was there is %q, %v", b, err)
	}
	if all, err := os.ReadDir(dir); err != nil || len(all) != 1 {
		t.Errorf("asking left %v behind, %v", all, err)
	}
}
