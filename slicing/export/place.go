package export

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// A place is a folder that is to be replaced, and the new one beside it.
type place struct {
	dir   string // where links lead to
	there bool   // it exists
	made  string // the new folder; once swapped, the old one
}

// Names of folders beside the one that is replaced: a dot, its name, what it is and whose it is.
const (
	newMark = ".new-"
	oldMark = ".old-"
)

func newPlace(dir string) (*place, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	if real, err := filepath.EvalSymlinks(dir); err == nil {
		dir = real
	}
	p := &place{dir: dir}
	parent, base := filepath.Split(dir)
	if base == "" {
		return nil, errors.New("a whole disk can't be replaced: choose a folder on it")
	}
	if err := os.MkdirAll(parent, 0o777); err != nil {
		return nil, err
	}
	p.tidy()
	switch info, err := os.Stat(dir); {
	case err == nil && !info.IsDir():
		return nil, fmt.Errorf("%s is a file: choose a folder", dir)
	case err == nil:
		p.there = true
	case !errors.Is(err, fs.ErrNotExist):
		return nil, err
	}
	for n := range 1000 {
		p.made = p.beside(newMark, n)
		if err = os.Mkdir(p.made, 0o777); !errors.Is(err, fs.ErrExist) {
			break
		}
	}
	return p, err
}

// beside is the name of a folder of this process next to the one that is replaced.
func (p *place) beside(mark string, n int) string {
	parent, base := filepath.Split(p.dir)
	return filepath.Join(parent, fmt.Sprintf(".%s%s%d-%d", base, mark, os.Getpid(), n))
}

// tidy clears what a process that was killed left behind: a folder that it had moved aside goes back where nothing took its
// place, and what it had not finished, or had replaced, goes.
func (p *place) tidy() {
	parent, base := filepath.Split(p.dir)
	entries, err := os.ReadDir(parent)
	if err != nil {
		return
	}
	for _, e := range entries {
		for _, mark := range []string{oldMark, newMark} {
			rest, ok := strings.CutPrefix(e.Name(), "."+base+mark)
			owner, _, _ := strings.Cut(rest, "-")
			pid, err := strconv.Atoi(owner)
			if !ok || err != nil || !e.IsDir() || alive(pid) {
				continue
			}
			path := filepath.Join(parent, e.Name())
			if _, err := os.Lstat(p.dir); mark == oldMark && errors.Is(err, fs.ErrNotExist) {
				_ = os.Rename(path, p.dir) // where it can't go back it stays where it is
				continue
			}
			_ = os.RemoveAll(path)
		}
	}
}

// leave removes what is beside the folder: the new one where it was not finished, else the old one.
func (p *place) leave() {
	if p.made != "" {
		_ = os.RemoveAll(p.made) // what stays is cleared the next time
	}
}

// mostOthers bounds what may be carried over: a folder with more is somebody's home and not a job's.
const mostOthers = 10000

// keepOthers gives the new folder all that the old one holds besides what is written and what was written before and goes. Files
// are linked, or copied where the disk knows no links, so that both folders have them until the swap is done.
func (p *place) keepOthers(ctx context.Context, files []File, removed []Written) error {
	if !p.there {
		return nil
	}
	gone := map[string]bool{contents: true}
	for _, f := range files {
		gone[strings.ToLower(f.Name)] = true
	}
	for _, f := range removed {
		gone[strings.ToLower(f.Name)] = true
	}
	kept := 0
	return filepath.WalkDir(p.dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || path == p.dir {
			return err
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		name, err := filepath.Rel(p.dir, path)
		if err != nil || !e.IsDir() && gone[strings.ToLower(filepath.ToSlash(name))] {
			return err
		}
		if kept++; kept > mostOthers {
			return fmt.Errorf("%s holds more than %d other files: choose a folder of its own for this job", p.dir, mostOthers)
		}
		return p.keep(path, filepath.Join(p.made, name), e)
	})
}

func (p *place) keep(from, to string, e fs.DirEntry) error {
	if e.IsDir() {
		if entries, err := os.ReadDir(from); err != nil || len(entries) > 0 {
			return err // its files bring it along
		}
		return os.MkdirAll(to, 0o777)
	}
	if err := os.MkdirAll(filepath.Dir(to), 0o777); err != nil {
		return err
	}
	if e.Type()&fs.ModeSymlink != 0 {
		target, err := os.Readlink(from)
		if err != nil {
			return err
		}
		return os.Symlink(target, to)
	}
	if os.Link(from, to) == nil {
		return nil
	}
	if !e.Type().IsRegular() {
		return fmt.Errorf("%s is no file that can be kept", from)
	}
	return duplicate(from, to)
}

// duplicate copies a file where it can't be linked.
func duplicate(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	info, err := in.Stat()
	if err != nil {
		return err
	}
	out, err := os.OpenFile(to, os.O_CREATE|os.O_EXCL|os.O_WRONLY, info.Mode().Perm())
	if err != nil {
		return err
	}
	if _, err := io.Copy(out, in); err != nil {
		return errors.Join(err, out.Close())
	}
	if err := out.Sync(); err != nil {
		return errors.Join(err, out.Close())
	}
	if err := out.Close(); err != nil {
		return err
	}
	return os.Chtimes(to, info.ModTime(), info.ModTime())
}

// swap puts the new folder in the old one's place, in one step where the disk can do that.
func (p *place) swap() error {
	if !p.there {
		if err := os.Rename(p.made, p.dir); err != nil {
			return err
		}
		p.made = ""
		return settle(filepath.Dir(p.dir))
	}
	if info, err := os.Stat(p.dir); err == nil {
		if err := os.Chmod(p.made, info.Mode().Perm()); err != nil {
			return err
		}
	}
	err := exchange(p.made, p.dir)
	if errors.Is(err, errors.ErrUnsupported) {
		err = p.stepAside()
	}
	if err != nil {
		return err
	}
	return settle(filepath.Dir(p.dir))
}

// stepAside moves the old folder aside and the new one in; if that fails the old one goes back.
func (p *place) stepAside() error {
	old := p.beside(oldMark, 0)
	if err := os.Rename(p.dir, old); err != nil {
		return err
	}
	if err := os.Rename(p.made, p.dir); err != nil {
		return errors.Join(err, os.Rename(old, p.dir))
	}
	p.made = old
	return nil
}

// settle has the disk keep the names in a folder. Some disks can't be asked to, which is no failure.
func settle(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return nil
	}
	defer d.Close()
	_ = d.Sync()
	return nil
}
