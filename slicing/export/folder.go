package export

import (
	"context"
	"io"
)

// A File is something to be written: a name within the folder, with / between sub-folders, and what writes it.
type File struct {
	Name  string
	Write func(io.Writer) error
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

// Preview lists what WriteFolder would write, without writing.
func Preview(dir string, files []File) ([]Planned, error) { return nil, nil }

// WriteFolder writes all files into dir, or leaves dir as it was.
func WriteFolder(ctx context.Context, dir string, files []File, progress func(done float64, name string)) ([]Written, error) {
	return nil, nil
}
