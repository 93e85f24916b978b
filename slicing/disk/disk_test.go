package disk_test

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"grainstack/slicing/disk"
)

// keep writes a file for a test and gives its path.
func keep(t *testing.T, dir, name, text string) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, []byte(text), 0o640); err != nil {
		t.Fatal(err)
	}
	return path
}

// holds fails where a file holds something else, or where files are left beside it.
func holds(t *testing.T, path, want string, beside int) {
	t.Helper()
	if got, err := os.ReadFile(path); err != nil || string(got) != want {
		t.Errorf("%s holds %q, %v", path, got, err)
	}
	if all, err := os.ReadDir(filepath.Dir(path)); err != nil || len(all) != beside+1 {
		t.Errorf("beside %s are %d files, %v", path, len(all)-1, err)
	}
}

// TestAlive: this process is, one that has ended is not.
func TestAlive(t *testing.T) {
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	if err := cmd.Run(); err != nil {
		t.Fatal(err)
	}
	if !disk.Alive(os.Getpid()) || disk.Alive(cmd.Process.Pid) {
		t.Error("the living and the dead are not told apart")
	}
}

func TestReadText(t *testing.T) {
	dir := t.TempDir()
	path := keep(t, dir, "a", disk.Mark+"words")
	if text, err := disk.ReadText(path, 8); err != nil || string(text) != "words" {
		t.Errorf("%q, %v", text, err)
	}
	for _, tt := range []struct {
		path string
		is   error
		says string
	}{
		{filepath.Join(dir, "no\n1"), fs.ErrNotExist, `there is no file`},
		{filepath.Join(path, "below"), nil, "there is no file"},
		{dir, nil, "is a folder: choose a file"},
		{path, nil, "more than 4 bytes"},
	} {
		if runtime.GOOS == "windows" && strings.Contains(tt.path, "\n") { // no name there
			continue
		}
		_, err := disk.ReadText(tt.path, 4)
		if err == nil || !strings.Contains(err.Error(), tt.says) || tt.is != nil && !errors.Is(err, tt.is) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v", tt.path, err)
		}
	}
}

// TestWrite: what is there is replaced wholly or not at all, keeps its permissions, and nothing is left beside.
func TestWrite(t *testing.T) {
	dir := t.TempDir()
	path := keep(t, dir, "a", "old")
	broken := errors.New("broken off")
	err := disk.Write(path, func(w io.Writer) error {
		_, err := io.WriteString(w, "half of the n")
		return errors.Join(err, broken)
	})
	if !errors.Is(err, broken) {
		t.Error(err)
	}
	holds(t, path, "old", 0)
	if err := disk.WriteFile(path, []byte("new")); err != nil {
		t.Error(err)
	}
	holds(t, path, "new", 0)
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 && runtime.GOOS != "windows" { // which has no such permissions
		t.Errorf("%v, %v", info.Mode(), err)
	}
	if err := disk.WriteFile(filepath.Join(dir, "none", "a"), nil); err == nil || !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("into a folder that isn't there: %v", err)
	}
}

// TestLinks: what a link leads to is written, and the link stays; one that leads nowhere is told.
func TestLinks(t *testing.T) {
	dir, other := t.TempDir(), t.TempDir()
	path, link, astray := keep(t, dir, "a", "old"), filepath.Join(other, "link"), filepath.Join(other, "astray")
	if err := errors.Join(os.Symlink(path, link), os.Symlink(filepath.Join(dir, "b"), astray)); err != nil {
		t.Skip(err)
	}
	if to, err := os.Readlink(link); err != nil || to != path {
		t.SkipNow() // links can be made here and not be read
	}
	if err := disk.WriteFile(link, []byte("new")); err != nil {
		t.Error(err)
	}
	holds(t, path, "new", 0)
	if to, err := os.Readlink(link); err != nil || to != path {
		t.Errorf("the link leads to %q, %v", to, err)
	}
	if err := disk.WriteFile(astray, nil); err == nil || !strings.Contains(err.Error(), "isn't there") {
		t.Errorf("a link to nothing: %v", err)
	}
}

// TestFree: no input is written over, by whatever name it comes; a folder and a file as a folder are told before the work.
func TestFree(t *testing.T) {
	dir := t.TempDir()
	in := keep(t, dir, "in.stl", "piece")
	same := filepath.Join(dir, "same")
	if err := os.Link(in, same); err != nil {
		t.Skip(err)
	}
	for path, fault := range map[string]string{
		in: "worked from", same: "worked from", filepath.Join(dir, ".", "in.stl"): "worked from", dir: "a folder",
		filepath.Join(dir, "none", "x"): "no folder", filepath.Join(dir, "new"): "",
	} {
		if err := disk.Free(path, "", in); fmt.Sprint(err) != "<nil>" && fault == "" || fault != "" && !strings.Contains(fmt.Sprint(err), fault) {
			t.Errorf("%s: %v, wants %q", path, err, fault)
		}
	}
}
