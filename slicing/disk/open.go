package disk

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"os"
	"syscall"

	"grainstack/slicing/phrase"
)

// Open opens a regular file, or what a link to one leads to, for reading.
func Open(path string) (*os.File, error) {
	info, err := os.Stat(path) // first: opening a pipe waits for somebody who writes, opening a device may set it going
	if err != nil {
		return nil, reading(err, path)
	}
	if err := regular(info, path); err != nil {
		return nil, err
	}
	f, err := os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK, 0) // should a pipe have taken its place, without waiting
	if err != nil {
		return nil, reading(err, path)
	}
	if info, err = f.Stat(); err == nil {
		err = regular(info, path)
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return f, nil
}

// Mark is what some editors begin a text in UTF-8 with.
const Mark = "\ufeff"

// ReadText reads a regular file of at most limit bytes, without the mark that it may begin with. Memory follows the bytes that are
// there.
func ReadText(path string, limit int64) ([]byte, error) {
	f, err := Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, limit+1))
	if err != nil {
		return nil, reading(err, path)
	}
	if int64(len(text)) > limit {
		return nil, fmt.Errorf("%s has more than %d bytes: it can't be such a file", phrase.Name(path), limit)
	}
	return bytes.TrimPrefix(text, []byte(Mark)), nil
}

// regular says what else something is.
func regular(info fs.FileInfo, path string) error {
	what := "no regular file"
	switch mode := info.Mode(); {
	case mode.IsRegular():
		return nil
	case mode.IsDir():
		what = "a folder"
	case mode&fs.ModeNamedPipe != 0:
		what = "a pipe"
	case mode&fs.ModeSocket != 0:
		what = "a socket"
	case mode&fs.ModeDevice != 0:
		what = "a device"
	}
	return fmt.Errorf("%s is %s: choose a file", phrase.Name(path), what)
}
