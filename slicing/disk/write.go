package disk

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"grainstack/slicing/phrase"
)

// permissions are those of a new file; the system takes off what it is told to keep from others.
const permissions = 0o666

// Write writes a file wholly or not at all: beside first, and in its place when all is on the disk. A file that is there is
// replaced and keeps its permissions, behind a link as well; anything that is no regular file is left alone. An error of write
// that is none of the disk comes back as it is.
func Write(path string, write func(io.Writer) error) error {
	at, err := place(path)
	if err != nil {
		return err
	}
	out, err := begin(at)
	if err != nil {
		return writing(err, path)
	}
	defer out.Cleanup() // does nothing once the file has its name
	c := &careful{out: out}
	if err := write(c); err != nil && c.err == nil {
		return err
	}
	if c.err != nil {
		return writing(c.err, path)
	}
	if err := out.CloseAtomicallyReplace(); err != nil {
		return writing(err, path)
	}
	return nil
}

// WriteFile is Write with the bytes at hand.
func WriteFile(path string, data []byte) error {
	return Write(path, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

// Free says why Write would not write to a path, nil where it would try; inputs are files that must not be written over, "" for
// none.
func Free(path string, inputs ...string) error {
	at, err := place(path)
	if err != nil {
		return err
	}
	if err := Apart(at, inputs...); err != nil {
		return err
	}
	dir := filepath.Dir(at)
	if info, err := os.Stat(dir); err != nil {
		return &fault{fmt.Sprintf("there is no folder %s to write to", phrase.Name(dir)), err}
	} else if !info.IsDir() {
		return fmt.Errorf("%s is no folder: nothing can be written into it", phrase.Name(dir))
	}
	return nil
}

// Apart is an error where a path leads to one of the inputs, by whatever names or links.
func Apart(path string, inputs ...string) error {
	info, err := os.Stat(path)
	if err != nil {
		return nil // nothing there
	}
	for _, one := range inputs {
		if one == "" {
			continue
		}
		if in, err := os.Stat(one); err == nil && os.SameFile(info, in) {
			return fmt.Errorf("%s is what is being worked from and is not written over: choose another name", phrase.Name(path))
		}
	}
	return nil
}

// place is where a file is written: where links lead to.
func place(path string) (string, error) {
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Lstat(path); err == nil {
			return "", fmt.Errorf("%s is a link to a file that isn't there: choose another name", phrase.Name(path))
		}
		return path, nil
	}
	if err != nil {
		return "", writing(err, path)
	}
	if err := regular(info, path); err != nil {
		return "", err
	}
	at, err := filepath.EvalSymlinks(path)
	if err != nil {
		return "", writing(err, path)
	}
	return at, nil
}

// careful keeps what the disk said, which is told in another way than what a writer says.
type careful struct {
	out io.Writer
	err error
}

func (c *careful) Write(b []byte) (int, error) {
	if c.err != nil {
		return 0, c.err
	}
	n, err := c.out.Write(b)
	c.err = err
	return n, err
}
