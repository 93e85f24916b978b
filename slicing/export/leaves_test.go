package export_test

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"grainstack/slicing/export"
)

// holding is a file that holds a text.
func holding(name, text string) export.File {
	return export.File{Name: name, Write: func(w io.Writer) error { _, err := io.WriteString(w, text); return err }}
}

// TestWhatStaysAndGoes: what was written before and is not written again goes unless it is to stay; Preview tells beforehand
// what becomes of every file, and a file that stayed once can go the next time. What the maker put there is never touched.
func TestWhatStaysAndGoes(t *testing.T) {
	ctx := context.Background()
	dir := filepath.Join(t.TempDir(), "out")
	write := func(files []export.File, stays func(string) bool) {
		t.Helper()
		if _, err := export.WriteFolder(ctx, dir, files, stays, nil); err != nil {
			t.Fatal(err)
		}
	}
	all := []export.File{holding("a.txt", "1"), holding("Sub/b.txt", "1"), holding("sub2/c.txt", "1"), holding("sub2/d.txt", "1")}
	if got, err := export.Preview(dir, all, nil); err != nil || len(got.Kept)+len(got.Removed) > 0 || got.Files[0].Replaces {
		t.Errorf("of a folder that isn't there: %v, %v", got, err)
	}
	write(all, nil)
	if err := os.WriteFile(filepath.Join(dir, "mine.txt"), []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, step := range []struct {
		files []export.File
		stays func(string) bool
		want  export.Plan
		holds map[string]string
	}{
		{
			[]export.File{holding("sub2/d.txt", "2"), holding("sub2/e.txt", "2")}, func(name string) bool { return !strings.HasPrefix(name, "sub2/") },
			export.Plan{Files: []export.Planned{{Name: "sub2/d.txt", Replaces: true}, {Name: "sub2/e.txt"}}, Kept: []string{"Sub/b.txt", "a.txt"}, Removed: []string{"sub2/c.txt"}},
			map[string]string{"a.txt": "1", "Sub/b.txt": "1", "sub2/d.txt": "2", "sub2/e.txt": "2"},
		},
		{
			[]export.File{holding("a.txt", "3")}, nil,
			export.Plan{Files: []export.Planned{{Name: "a.txt", Replaces: true}}, Removed: []string{"Sub/b.txt", "sub2/d.txt", "sub2/e.txt"}},
			map[string]string{"a.txt": "3"},
		},
	} {
		got, err := export.Preview(dir, step.files, step.stays)
		if err != nil || !reflect.DeepEqual(got, step.want) {
			t.Errorf("it would be %v, %v, want %v", got, err, step.want)
		}
		write(step.files, step.stays)
		held := map[string]string{}
		for _, name := range []string{"a.txt", "Sub/b.txt", "sub2/c.txt", "sub2/d.txt", "sub2/e.txt", "mine.txt"} {
			if data, err := os.ReadFile(filepath.Join(dir, name)); err == nil {
				held[name] = string(data)
			}
		}
		step.holds["mine.txt"] = "mine"
		if !reflect.DeepEqual(held, step.holds) {
			t.Errorf("the folder holds %v, want %v", held, step.holds)
		}
	}
}
