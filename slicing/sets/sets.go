// Package sets joins numbers into disjoint sets (union-find).
package sets

// Sets are disjoint sets of the numbers from 0 on: each names a lower number of its own set, or itself. A set is known by
// its least member, so that the outcome does not depend on the order of joining. Goroutines may work at once on sets that
// have no number in common.
type Sets []int32

// New are n sets of one number each.
func New(n int) Sets {
	s := make(Sets, n)
	for i := range s {
		s[i] = int32(i)
	}
	return s
}

// Find is the least member of i's set. It shortens the way for the next time.
func (s Sets) Find(i int32) int32 {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// Join makes one set of two.
func (s Sets) Join(i, j int32) {
	i, j = s.Find(i), s.Find(j)
	if i < j {
		s[j] = i
	} else if j < i {
		s[i] = j
	}
}

// Flat lets every number name the least member of its set.
func (s Sets) Flat() {
	for i, lower := range s {
		s[i] = s[lower] // numbers below i are flat already
	}
}
