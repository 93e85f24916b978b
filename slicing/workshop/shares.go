package workshop

import "grainstack/slicing/geom"

// shares tell for each cell of a raster which parts have it: none, one, or several where parts overlap, as those of a surface
// that crosses itself may.
type shares struct {
	*cover
	last []int32 // per cell one more than the place in of of the last part that has it, 0 for none
	of   []share
}

// A share is a part's claim to a cell, and where the one before it is.
type share struct {
	part   int32
	before int32
}

func newShares(box geom.Box2) *shares {
	c := newCover(box)
	return &shares{cover: c, last: make([]int32, len(c.bits))}
}

// parts claims the cells of each part's section, from 0.
func (s *shares) parts(sections []geom.Region) {
	for part, g := range sections {
		s.middles(g, func(i int) { s.claim(i, int32(part)) })
	}
}

func (s *shares) claim(cell int, part int32) {
	for k := s.last[cell]; k > 0; k = s.of[k-1].before {
		if s.of[k-1].part == part {
			return
		}
	}
	s.of = append(s.of, share{part, s.last[cell]})
	s.last[cell] = int32(len(s.of))
}

// each visits the parts that have a cell.
func (s *shares) each(cell int, visit func(part int)) {
	for k := s.last[cell]; k > 0; k = s.of[k-1].before {
		visit(int(s.of[k-1].part))
	}
}
