package mesh

import (
	"fmt"

	"grainstack/slicing/phrase"
)

// A FormatError says where a file breaks its own format and what the maker can do about it.
type FormatError struct {
	File   string // as given to Read
	Format string // "STL", "OBJ", "PLY", "OFF"; empty where even that could not be told
	Line   int    // from 1; 0 where the format has no lines
	Offset int64  // bytes from the file's start, where Line is 0
	Fault  string // what is wrong
	Remedy string // what to do, a sentence
}

func (e *FormatError) Error() string {
	place := fmt.Sprintf("byte %d", e.Offset)
	if e.Line > 0 {
		place = fmt.Sprintf("line %d", e.Line)
	}
	name := phrase.Name(e.File)
	if e.Format == "" {
		return fmt.Sprintf("%s: %s. %s", name, e.Fault, e.Remedy)
	}
	return fmt.Sprintf("%s: %s, %s: %s. %s", name, e.Format, place, e.Fault, e.Remedy)
}

// An UnsupportedError says that a file may be sound but is of a kind that is not read here.
type UnsupportedError struct {
	File   string
	Looks  string // what it looks like, e.g. "a STEP drawing"
	Remedy string // what to do, a sentence
}

func (e *UnsupportedError) Error() string {
	return fmt.Sprintf("%s looks like %s, which is not read here. %s", phrase.Name(e.File), e.Looks, e.Remedy)
}
