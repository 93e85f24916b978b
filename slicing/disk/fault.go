package disk

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"syscall"

	"grainstack/slicing/phrase"
)

// A fault is a sentence about what the system said.
type fault struct {
	text string
	err  error
}

func (f *fault) Error() string { return f.text }

func (f *fault) Unwrap() error { return f.err }

// reading says why a file can't be read.
func reading(err error, path string) error {
	name := phrase.Name(path)
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
		return &fault{"there is no file " + name, err}
	case errors.Is(err, fs.ErrPermission):
		return &fault{"there is no right to read " + name, err}
	}
	return &fault{fmt.Sprintf("%s can't be read: %v", name, bare(err)), err}
}

// Unwritten says why something can't be written; what is its name. ok is false where the system said none of what is known here.
func Unwritten(err error, what string) (reason string, ok bool) {
	says := func(any []error) bool {
		return slices.ContainsFunc(any, func(one error) bool { return errors.Is(err, one) })
	}
	var open *held
	switch {
	case errors.As(err, &open):
		return fmt.Sprintf("%s can't be changed while open elsewhere (%s). Close it there, then try again", what, phrase.Name(strings.Join(open.by, ", "))), true
	case says(saysFull):
		return fmt.Sprintf("the disk is full: there is no room for %s. Make room or choose another disk", what), true
	case says(saysReadOnly):
		return fmt.Sprintf("the disk can only be read: %s can't be written there. Choose another disk", what), true
	case errors.Is(err, fs.ErrPermission):
		return fmt.Sprintf("there is no right to write %s there. Choose a folder of your own", what), true
	case says(saysTooLong):
		return fmt.Sprintf("the name is too long: %s can't be written. Choose a shorter one", what), true
	case says(saysInUse):
		return fmt.Sprintf("another program has %s open. Close it there, then try again", what), true
	}
	return "", false
}

// writing says why a file can't be written.
func writing(err error, path string) error {
	name := phrase.Name(path)
	if reason, ok := Unwritten(err, name); ok {
		return &fault{reason, err}
	}
	return &fault{fmt.Sprintf("%s can't be written: %v", name, bare(err)), err}
}

// bare is what the system said without the path, which may be that of a file on its way.
func bare(err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		return at.Err
	}
	return err
}
