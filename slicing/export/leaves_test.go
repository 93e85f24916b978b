package export_test

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"grainstack/slicing/export"
)

// TestLeaves names what was written before and will go, and nothing else.
func TestLeaves(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	file := func(name string) export.File {
		return export.File{Name: name, Write: func(w io.Writer) error { _, err := io.WriteString(w, name); return err }}
	}
	all := []export.File{file("a.txt"), file("sub/b.txt"), file("c.txt")}
	if got := export.Leaves(dir, all); len(got) > 0 {
		t.Errorf("from a folder that isn't there %v would go", got)
	}
	if _, err := export.WriteFolder(context.Background(), dir, all, nil); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "mine.txt"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	announced := export.Leaves(dir, all[:1])
	if want := []string{"c.txt", "sub/b.txt"}; !slices.Equal(announced, want) {
		t.Errorf("%v would go, want %v", announced, want)
	}
	if _, err := export.WriteFolder(context.Background(), dir, all[:1], nil); err != nil {
		t.Fatal(err)
	}
	for _, name := range append(announced, "a.txt", "mine.txt") {
		_, err := os.Stat(filepath.Join(dir, name))
		if gone := err != nil; gone != slices.Contains(announced, name) {
			t.Errorf("%s is gone: %v", name, gone)
		}
	}
}
