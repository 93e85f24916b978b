package export

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"

	"grainstack/slicing/disk"
	"grainstack/slicing/phrase"
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

// CheckFolder says why WriteFolder would refuse a folder whatever is to be written, nil where it would try. It changes nothing.
func CheckFolder(dir string) error {
	p, err := locate(dir)
	if err != nil {
		return sentence(err, dir, "")
	}
	return sentence(p.look(), p.dir, "")
}

// newPlace begins the new folder.
func newPlace(dir string) (*place, error) {
	p, err := locate(dir)
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(filepath.Dir(p.dir), 0o777); err != nil {
		return nil, err
	}
	p.tidy()
	if err := p.look(); err != nil {
		return nil, err
	}
	for n := range 1000 {
		p.made = p.beside(newMark, n)
		if err = os.Mkdir(p.made, 0o777); !errors.Is(err, fs.ErrExist) {
			break
		}
	}
	if err == nil {
		if err = p.alone(); err != nil { // asked after its own is there: of two that begin at once none overlooks the other
			p.leave()
		}
	}
	return p, err
}

// locate is where links lead to. A whole disk is refused, and so is the folder that the program works in, or one above it: whoever
// started it there would sit in a folder that is no more.
func locate(dir string) (*place, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	if real, err := filepath.EvalSymlinks(dir); err == nil {
		dir = real
	}
	if filepath.Dir(dir) == dir {
		return nil, errors.New("a whole disk can't be replaced: choose a folder on it")
	}
	if here, err := os.Getwd(); err == nil {
		if rel, err := filepath.Rel(dir, here); err == nil && filepath.IsLocal(rel) {
			return nil, fmt.Errorf("%s is the folder that the program was started in, or one above it, and can't be replaced as a whole: choose a folder of its own for the files", phrase.Name(dir))
		}
	}
	return &place{dir: dir}, nil
}

// look looks for what is there.
func (p *place) look() error {
	info, err := os.Stat(p.dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case !info.IsDir():
		return fmt.Errorf("%s is a file: choose a folder", phrase.Name(p.dir))
	}
	p.there = true
	return nil
}

// longestBase leaves room in a name of 255 bytes, the most that disks take, for what stands before and after it.
const longestBase = 180

// stem is how names of folders beside the one that is replaced begin, up to their mark.
func (p *place) stem() string {
	base := filepath.Base(p.dir)
	if len(base) <= longestBase {
		return "." + base
	}
	sum := sha256.Sum256([]byte(base))
	return fmt.Sprintf(".%s-%x", strings.ToValidUTF8(base[:longestBase], ""), sum[:8])
}

// beside is the name of a folder of this process next to the one that is replaced.
func (p *place) beside(mark string, n int) string {
	return filepath.Join(filepath.Dir(p.dir), fmt.Sprintf("%s%s%d-%d", p.stem(), mark, os.Getpid(), n))
}

// besides calls do for each folder next to the one that is replaced that a process has made for it.
func (p *place) besides(do func(path, mark string, process int)) {
	entries, err := os.ReadDir(filepath.Dir(p.dir))
	if err != nil {
		return
	}
	for _, e := range entries {
		for _, mark := range []string{oldMark, newMark} {
			rest, ok := strings.CutPrefix(e.Name(), p.stem()+mark)
			owner, _, _ := strings.Cut(rest, "-")
			if process, err := strconv.Atoi(owner); ok && err == nil && e.IsDir() {
				do(filepath.Join(filepath.Dir(p.dir), e.Name()), mark, process)
			}
		}
	}
}

// alone says so where somebody else is about to replace the folder.
func (p *place) alone() (err error) {
	p.besides(func(path, mark string, process int) {
		if mark == newMark && path != p.made && disk.Alive(process) {
			err = fmt.Errorf("files are being written to %s already: wait until that is done, or choose another folder; if nothing is, take %s away",
				phrase.Name(p.dir), phrase.Name(path))
		}
	})
	return err
}

// tidy clears what a process that was killed left behind: a folder that it had moved aside goes back where nothing took its
// place, and what it had not finished, or had replaced, goes.
func (p *place) tidy() {
	p.besides(func(path, mark string, process int) {
		if disk.Alive(process) {
			return
		}
		if _, err := os.Lstat(p.dir); mark == oldMark && errors.Is(err, fs.ErrNotExist) {
			_ = disk.Rename(path, p.dir) // where it can't go back it stays where it is
			return
		}
		_ = os.RemoveAll(path)
	})
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
			return fmt.Errorf("%s holds more than %d other files: choose a folder of its own for this job", phrase.Name(p.dir), mostOthers)
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
		return fmt.Errorf("%s is no file that can be kept: take it away or choose another folder", phrase.Name(from))
	}
	return duplicate(from, to)
}

// duplicate copies a file where it can't be linked.
func duplicate(from, to string) error {
	in, err := disk.Open(from)
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
		if err := disk.Rename(p.made, p.dir); err != nil {
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
	if errors.Is(err, syscall.EBUSY) {
		return fmt.Errorf("%s is a disk of its own or in use, and can't be replaced as a whole: choose a folder in it", phrase.Name(p.dir))
	}
	if err != nil {
		return err
	}
	return settle(filepath.Dir(p.dir))
}

// stepAside moves the old folder aside and the new one in; if that fails the old one goes back.
func (p *place) stepAside() error {
	old := p.beside(oldMark, 0)
	if err := disk.Rename(p.dir, old); err != nil {
		return err
	}
	if err := disk.Rename(p.made, p.dir); err != nil {
		return errors.Join(err, disk.Rename(old, p.dir))
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
