package export

import (
	"context"
	"errors"
	"fmt"

	"grainstack/slicing/disk"
	"grainstack/slicing/phrase"
)

// A FolderError is why a folder was not written, as a sentence for the maker. The folder is as it was.
type FolderError struct {
	Folder string
	File   string // the file at hand, "" for none
	Reason string
	Err    error
}

// Error is the sentence.
func (e *FolderError) Error() string {
	return fmt.Sprintf("%s Nothing in %s was changed.", e.Reason, phrase.Name(e.Folder))
}

// Unwrap is what the system said.
func (e *FolderError) Unwrap() error { return e.Err }

// sentence says what an error means; none and being called off are passed on as they are.
func sentence(err error, folder, file string) error {
	if err == nil || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	e := &FolderError{Folder: folder, File: file, Err: err}
	what := "the files"
	if file != "" {
		what = file
	}
	reason, ok := disk.Unwritten(err, what)
	if !ok {
		reason = fmt.Sprintf("writing %s failed: %v", what, err)
	}
	e.Reason = phrase.Capital(reason) + "."
	return e
}
