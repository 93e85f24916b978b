//go:build unix

package app

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"fyne.io/fyne/v2/storage"
)

// TestShown: a dialog shows files of its endings, in capitals too, and links to such; no pipes, which would hold it up for good.
func TestShown(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	for _, name := range []string{"a.stl", "b.STL", "c.txt"} {
		if err := os.WriteFile(at(name), nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := syscall.Mkfifo(at("pipe.stl"), 0o666); err != nil {
		t.Fatal(err)
	}
	for link, to := range map[string]string{"d.stl": "a.stl", "e.stl": "pipe.stl", "f.stl": "nothing"} {
		if err := os.Symlink(at(to), at(link)); err != nil {
			t.Fatal(err)
		}
	}
	for name, want := range map[string]bool{"a.stl": true, "b.STL": true, "c.txt": false, "pipe.stl": false, "d.stl": true, "e.stl": false, "f.stl": false} {
		if got := (shown{".stl"}).Matches(storage.NewFileURI(at(name))); got != want {
			t.Errorf("%s is shown: %t", name, got)
		}
	}
	if !shown(nil).Matches(storage.NewFileURI(at("c.txt"))) {
		t.Error("a file without a wanted ending is not shown where all are")
	}
}
