package plane

// Components numbers the connected places of a grid of w by h where in holds, from 1 in the order in which their first places
// come; 0 elsewhere. Places that touch at a side or a corner are connected.
//
// It asks in once of each place: what hangs together in a row is one stretch, and stretches of neighbouring rows that touch join the
// sets of their first ones.
func Components(w, h int, in func(i int) bool) (labels []int32, n int) {
	var c components
	from := 0 // the first stretch of the row before
	for y := range h {
		above, here := from, len(c.all)
		for x, k := 0, y*w; x < w; x++ {
			if !in(k + x) {
				continue
			}
			left := x
			for x++; x < w && in(k+x); x++ {
			}
			above = c.add(k+left, k+x, w, above, here)
		}
		from = here
	}
	labels = make([]int32, w*h)
	for i := range c.all {
		s := &c.all[i]
		if first := c.of(i); first == i {
			n++
			s.label = int32(n)
		} else {
			s.label = c.all[first].label
		}
		for k := s.from; k < s.to; k++ {
			labels[k] = s.label
		}
	}
	return labels, n
}

// components are the stretches of a grid's rows, in order.
type components struct{ all []stretch }

// A stretch is the places from up to but without to; first is an earlier stretch that it is connected with, or itself.
type stretch struct {
	from, to, first int
	label           int32
}

// add takes the next stretch of a row of w places; those from above up to here are of the row before, and it gives which of them the
// next one may touch first.
func (c *components) add(from, to, w, above, here int) int {
	for above < here && c.all[above].to+w < from {
		above++
	}
	first := len(c.all)
	for k := above; k < here && c.all[k].from+w <= to; k++ {
		other := c.of(k)
		if first < len(c.all) && other != first {
			c.all[max(first, other)].first = min(first, other)
		}
		first = min(first, other)
	}
	c.all = append(c.all, stretch{from: from, to: to, first: first})
	return above
}

// of is the first stretch of the set that stretch i is in.
func (c *components) of(i int) int {
	for c.all[i].first != i {
		c.all[i].first = c.all[c.all[i].first].first
		i = c.all[i].first
	}
	return i
}
