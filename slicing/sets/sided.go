package sets

// Sided are disjoint sets whose numbers each face one of two sides: as the least member of the set does, or against it.
type Sided struct {
	lower  Sets
	turned []bool // against the number named in lower
}

// NewSided are n sets of one number each.
func NewSided(n int) *Sided { return &Sided{New(n), make([]bool, n)} }

// find is the least member of i's set and whether i faces against it.
func (s *Sided) find(i int32) (least int32, against bool) {
	for s.lower[i] != i {
		p := s.lower[i]
		s.turned[i] = s.turned[i] != s.turned[p]
		s.lower[i] = s.lower[p]
		against = against != s.turned[i]
		i = s.lower[i]
	}
	return i, against
}

// Join makes one set of two; against says that i and j face opposite sides. It reports false where the two are in one set
// already and disagree.
func (s *Sided) Join(i, j int32, against bool) bool {
	i, ti := s.find(i)
	j, tj := s.find(j)
	against = against != (ti != tj)
	switch {
	case i < j:
		s.lower[j], s.turned[j] = i, against
	case j < i:
		s.lower[i], s.turned[i] = j, against
	default:
		return !against
	}
	return true
}

// Flat are the least members of all numbers' sets and which numbers face against them. The sets are used up.
func (s *Sided) Flat() (least Sets, against []bool) {
	for i := range s.lower {
		s.find(int32(i))
	}
	return s.lower, s.turned
}
