package export

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"syscall"
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
	return fmt.Sprintf("%s Nothing in %s was changed.", e.Reason, e.Folder)
}

// Unwrap is what the system said.
func (e *FolderError) Unwrap() error { return e.Err }

// sentence says what an error means; being called off is passed on as it is.
func sentence(err error, folder, file string) error {
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	e := &FolderError{Folder: folder, File: file, Err: err}
	what := "the files"
	if file != "" {
		what = file
	}
	switch {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		e.Reason = fmt.Sprintf("The disk is full: there is no room for %s. Make room or choose another disk.", what)
	case errors.Is(err, syscall.EROFS):
		e.Reason = fmt.Sprintf("The disk can only be read: %s can't be written there. Choose another disk.", what)
	case errors.Is(err, fs.ErrPermission):
		e.Reason = fmt.Sprintf("There is no right to write %s there. Choose a folder of your own.", what)
	default:
		e.Reason = fmt.Sprintf("Writing %s failed: %v.", what, err)
	}
	return e
}
