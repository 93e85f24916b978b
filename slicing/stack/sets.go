package stack

// sets are disjoint sets of numbers; each is known by its least member, so that the outcome does not depend on the order of
// joining.
type sets []int32

func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = int32(i)
	}
	return s
}

// find is the least member of i's set. It shortens the way for the next time.
func (s sets) find(i int32) int32 {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// join makes one set of two.
func (s sets) join(i, j int32) {
	i, j = s.find(i), s.find(j)
	if i < j {
		s[j] = i
	} else if j < i {
		s[i] = j
	}
}
