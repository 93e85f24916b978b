package export

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"

	"grainstack/slicing/killtest"
)

// text is a file that holds a text.
func text(name, s string) File {
	return File{Name: name, Write: func(w io.Writer) error { _, err := io.WriteString(w, s); return err }}
}

// tree is what a folder holds, by name.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, e os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if e.IsDir() {
			return nil
		}
		b, err := os.ReadFile(path)
		name, _ := filepath.Rel(dir, path)
		out[filepath.ToSlash(name)] = string(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// alone fails where anything but the folder is left beside it.
func alone(t *testing.T, dir string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(dir))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Name() != filepath.Base(dir) {
			t.Errorf("%s is left beside the folder", e.Name())
		}
	}
}

func TestWriteFolder(t *testing.T) {
	ctx := context.Background()
	dir := filepath.Join(t.TempDir(), "job")
	var told []string
	got, err := WriteFolder(ctx, dir, []File{text("layers/1.stl", "one"), text("layers/2.stl", "two"), text("list.csv", "a")}, nil,
		func(_ float64, name string) { told = append(told, name) })
	if err != nil {
		t.Fatal(err)
	}
	if want := []Written{{"layers/1.stl", 3}, {"layers/2.stl", 3}, {"list.csv", 1}}; !reflect.DeepEqual(got, want) {
		t.Errorf("written %v", got)
	}
	if want := []string{"layers/1.stl", "layers/2.stl", "list.csv", ""}; !slices.Equal(told, want) {
		t.Errorf("told %q", told)
	}
	alone(t, dir)

	// The maker's own files stay, what is no longer made goes.
	os.WriteFile(filepath.Join(dir, "my notes.txt"), []byte("mine"), 0o600)
	os.Mkdir(filepath.Join(dir, "photos"), 0o700)
	os.Symlink("list.csv", filepath.Join(dir, "link"))
	files := []File{text("layers/1.stl", "new"), text("list.csv", "b")}
	if _, err := WriteFolder(ctx, dir, files, nil, nil); err != nil {
		t.Fatal(err)
	}
	want := map[string]string{"layers/1.stl": "new", "list.csv": "b", "link": "b", "my notes.txt": "mine", contents: "3\tlayers/1.stl\n1\tlist.csv\n"}
	if got := tree(t, dir); !reflect.DeepEqual(got, want) {
		t.Errorf("the folder holds %v", got)
	}
	if _, err := os.Stat(filepath.Join(dir, "photos")); err != nil {
		t.Error("the maker's empty folder is gone")
	}
	if info, _ := os.Stat(filepath.Join(dir, "my notes.txt")); info.Mode().Perm() != 0o600 {
		t.Error("the maker's file has other rights")
	}
	alone(t, dir)
}

// TestFailureLeavesFolder: whatever goes wrong, the folder is as it was and nothing is left beside it.
func TestFailureLeavesFolder(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	ctx, cancel := context.WithCancel(context.Background())
	if _, err := WriteFolder(ctx, dir, []File{text("a", "old a"), text("b", "old b")}, nil, nil); err != nil {
		t.Fatal(err)
	}
	before := tree(t, dir)
	fault := errors.New("no such layer")
	for _, tt := range []struct {
		name string
		last File
		want error
	}{
		{"writer fails", File{Name: "b", Write: func(io.Writer) error { return fault }}, fault},
		{"disk is full", File{Name: "b", Write: func(io.Writer) error { return &os.PathError{Op: "write", Err: syscall.ENOSPC} }}, syscall.ENOSPC},
		{"called off", File{Name: "b", Write: func(w io.Writer) error { cancel(); _, err := w.Write([]byte("x")); return err }}, context.Canceled},
		{"called off before", text("b", "x"), context.Canceled},
	} {
		if _, err := WriteFolder(ctx, dir, []File{text("a", "new a"), tt.last}, nil, nil); !errors.Is(err, tt.want) {
			t.Errorf("%s: got %v", tt.name, err)
		}
		if got := tree(t, dir); !reflect.DeepEqual(got, before) {
			t.Errorf("%s: the folder holds %v", tt.name, got)
		}
		alone(t, dir)
	}
}

func TestFolderNames(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	for _, names := range [][]string{{"../a"}, {"/a"}, {""}, {"a//b"}, {"a", "A"}, {"contents.txt"}, {"a", "a/b"}, {"a\nb"}, {`a\b`}} {
		var files []File
		for _, n := range names {
			files = append(files, text(n, "x"))
		}
		if _, err := WriteFolder(context.Background(), dir, files, nil, nil); err == nil {
			t.Errorf("%q: taken", names)
		}
	}
	file := filepath.Join(t.TempDir(), "file")
	os.WriteFile(file, []byte("mine"), 0o600)
	if _, err := WriteFolder(context.Background(), file, []File{text("a", "x")}, nil, nil); err == nil {
		t.Error("a file was taken for a folder")
	}
}

// TestTidyAfterKill: a folder that was moved aside when the power went comes back; leavings go; a running process's stay.
func TestTidyAfterKill(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	gone := exec.Command("true")
	if err := gone.Run(); err != nil {
		t.Skip("no process to be had")
	}
	beside := func(mark string, pid int) string {
		path := filepath.Join(filepath.Dir(dir), fmt.Sprintf(".job%s%d-0", mark, pid))
		os.Mkdir(path, 0o700)
		os.WriteFile(filepath.Join(path, "mine"), []byte("mine"), 0o600)
		return path
	}
	beside(oldMark, gone.Process.Pid)
	beside(newMark, gone.Process.Pid)
	if _, err := WriteFolder(context.Background(), dir, []File{text("a", "x")}, nil, nil); err != nil {
		t.Fatal(err)
	}
	if got := tree(t, dir); got["mine"] != "mine" || got["a"] != "x" {
		t.Errorf("the folder holds %v", got)
	}
	running := beside(newMark, os.Getppid())
	if _, err := WriteFolder(context.Background(), dir, []File{text("a", "y")}, nil, nil); err == nil || !strings.Contains(err.Error(), "already") {
		t.Errorf("two write to one folder: %v", err)
	}
	if _, err := os.Stat(running); err != nil {
		t.Error("what another process is writing is gone")
	}
	os.RemoveAll(running)
	if got := tree(t, dir); got["a"] != "x" {
		t.Errorf("the folder holds %v", got)
	}
	alone(t, dir)
}

// TestTwoAtOnce: of many that write to one folder at the same time each writes it wholly or says why not, and one at least does.
func TestTwoAtOnce(t *testing.T) {
	for round := range 20 {
		dir := filepath.Join(t.TempDir(), "job")
		if round%2 == 1 {
			os.Mkdir(dir, 0o700)
		}
		var wrote atomic.Int32
		var group sync.WaitGroup
		first := make(chan struct{})
		begun := sync.OnceFunc(func() { close(first) })
		for n := range 4 {
			group.Go(func() {
				if n > 0 {
					<-first
				}
				_, err := WriteFolder(context.Background(), dir, generation(n, func() {
					if n == 0 {
						begun()
					}
				}), nil, nil)
				if err == nil {
					wrote.Add(1)
				} else if !strings.Contains(err.Error(), "already") {
					t.Error(err)
				}
			})
		}
		group.Wait()
		if _, err := turnOf(tree(t, dir)); err != nil || wrote.Load() == 0 {
			t.Errorf("%v, %d wrote", err, wrote.Load())
		}
		alone(t, dir)
	}
}

// TestFolderRefused: what can't be replaced is told before there is work, and nothing is changed.
func TestFolderRefused(t *testing.T) {
	top := t.TempDir()
	inside := filepath.Join(top, "a", "b")
	if err := os.MkdirAll(inside, 0o700); err != nil {
		t.Fatal(err)
	}
	t.Chdir(inside)
	file := filepath.Join(top, "file")
	os.WriteFile(file, nil, 0o600)
	for dir, fault := range map[string]string{
		".": "started in", "..": "started in", inside: "started in", "/": "whole disk", file: "is a file", "c": "", "../c": "", filepath.Join(top, "new", "x"): "",
	} {
		if err := CheckFolder(dir); (err == nil) != (fault == "") || err != nil && !strings.Contains(err.Error(), fault) {
			t.Errorf("%s: %v, wants %q", dir, err, fault)
		}
	}
	if _, err := WriteFolder(context.Background(), ".", []File{text("a", "x")}, nil, nil); err == nil {
		t.Error("the folder that the program works in is replaced")
	}
	alone(t, inside)
}

// TestLongNames: a folder with as long a name as there can be is written and replaced, and told from another that begins as it does.
func TestLongNames(t *testing.T) {
	top := t.TempDir()
	one, other := filepath.Join(top, strings.Repeat("ä", 127)), filepath.Join(top, strings.Repeat("ä", 126)+"b")
	gone := exec.Command("true")
	if err := gone.Run(); err != nil {
		t.Skip("no process to be had")
	}
	left := filepath.Join(top, fmt.Sprintf("%s%s%d-0", (&place{dir: other}).stem(), newMark, gone.Process.Pid))
	if err := os.Mkdir(left, 0o700); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"x", "y"} {
		if _, err := WriteFolder(context.Background(), one, []File{text("a", want)}, nil, nil); err != nil {
			t.Fatal(err)
		}
		if got := tree(t, one); got["a"] != want {
			t.Errorf("the folder holds %v", got)
		}
	}
	if _, err := os.Stat(left); err != nil {
		t.Error("what belongs to another folder is gone")
	}
	_, err := WriteFolder(context.Background(), filepath.Join(top, strings.Repeat("a", 300)), []File{text("a", "x")}, nil, nil)
	if err == nil || !strings.Contains(err.Error(), "too long") {
		t.Errorf("a name that no disk takes: %v", err)
	}
}

// TestStepAside: the way without an exchange in one step.
func TestStepAside(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	os.Mkdir(dir, 0o700)
	os.WriteFile(filepath.Join(dir, "a"), []byte("old"), 0o600)
	p, err := newPlace(dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.write(context.Background(), text("a", "new")); err != nil {
		t.Fatal(err)
	}
	if err := p.stepAside(); err != nil {
		t.Fatal(err)
	}
	p.leave()
	if got := tree(t, dir); got["a"] != "new" {
		t.Errorf("the folder holds %v", got)
	}
	alone(t, dir)
}

// mount makes a small disk in memory; it skips the test where that takes rights that the test has not.
func mount(t *testing.T, options string) string {
	t.Helper()
	dir := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", options, "tmpfs", dir).CombinedOutput(); err != nil {
		t.Skipf("no disk to be had: %v %s", err, out)
	}
	t.Cleanup(func() { exec.Command("umount", dir).Run() })
	return dir
}

// TestDiskFull: a real disk of 1 MB.
func TestDiskFull(t *testing.T) {
	dir := filepath.Join(mount(t, "size=1m"), "job")
	if _, err := WriteFolder(context.Background(), dir, []File{text("a", "old")}, nil, nil); err != nil {
		t.Fatal(err)
	}
	before := tree(t, dir)
	big := File{Name: "big.stl", Write: func(w io.Writer) error { _, err := w.Write(make([]byte, 2<<20)); return err }}
	_, err := WriteFolder(context.Background(), dir, []File{text("a", "new"), big}, nil, nil)
	if err == nil || !errors.Is(err, syscall.ENOSPC) || !strings.Contains(err.Error(), "disk is full") || !strings.Contains(err.Error(), "big.stl") {
		t.Errorf("got %v", err)
	}
	if got := tree(t, dir); !reflect.DeepEqual(got, before) {
		t.Errorf("the folder holds %v", got)
	}
	alone(t, dir)
}

// TestReadOnly: a disk that can only be read, and a folder without the right to write.
func TestReadOnly(t *testing.T) {
	dir := mount(t, "size=1m")
	if out, err := exec.Command("mount", "-o", "remount,ro", dir).CombinedOutput(); err != nil {
		t.Skipf("%v %s", err, out)
	}
	_, err := WriteFolder(context.Background(), filepath.Join(dir, "job"), []File{text("a", "x")}, nil, nil)
	if err == nil || !strings.Contains(err.Error(), "only be read") {
		t.Errorf("got %v", err)
	}
}

// generation is a job whose files all say which turn they are from. step is called in the midst of each.
func generation(n int, step func()) []File {
	var files []File
	for i := range 12 {
		half := bytes.Repeat(fmt.Appendf(nil, "turn %09d\n", n), 200)
		files = append(files, File{Name: fmt.Sprintf("layers/%02d.stl", i), Write: func(w io.Writer) error {
			_, err := w.Write(half)
			if step(); err == nil {
				_, err = w.Write(half)
			}
			return err
		}})
	}
	return files
}

// turnOf is the turn that all of a folder is from, but for the maker's own file.
func turnOf(got map[string]string) (n int, err error) {
	delete(got, "mine")
	if _, err := fmt.Sscanf(got["layers/00.stl"], "turn %d\n", &n); err != nil {
		return 0, err
	}
	for name, s := range got {
		if strings.HasPrefix(name, "layers/") && s != strings.Repeat(fmt.Sprintf("turn %09d\n", n), 400) {
			return n, fmt.Errorf("%s is not of turn %d", name, n)
		}
	}
	if len(got) != 13 {
		return n, fmt.Errorf("%d files", len(got))
	}
	return n, nil
}

// TestKilledWriter is the process that TestKill kills.
func TestKilledWriter(t *testing.T) {
	w := killtest.Written(t)
	w.Rounds(func(round int, step func()) error {
		_, err := WriteFolder(context.Background(), w.Path, generation(round, step), nil, func(float64, string) { step() })
		return err
	})
}

// TestKill kills a writing process 50 times: the folder is always one turn's, whole, and the maker's own file stays in it.
func TestKill(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	mine := false // the maker's file was put in
	put := func() { mine = os.WriteFile(filepath.Join(dir, "mine"), []byte("mine"), 0o600) == nil }
	turns := map[int]bool{}
	killtest.Killing{Child: "TestKilledWriter", Path: dir, Kills: 50, Before: put, Look: func(_, _ int) (int, error) {
		if _, err := os.Lstat(dir); os.IsNotExist(err) && !mine {
			return killtest.Nothing, nil
		}
		got := tree(t, dir)
		if mine && got["mine"] != "mine" {
			return 0, errors.New("the maker's file is gone")
		}
		n, err := turnOf(got)
		turns[n] = true
		return n, err
	}}.Run(t)
	if len(turns) < 15 {
		t.Errorf("only %d different turns were seen", len(turns))
	}
	if _, err := WriteFolder(context.Background(), dir, generation(1, func() {}), nil, nil); err != nil {
		t.Fatal(err)
	}
	alone(t, dir)
}

// Files that are only known once another is written are written after it and listed; fewer of them the next time leave none of the
// old ones, and the preview is silent on those that may come again.
func TestFolderSeries(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	series := func(n int) []File {
		first := text("p/a-1", "1")
		first.Series = "p/a-"
		first.Then = func() (rest []File) {
			for k := 2; k <= n; k++ {
				rest = append(rest, text("p/a-"+strconv.Itoa(k), strconv.Itoa(k)))
			}
			return rest
		}
		return []File{first, text("p/b", "b")}
	}
	for _, n := range []int{3, 1, 2} {
		out, err := WriteFolder(context.Background(), dir, series(n), nil, nil)
		if err != nil || len(out) != n+1 || out[n].Name != "p/b" {
			t.Fatalf("%v: %v", err, out)
		}
		want := map[string]string{"p/b": "b"}
		for k := 1; k <= n; k++ {
			want["p/a-"+strconv.Itoa(k)] = strconv.Itoa(k)
		}
		got := tree(t, dir)
		delete(got, contents)
		if !reflect.DeepEqual(got, want) {
			t.Errorf("with %d the folder holds %v", n, got)
		}
	}
	if p, err := Preview(dir, series(1), nil); err != nil || len(p.Removed) > 0 {
		t.Errorf("%v: %v are said to go", err, p.Removed)
	}
	if p, err := Preview(dir, series(1)[1:], nil); err != nil || len(p.Removed) != 2 {
		t.Errorf("%v: %v are said to go, want two", err, p.Removed)
	}
	twice := series(1)
	twice[0].Then = func() []File { return []File{text("p/b", "again")} }
	if _, err := WriteFolder(context.Background(), dir, twice, nil, nil); err == nil {
		t.Error("a name is written twice")
	}
}
