package mesh

import (
	"context"
	"encoding/binary"
	"math"
	"sync"

	"grainstack/slicing/par"
)

// A binary STL is 80 bytes of anything, the number of facets, then for each facet a normal, three corners and two bytes.
const (
	stlHead  = 84
	stlFacet = 50
)

// exactSTL goes by arithmetic alone: many binary files begin with the word "solid".
func exactSTL(head []byte, size int64) bool {
	return size >= stlHead && stlHead+stlFacet*promisedSTL(head) == size
}

func promisedSTL(head []byte) int64 { return int64(binary.LittleEndian.Uint32(head[80:])) }

// likelySTL takes files whose count does not fit, by what stands where the first facet should be: numbers of a sensible
// size and a normal no longer than two.
func likelySTL(head []byte, size int64) bool {
	if size < stlHead || isText(head) && isText(head[80:84]) {
		return false
	}
	if _, known := kindOf(head); known {
		return false
	}
	if size < stlHead+stlFacet {
		return true
	}
	for i := range 12 {
		v := math.Abs(float64(math.Float32frombits(binary.LittleEndian.Uint32(head[stlHead+4*i:]))))
		if v > 1e9 || i < 3 && v > 2 {
			return false
		}
	}
	return true
}

// readSTL reads the facets of a binary STL, many at once. Bytes after the last facet are left alone, unless there is room for
// further facets: then the count is wrong and nobody knows where the solid ends.
func readSTL(s *source) ([]facet, error) {
	head := make([]byte, min(stlHead, s.size))
	if err := s.readAt(head, 0); err != nil {
		return nil, err
	}
	n, room := promisedSTL(head), (s.size-stlHead)/stlFacet
	switch {
	case n > room:
		return nil, s.fault(0, 80, remedyAgain, "the header promises %d facets, the file holds %d", n, room)
	case n == 0 && room > 0:
		return nil, s.fault(0, 80, remedyAgain, "the header promises no facets, the file has room for %d", room)
	case n > mostFacets:
		return nil, s.fault(0, 80, remedyTooBig, "%d facets are more than can be read", n)
	}
	facets := make([]facet, n)
	return facets, s.decodeSTL(facets)
}

// decodeSTL fills facets; the fault nearest the file's start is the one reported.
func (s *source) decodeSTL(facets []facet) error {
	const piece = 1 << 13
	var lock sync.Mutex
	var first error
	at := len(facets)
	scratch := make([][]byte, par.Count())
	work := func(worker, from, to int) {
		if scratch[worker] == nil {
			scratch[worker] = make([]byte, stlFacet*min(piece, len(facets)))
		}
		b := scratch[worker][:stlFacet*(to-from)]
		err := s.readAt(b, stlHead+stlFacet*int64(from))
		if err == nil {
			err = s.decodeFacets(facets[from:to], b, from)
		}
		if err != nil {
			lock.Lock()
			defer lock.Unlock()
			if from < at {
				first, at = err, from
			}
		}
	}
	_ = par.Workers(context.Background(), len(facets), piece, work) // without a deadline it has no error
	return first
}

// decodeFacets reads facets from b; from is the first one's number in the file.
func (s *source) decodeFacets(facets []facet, b []byte, from int) error {
	for i := range facets {
		c := b[stlFacet*i+12 : stlFacet*i+48]
		f := &facets[i]
		bad := false
		for k := range 9 {
			v, ok := coordinate(binary.LittleEndian.Uint32(c[4*k:]))
			f[k/3][k%3] = v
			bad = bad || !ok
		}
		if bad {
			return s.fault(0, stlHead+stlFacet*int64(from+i), remedyNumber,
				"facet %d has a corner at no finite place", from+i+1)
		}
	}
	return nil
}

// coordinate is the number with these bits, with -0 made 0; ok is false for an infinite one and for no number.
func coordinate(bits uint32) (v float32, ok bool) {
	const sign, infinite = 1 << 31, 0xff << 23
	if bits == sign {
		bits = 0
	}
	return math.Float32frombits(bits), bits&infinite != infinite
}
