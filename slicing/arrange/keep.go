package arrange

// keep makes the segment between two points an edge that stays. No other point lies on it and no kept edge crosses it. Edges that
// cross are flipped until none does, those whose quadrangle is not convex after others (method: Sloan, Computers & Structures
// 47(3), 1993).
func (d *dissection) keep(from, to int32) error {
	a, ok := d.local[from]
	b, okb := d.local[to]
	if !ok || !okb {
		return errCut
	}
	defer func() { d.kept[edgeOf(a, b)] = true }()
	todo, ok := d.crossing(a, b)
	if !ok {
		return errCut
	}
	for most := 16 + 8*len(todo)*len(todo); len(todo) > 0; most-- {
		if most == 0 {
			return errCut
		}
		e := todo[0]
		todo = todo[1:]
		t, k, ok := d.cellAt(e[0], e[1])
		if !ok {
			return errCut
		}
		u := d.cells[t].n[k]
		if !d.flip(t, k) {
			todo = append(todo, e)
			continue
		}
		x, y := d.cells[t].v[1], d.cells[u].v[2] // the new diagonal
		if x == a || x == b || y == a || y == b {
			continue
		}
		if d.turn(d.spots[a], d.spots[b], d.spots[x])*d.turn(d.spots[a], d.spots[b], d.spots[y]) < 0 {
			todo = append(todo, [2]int32{x, y})
		}
	}
	return nil
}

// crossing lists the edges that the segment from a to b crosses; ok is false where a point or a kept edge is in the way.
func (d *dissection) crossing(a, b int32) (out [][2]int32, ok bool) {
	t, k, there, ok := d.towards(a, b)
	if !ok || there {
		return nil, ok
	}
	for range len(d.cells) + 1 {
		o := &d.cells[t]
		x, y := o.v[k], o.v[(k+1)%3]
		if d.kept[edgeOf(x, y)] {
			return nil, false
		}
		out = append(out, [2]int32{x, y})
		u := o.n[k]
		if u < 0 {
			return nil, false
		}
		j := d.placeIn(u, y)
		z := d.cells[u].v[(j+2)%3]
		if z == b {
			return out, true
		}
		switch d.turn(d.spots[a], d.spots[b], d.spots[z]) {
		case 0:
			return nil, false
		case 1: // z lies left, where y does: next is the edge from x to z
			t, k = u, (j+1)%3
		default:
			t, k = u, (j+2)%3
		}
	}
	return nil, false
}

// towards is the cell at a through which the segment to b leaves, and its edge opposite a; there says that the two are joined.
func (d *dissection) towards(a, b int32) (t int32, k int, there, ok bool) {
	found := false
	d.round(a, func(c int32, at int) bool {
		o := &d.cells[c]
		x, y := o.v[(at+1)%3], o.v[(at+2)%3]
		if x == b || y == b {
			there = true
			return false
		}
		if d.turn(d.spots[a], d.spots[x], d.spots[b]) > 0 && d.turn(d.spots[a], d.spots[y], d.spots[b]) < 0 {
			t, k, found = c, (at+1)%3, true
		}
		return true
	})
	return t, k, there, found || there
}

// round visits the cells at a point with its place in each, until visit says to stop.
func (d *dissection) round(p int32, visit func(c int32, at int) bool) {
	first := d.at[p]
	c := first
	for {
		k := d.placeIn(c, p)
		if !visit(c, k) {
			return
		}
		next := d.cells[c].n[(k+2)%3]
		if next == first {
			return
		}
		if next < 0 {
			break
		}
		c = next
	}
	for c = first; ; { // the rim: the other way as well
		next := d.cells[c].n[d.placeIn(c, p)]
		if next < 0 {
			return
		}
		c = next
		if !visit(c, d.placeIn(c, p)) {
			return
		}
	}
}

// cellAt is a cell with the edge between two points, and the edge's place in it.
func (d *dissection) cellAt(x, y int32) (t int32, k int, ok bool) {
	d.round(x, func(c int32, at int) bool {
		o := &d.cells[c]
		if o.v[(at+1)%3] == y {
			t, k, ok = c, at, true
		} else if o.v[(at+2)%3] == y {
			t, k, ok = c, (at+2)%3, true
		}
		return !ok
	})
	return t, k, ok
}
