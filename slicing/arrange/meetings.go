package arrange

import (
	"grainstack/slicing/boxtree"
	"grainstack/slicing/sets"
)

// meetings are the facets that meet others, and where.
type meetings struct {
	at     map[int32]int32 // a facet's place among facets
	facets []int32
	flat   []boxtree.Pair // places of two that meet in their common plane
	cross  []crossing
}

// A crossing is where two facets go through one another.
type crossing struct {
	pair boxtree.Pair
	ends []int32
}

func (m *meetings) add(p boxtree.Pair, how meeting) {
	switch {
	case how.flat:
		m.flat = append(m.flat, boxtree.Pair{m.number(p[0]), m.number(p[1])})
	case len(how.ends) > 0:
		m.number(p[0])
		m.number(p[1])
		m.cross = append(m.cross, crossing{p, how.ends})
	}
}

// number is a facet's place among those that meet others.
func (m *meetings) number(f int32) int32 {
	n, ok := m.at[f]
	if !ok {
		n = int32(len(m.facets))
		m.at[f] = n
		m.facets = append(m.facets, f)
	}
	return n
}

// sheets are the sheets by the places of facets, a sheet at the least of its own, and the sheets alone.
func (m *meetings) sheets() (byPlace, all []*sheet) {
	joined := sets.New(len(m.facets))
	for _, p := range m.flat {
		joined.Join(p[0], p[1])
	}
	joined.Flat()
	byPlace = make([]*sheet, len(m.facets))
	for n, f := range m.facets {
		s := byPlace[joined[n]]
		if s == nil {
			s = &sheet{}
			byPlace[n] = s
			all = append(all, s)
		}
		s.facets = append(s.facets, f)
	}
	for _, c := range m.cross {
		for _, f := range c.pair {
			s := byPlace[joined[m.at[f]]]
			s.spots = append(s.spots, c.ends...)
			for i := range len(c.ends) - 1 {
				s.lines = append(s.lines, [2]int32{c.ends[i], c.ends[i+1]})
			}
		}
	}
	return byPlace, all
}

// together counts the lines of sheets that hang together at their ends; those of one plane are one.
func together(sheets []*sheet) int {
	at := map[int32]int32{}
	number := func(id int32) int32 {
		n, ok := at[id]
		if !ok {
			n = int32(len(at))
			at[id] = n
		}
		return n
	}
	var joins [][2]int32
	flat := 0
	for _, s := range sheets {
		if s == nil {
			continue
		}
		if len(s.facets) > 1 && len(s.lines) == 0 {
			flat++
		}
		for _, l := range s.lines {
			joins = append(joins, [2]int32{number(l[0]), number(l[1])})
		}
	}
	set := sets.New(len(at))
	for _, j := range joins {
		set.Join(j[0], j[1])
	}
	set.Flat()
	lines := flat
	for i, s := range set {
		if int(s) == i {
			lines++
		}
	}
	return lines
}
