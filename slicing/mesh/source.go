package mesh

import (
	"fmt"
	"io"
	"math"
)

// Remedies that several readers give.
const (
	remedyAgain   = "It was probably cut short or damaged on the way: copy or export it again."
	remedySurface = "Export the solid's surface as triangles, for example as binary STL."
	remedyNumber  = "Export it again, for example as binary STL; check the solid for damaged places first."
	remedyTooBig  = "Reduce the number of triangles in the program that made it."
)

// mostFacets is how many facets can be numbered with three edges each.
const mostFacets = math.MaxInt32/3 - 1

// A source is the file being read.
type source struct {
	r       io.ReaderAt
	size    int64
	name    string
	format  string
	unitMM  float64  // as in Raw
	colours *Colours // as in Raw

	takesPoints bool    // points without faces are wanted too
	bare        *Points // those of a file without faces
}

// headSize is how much of a file is looked at to tell its kind.
const headSize = 64 << 10

func (s *source) head() ([]byte, error) {
	if s.size < 0 {
		return nil, fmt.Errorf("mesh: %s: negative size", s.name)
	}
	head := make([]byte, min(headSize, s.size))
	return head, s.readAt(head, 0)
}

// readAt fills b from offset on. A file that ends before its stated size is cut short.
func (s *source) readAt(b []byte, offset int64) error {
	n, err := s.r.ReadAt(b, offset)
	switch {
	case n == len(b):
		return nil
	case err == io.EOF || err == nil:
		return s.fault(0, offset+int64(n), remedyAgain, "the file ends here, %d bytes were announced", s.size)
	}
	return fmt.Errorf("mesh: reading %s: %w", s.name, err)
}

func (s *source) fault(line int, offset int64, remedy, fault string, args ...any) *FormatError {
	return &FormatError{
		File: s.name, Format: s.format, Line: line, Offset: offset, Fault: fmt.Sprintf(fault, args...), Remedy: remedy,
	}
}
