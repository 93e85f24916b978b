package export

import (
	"bufio"
	"cmp"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"grainstack/slicing/disk"
)

// A File is something to be written: a name within the folder, with / between sub-folders, and what writes it.
type File struct {
	Name  string
	Write func(io.Writer) error
	// Then are further files that are only known once this one is written, all with names that begin with Series; nil for none.
	Then   func() []File
	Series string
}

// A Planned is a file that would be written.
type Planned struct {
	Name     string
	Replaces bool // a file of this name is there already
}

// A Written is a file that was written.
type Written struct {
	Name  string
	Bytes int64
}

// contents is the file that lists what was written, so that the next time what is no longer made goes as well.
const contents = "contents.txt"

// A Plan is what WriteFolder would do. Files of the folder that it never wrote stay, and are in none of the lists.
type Plan struct {
	Files   []Planned // that are written, in their order
	Kept    []string  // that were written before, are not written now and stay
	Removed []string  // that were written before and go
}

// Preview tells what WriteFolder would do. It changes nothing.
func Preview(dir string, files []File, stays func(name string) bool) (Plan, error) {
	if err := checkNames(files); err != nil {
		return Plan{}, err
	}
	out := Plan{Files: make([]Planned, len(files))}
	for i, f := range files {
		_, err := os.Lstat(filepath.Join(dir, filepath.FromSlash(f.Name)))
		out.Files[i] = Planned{f.Name, err == nil}
	}
	unsure := func(name string) bool { // it may be written again
		return slices.ContainsFunc(files, func(f File) bool { return f.Series != "" && strings.HasPrefix(name, f.Series) })
	}
	kept, removed := earlier(dir, files, stays)
	for _, f := range kept {
		out.Kept = append(out.Kept, f.Name)
	}
	for _, f := range removed {
		if !unsure(f.Name) {
			out.Removed = append(out.Removed, f.Name)
		}
	}
	return out, nil
}

// Spares is an error where the plan takes the place of one of the inputs of the work, or takes it away.
func (p Plan) Spares(dir string, inputs ...string) error {
	touched := slices.Clone(p.Removed)
	for _, f := range p.Files {
		touched = append(touched, f.Name)
	}
	for _, name := range touched {
		if err := disk.Apart(filepath.Join(dir, filepath.FromSlash(name)), inputs...); err != nil {
			return err
		}
	}
	return nil
}

// earlier are the files that were written into the folder before, are still there and not among those to be written: those
// that stay and those that go, by name. stays may be nil: then all go.
func earlier(dir string, files []File, stays func(name string) bool) (kept, removed []Written) {
	written := readContents(dir)
	delete(written, contents)
	for _, f := range files {
		delete(written, strings.ToLower(f.Name))
	}
	for _, f := range written {
		if _, err := os.Lstat(filepath.Join(dir, filepath.FromSlash(f.Name))); err != nil {
			continue
		}
		if stays != nil && stays(f.Name) {
			kept = append(kept, f)
		} else {
			removed = append(removed, f)
		}
	}
	byName := func(a, b Written) int { return cmp.Compare(a.Name, b.Name) }
	slices.SortFunc(kept, byName)
	slices.SortFunc(removed, byName)
	return kept, removed
}

// WriteFolder writes all files into a folder, which then holds them, a list of them (contents.txt), those written before that
// stay, and whatever was in it before and was not written by WriteFolder. It writes beside the folder first, each file to a
// temporary name that is then renamed, and puts the new folder in the place of the old one at the end: whenever it fails, is
// called off or killed, the folder is either as it was or complete. Its errors are sentences for the maker. stays says of a
// file that was written before and is not among these whether it stays; where it is nil all of them go. progress may be nil;
// it is told the share done and the file at hand.
func WriteFolder(ctx context.Context, dir string, files []File, stays func(name string) bool, progress func(done float64, name string)) ([]Written, error) {
	if err := checkNames(files); err != nil {
		return nil, err
	}
	p, err := newPlace(dir)
	if err != nil {
		return nil, sentence(err, dir, "")
	}
	defer p.leave()
	var out []Written
	files = slices.Clone(files)
	for i := 0; i < len(files); i++ {
		f := files[i]
		if progress != nil {
			progress(float64(i)/float64(len(files)), f.Name)
		}
		n, err := p.write(ctx, f)
		if err != nil {
			return nil, sentence(err, p.dir, f.Name)
		}
		out = append(out, Written{f.Name, n})
		if f.Then != nil {
			files = slices.Insert(files, i+1, f.Then()...)
			if err := checkNames(files); err != nil {
				return nil, err
			}
		}
	}
	kept, removed := earlier(p.dir, files, stays)
	if _, err := p.write(ctx, File{Name: contents, Write: func(w io.Writer) error { return writeContents(w, slices.Concat(out, kept)) }}); err != nil {
		return nil, sentence(err, p.dir, contents)
	}
	if err := p.keepOthers(ctx, files, removed); err != nil {
		return nil, sentence(err, p.dir, "")
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := p.swap(); err != nil {
		return nil, sentence(err, p.dir, "")
	}
	if progress != nil {
		progress(1, "")
	}
	return out, nil
}

// checkNames refuses names that leave the folder or come twice, or once as a file and once as a folder.
func checkNames(files []File) error {
	seen := map[string]bool{strings.ToLower(contents): true}
	folders := map[string]bool{}
	for _, f := range files {
		name := filepath.FromSlash(f.Name)
		if !filepath.IsLocal(name) || filepath.Clean(name) != name || strings.ContainsAny(f.Name, "\n\r\x00\\") {
			return fmt.Errorf("%q is no name for a file in the folder", f.Name)
		}
		key := strings.ToLower(f.Name)
		if seen[key] {
			return fmt.Errorf("the file %q would be written twice", f.Name)
		}
		seen[key] = true
		for d := filepath.Dir(key); d != "."; d = filepath.Dir(d) {
			folders[d] = true
		}
	}
	for d := range folders {
		if seen[d] {
			return fmt.Errorf("%q would be both a file and a folder", d)
		}
	}
	return nil
}

// writeContents lists the files, one a line: bytes, a tab, the name.
func writeContents(w io.Writer, files []Written) error {
	for _, f := range files {
		if _, err := fmt.Fprintf(w, "%d\t%s\n", f.Bytes, f.Name); err != nil {
			return err
		}
	}
	return nil
}

// readContents is what a folder's list has, by name in lower case, the list itself included; nothing where there is no list.
func readContents(dir string) map[string]Written {
	written := map[string]Written{}
	f, err := disk.Open(filepath.Join(dir, contents))
	if err != nil {
		return written
	}
	defer f.Close()
	written[contents] = Written{Name: contents}
	for s := bufio.NewScanner(f); s.Scan(); {
		size, name, ok := strings.Cut(s.Text(), "\t")
		if bytes, err := strconv.ParseInt(size, 10, 64); ok && err == nil && filepath.IsLocal(filepath.FromSlash(name)) {
			written[strings.ToLower(name)] = Written{name, bytes}
		}
	}
	return written
}

// write writes one file of the new folder.
func (p *place) write(ctx context.Context, f File) (int64, error) {
	path := filepath.Join(p.made, filepath.FromSlash(f.Name))
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return 0, err
	}
	var c *counter
	err := disk.Write(path, func(out io.Writer) error {
		c = &counter{ctx: ctx, out: out}
		return cmp.Or(f.Write(c), c.err) // its own, of a writer that passed over it
	})
	return c.n, err
}

// A counter counts bytes, keeps the first error and stops when called off.
type counter struct {
	ctx context.Context
	out io.Writer
	n   int64
	err error
}

func (c *counter) Write(b []byte) (int, error) {
	if c.err == nil {
		c.err = c.ctx.Err()
	}
	if c.err != nil {
		return 0, c.err
	}
	n, err := c.out.Write(b)
	c.n += int64(n)
	c.err = err
	return n, err
}
