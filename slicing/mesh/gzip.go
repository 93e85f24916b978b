package mesh

import (
	"bytes"
	"compress/gzip"
	"errors"
	"io"
)

func looksLikeGzip(head []byte, _ int64) bool { return bytes.HasPrefix(head, []byte("\x1f\x8b\x08")) }

// readGzip unpacks the file (P. Deutsch, RFC 1952) and reads what is inside, which tells its kind by its own contents.
func readGzip(s *source) ([]facet, error) {
	z, err := gzip.NewReader(io.NewSectionReader(s.r, 0, s.size))
	if err != nil {
		return nil, s.packedFault(err)
	}
	inside, err := s.unpack(z, packedLimit(s.size))
	if err != nil {
		return nil, err
	}
	if inside.size == 0 {
		return nil, s.fault(0, 0, remedyAgain, "nothing is packed in it")
	}
	s.r, s.size = inside, inside.size
	head, err := s.head()
	if err != nil {
		return nil, err
	}
	if looksLikeGzip(head, s.size) || looksLikeZip(head, s.size) {
		return nil, &UnsupportedError{File: s.name, Looks: "an archive packed within an archive", Remedy: asUnpack}
	}
	for _, f := range formats() {
		if f.looksLike(head, s.size) {
			s.format = f.name
			return f.read(s)
		}
	}
	return nil, foreign(head, s.name)
}

// packedLimit is how many bytes a packed file of the given size may hold. Meshes shrink to a third or, as very regular text, to
// a fiftieth; what holds far more was made to fill the memory.
func packedLimit(size int64) int64 {
	const floor, times, most = 1 << 20, 250, 8 << 30
	if size > (most-floor)/times {
		return most
	}
	return floor + times*size
}

const remedyPacked = "Unpack it by other means if you trust it, and open what is inside."

// unpack reads all that r has into memory that grows with what is really there; more than limit bytes are refused.
func (s *source) unpack(r io.Reader, limit int64) (*unpacked, error) {
	u := &unpacked{}
	for {
		piece := make([]byte, unpackedPiece)
		n, err := io.ReadFull(r, piece)
		u.pieces = append(u.pieces, piece[:n])
		u.size += int64(n)
		switch {
		case u.size > limit:
			return nil, s.fault(0, 0, remedyPacked, "it unpacks to more than %d MB, which no solid packed into %d kB does",
				limit>>20, (s.size+1023)>>10)
		case err == io.EOF || err == io.ErrUnexpectedEOF && n < unpackedPiece && s.ended(r):
			return u, nil
		case err != nil:
			return nil, s.packedFault(err)
		}
	}
}

// ended reports whether r is at its proper end, which io.ReadFull does not tell from one cut short.
func (s *source) ended(r io.Reader) bool {
	n, err := r.Read(make([]byte, 1))
	return n == 0 && err == io.EOF
}

// packedFault is the news about a packed file that does not unpack.
func (s *source) packedFault(err error) error {
	var fault *FormatError
	if errors.As(err, &fault) {
		return err
	}
	switch {
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return s.fault(0, s.size, remedyAgain, "the packed contents end too early")
	case errors.Is(err, gzip.ErrChecksum):
		return s.fault(0, 0, remedyAgain, "the packed contents are damaged: their check sum does not fit")
	case errors.Is(err, gzip.ErrHeader):
		return s.fault(0, 0, remedyAgain, "the packed contents do not begin as they should")
	}
	return s.fault(0, 0, remedyAgain, "the packed contents are damaged (%v)", err)
}

const unpackedPiece = 1 << 18

// An unpacked file lies in pieces of unpackedPiece bytes, so that it never has to be copied to grow.
type unpacked struct {
	pieces [][]byte
	size   int64
}

// ReadAt is as in io.ReaderAt.
func (u *unpacked) ReadAt(b []byte, offset int64) (int, error) {
	n := 0
	for n < len(b) && offset < u.size {
		k := copy(b[n:], u.pieces[offset/unpackedPiece][offset%unpackedPiece:])
		n += k
		offset += int64(k)
	}
	if n < len(b) {
		return n, io.EOF
	}
	return n, nil
}
