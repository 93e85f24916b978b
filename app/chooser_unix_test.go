//go:build unix

package app

import (
	"os"
	"path/filepath"
	"slices"
	"syscall"
	"testing"

	"fyne.io/fyne/v2"
)

// TestWhatAChooserLists: a chooser lists folders, and files of its endings, in capitals too, and links to such; no pipes, which
// would hold it up for good, and no files where a folder is asked for.
func TestWhatAChooserLists(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	for _, name := range []string{"a.stl", "b.STL", "c.txt", ".h.stl"} {
		if err := os.WriteFile(at(name), nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(at("z"), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mkfifo(at("pipe.stl"), 0o666); err != nil {
		t.Fatal(err)
	}
	for link, to := range map[string]string{"d.stl": "a.stl", "e.stl": "pipe.stl", "f.stl": "nothing"} {
		if err := os.Symlink(at(to), at(link)); err != nil {
			t.Fatal(err)
		}
	}
	for _, tt := range []struct {
		q    chooser
		want []string
	}{
		{chooser{endings: []string{".stl"}}, []string{"..", "z", "a.stl", "b.STL", "d.stl"}},
		{chooser{}, []string{"..", "z", "a.stl", "b.STL", "c.txt", "d.stl"}},
		{chooser{folders: true}, []string{"..", "z"}},
	} {
		all, err := listFolder(dir, tt.q)
		var names []string
		for _, one := range all {
			names = append(names, one.name)
		}
		if err != nil || !slices.Equal(names, tt.want) {
			t.Errorf("%+v lists %q, want %q (%v)", tt.q, names, tt.want, err)
		}
	}
	if all, err := listFolder(at("nowhere"), chooser{}); err == nil || len(all) != 1 {
		t.Errorf("of a folder that is not there: %v, %v", all, err)
	}
}

// TestAFileIsChosenByKeys: the list has the keys, a folder is gone into and left, Escape closes the page wherever the keys are.
func TestAFileIsChosenByKeys(t *testing.T) {
	r := newRig(t, ring())
	dir := t.TempDir()
	if err := os.MkdirAll(filepath.Join(dir, "in", "deep"), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "in", "scan.stl"), []byte("x"), 0o666); err != nil {
		t.Fatal(err)
	}
	var got string
	p := r.core.choose(chooser{title: "Open", confirm: "Open", endings: []string{".stl"}, folder: dir}, func(path string) { got = path })
	at := func(dir string, n int) func() bool {
		return func() bool { return p.dir == dir && len(p.all) == n && r.win.Canvas().Focused() == p.list }
	}
	in := filepath.Join(dir, "in")
	r.until("the folder is listed", at(dir, 2))
	r.press(fyne.KeyDown)
	r.press(fyne.KeyReturn)
	r.until("the folder in it is", at(in, 3))
	r.press(fyne.KeyReturn) // the first row leads up
	r.until("and that which holds it again", at(dir, 2))
	r.press(fyne.KeyDown)
	r.press(fyne.KeyReturn)
	r.until("once more", at(in, 3))
	for range 6 { // wherever Tab leads, Escape is heard
		r.win.Canvas().FocusNext()
		if r.press(fyne.KeyEscape); len(r.pages) != 0 {
			t.Fatalf("with the keys at %T Escape leaves %d pages", r.win.Canvas().Focused(), len(r.pages))
		}
		r.core.show(p.dialog)
	}
	p.path.SetText(filepath.Join(in, "nothing.stl"))
	if p.take(); got != "" || p.said.Text == "" {
		t.Errorf("a file that is not there: taken %q, said %q", got, p.said.Text)
	}
	p.path.SetText(filepath.Join(in, "scan.stl"))
	if p.path.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn}); got != filepath.Join(in, "scan.stl") || len(r.pages) != 0 {
		t.Errorf("chosen is %q, %d pages are open", got, len(r.pages))
	}
}
