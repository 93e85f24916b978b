package arrange

import (
	"errors"
	"math"

	"grainstack/slicing/mesh"
)

// errCut says that a facet could not be cut, which exact arithmetic rules out.
var errCut = errors.New("arrange: a facet can't be cut along its lines")

// A cell is a triangle of a dissection that turns left: its points, and the cells across the edges that begin at each.
type cell struct {
	v, n [3]int32
}

// nowhere is across an edge of the rim.
const nowhere = -1

// A dissection is a triangulation of the plane of a sheet, seen in a view, that grows point by point.
type dissection struct {
	*points
	view
	ids   []int32 // of its points; below 0 for those round the sheet
	spots []*spot
	local map[int32]int32
	at    []int32 // a cell at each point
	cells []cell
	kept  map[[2]int32]bool // edges that must stay, lower point first
	last  int32             // where the last search ended
}

func newDissection(p *points, v view) *dissection {
	return &dissection{points: p, view: v, local: map[int32]int32{}, kept: map[[2]int32]bool{}}
}

func (d *dissection) add(id int32, s *spot) int32 {
	n := int32(len(d.ids))
	d.ids, d.spots, d.at = append(d.ids, id), append(d.spots, s), append(d.at, 0)
	d.local[id] = n
	return n
}

// beginWith starts with a facet.
func (d *dissection) beginWith(t mesh.Triangle, handed int) {
	if handed < 0 {
		t[1], t[2] = t[2], t[1]
	}
	for _, id := range t {
		d.add(id, d.of(id))
	}
	d.cells = []cell{{[3]int32{0, 1, 2}, [3]int32{nowhere, nowhere, nowhere}}}
}

// beginRound starts with a triangle far round some points.
func (d *dissection) beginRound(spots []int32) {
	far := 1.0
	for _, id := range spots {
		s := d.of(id)
		far = max(far, math.Abs(s.at[d.i]), math.Abs(s.at[d.j]))
	}
	far = math.Exp2(math.Ceil(math.Log2(far)) + 2)
	for k, at := range [3][2]float64{{-4 * far, -2 * far}, {4 * far, -2 * far}, {0, 4 * far}} {
		var v [3]float64
		v[d.i], v[d.j] = at[0], at[1]
		d.add(int32(-1-k), d.exactly(v[0], v[1], v[2]))
	}
	d.cells = []cell{{[3]int32{0, 1, 2}, [3]int32{nowhere, nowhere, nowhere}}}
}

// put adds a point.
func (d *dissection) put(id int32) error {
	if _, ok := d.local[id]; ok {
		return nil
	}
	s := d.of(id)
	c, edge, ok := d.find(s)
	if !ok {
		return errCut
	}
	p := d.add(id, s)
	if edge < 0 {
		d.splitCell(c, p)
	} else {
		d.splitEdge(c, edge, p)
	}
	d.last = c
	return nil
}

// find is the cell that holds a point, and the edge on which it lies, or below 0.
func (d *dissection) find(s *spot) (c int32, edge int, ok bool) {
	c = d.last
	for range 4*len(d.cells) + 16 {
		next, on := int32(-2), -1
		t := &d.cells[c]
		for k := range 3 {
			side := d.turn(d.spots[t.v[k]], d.spots[t.v[(k+1)%3]], s)
			if side < 0 {
				next = t.n[k]
				break
			}
			if side == 0 {
				on = k
			}
		}
		switch next {
		case -2:
			return c, on, true
		case nowhere:
			return 0, 0, false
		}
		c = next
	}
	for c := range d.cells { // the walk went round in a ring
		t := &d.cells[c]
		on, in := -1, true
		for k := range 3 {
			side := d.turn(d.spots[t.v[k]], d.spots[t.v[(k+1)%3]], s)
			in = in && side >= 0
			if side == 0 {
				on = k
			}
		}
		if in {
			return int32(c), on, true
		}
	}
	return 0, 0, false
}

// set puts a cell in its place and lets its points know.
func (d *dissection) set(c int32, a, b, e, ab, be, ea int32) {
	if int(c) == len(d.cells) {
		d.cells = append(d.cells, cell{})
	}
	d.cells[c] = cell{[3]int32{a, b, e}, [3]int32{ab, be, ea}}
	d.at[a], d.at[b], d.at[e] = c, c, c
}

// moved lets the cell across an edge know that another lies there now.
func (d *dissection) moved(of, from, to int32) {
	if of < 0 {
		return
	}
	for k, n := range d.cells[of].n {
		if n == from {
			d.cells[of].n[k] = to
			return
		}
	}
}

// splitCell divides a cell into three at a point inside it.
func (d *dissection) splitCell(t, p int32) {
	o := d.cells[t]
	t1, t2 := int32(len(d.cells)), int32(len(d.cells)+1)
	a, b, c := o.v[0], o.v[1], o.v[2]
	d.set(t, a, b, p, o.n[0], t1, t2)
	d.set(t1, b, c, p, o.n[1], t2, t)
	d.set(t2, c, a, p, o.n[2], t, t1)
	d.moved(o.n[1], t, t1)
	d.moved(o.n[2], t, t2)
	d.settle([][2]int32{{t, 0}, {t1, 0}, {t2, 0}})
}

// splitEdge divides the cells on both sides of an edge at a point on it.
func (d *dissection) splitEdge(t int32, k int, p int32) {
	o := d.cells[t]
	a, b, c := o.v[k], o.v[(k+1)%3], o.v[(k+2)%3]
	bc, ca, u := o.n[(k+1)%3], o.n[(k+2)%3], o.n[k]
	t1 := int32(len(d.cells))
	if u < 0 {
		d.set(t, a, p, c, nowhere, t1, ca)
		d.set(t1, p, b, c, nowhere, bc, t)
		d.moved(bc, t, t1)
		d.settle([][2]int32{{t, 2}, {t1, 1}})
		return
	}
	j := d.placeIn(u, b)
	w := d.cells[u]
	e, ae, eb := w.v[(j+2)%3], w.n[(j+1)%3], w.n[(j+2)%3]
	u1 := t1 + 1
	d.set(t, a, p, c, u1, t1, ca)
	d.set(t1, p, b, c, u, bc, t)
	d.set(u, b, p, e, t1, u1, eb)
	d.set(u1, p, a, e, t, ae, u)
	d.moved(bc, t, t1)
	d.moved(ae, u, u1)
	d.settle([][2]int32{{t, 2}, {t1, 1}, {u, 2}, {u1, 1}})
}

// placeIn is the place of a point in a cell, which is that of the edge that begins there.
func (d *dissection) placeIn(c, p int32) int {
	for k, v := range d.cells[c].v {
		if v == p {
			return k
		}
	}
	return 0
}

// flip turns the edge at place k of a cell: its two cells then share the other diagonal of the quadrangle. It does nothing, and
// says so, where that is not convex.
func (d *dissection) flip(t int32, k int) bool {
	o := d.cells[t]
	u := o.n[k]
	if u < 0 {
		return false
	}
	a, b, c := o.v[k], o.v[(k+1)%3], o.v[(k+2)%3]
	j := d.placeIn(u, b)
	w := d.cells[u]
	e := w.v[(j+2)%3]
	if d.turn(d.spots[a], d.spots[e], d.spots[c]) <= 0 || d.turn(d.spots[e], d.spots[b], d.spots[c]) <= 0 {
		return false
	}
	bc, ca, ae, eb := o.n[(k+1)%3], o.n[(k+2)%3], w.n[(j+1)%3], w.n[(j+2)%3]
	d.set(t, a, e, c, ae, u, ca)
	d.set(u, e, b, c, eb, bc, t)
	d.moved(ae, u, t)
	d.moved(bc, t, u)
	return true
}

// settle flips edges, and those round them in turn, whose quadrangles get larger least angles that way. Rounding may make it miss
// a few, which only leaves triangles slimmer than need be.
func (d *dissection) settle(todo [][2]int32) {
	for most := 64 + 16*len(d.cells); len(todo) > 0 && most > 0; most-- {
		e := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		t, k := e[0], int(e[1])
		o := d.cells[t]
		u := o.n[k]
		if u < 0 || d.kept[edgeOf(o.v[k], o.v[(k+1)%3])] {
			continue
		}
		far := d.cells[u].v[(d.placeIn(u, o.v[(k+1)%3])+2)%3]
		if d.inCircle(o.v[0], o.v[1], o.v[2], far) && d.flip(t, k) {
			todo = append(todo, [2]int32{t, 0}, [2]int32{t, 2}, [2]int32{u, 0}, [2]int32{u, 1})
		}
	}
}

func edgeOf(a, b int32) [2]int32 { return [2]int32{min(a, b), max(a, b)} }

// inCircle reports whether e lies clearly inside the circle through a, b, c.
func (d *dissection) inCircle(a, b, c, e int32) bool {
	o := d.spots[e].at
	row := func(p int32) (x, y, z float64) {
		x, y = d.spots[p].at[d.i]-o[d.i], d.spots[p].at[d.j]-o[d.j]
		return x, y, x*x + y*y
	}
	ax, ay, az := row(a)
	bx, by, bz := row(b)
	cx, cy, cz := row(c)
	det := az*(bx*cy-by*cx) - bz*(ax*cy-ay*cx) + cz*(ax*by-ay*bx)
	all := az*(math.Abs(bx*cy)+math.Abs(by*cx)) + bz*(math.Abs(ax*cy)+math.Abs(ay*cx)) + cz*(math.Abs(ax*by)+math.Abs(ay*bx))
	return det > 1e-9*all
}

// improve settles all edges.
func (d *dissection) improve() {
	var todo [][2]int32
	for c := range d.cells {
		todo = append(todo, [2]int32{int32(c), 0}, [2]int32{int32(c), 1}, [2]int32{int32(c), 2})
	}
	d.settle(todo)
}

// partsOf are the cells as triangles that face as the sheet's facet does where handed is its turn in the view.
func (d *dissection) partsOf(facet int32, handed int) []part {
	out := make([]part, len(d.cells))
	for i, c := range d.cells {
		t := mesh.Triangle{d.ids[c.v[0]], d.ids[c.v[1]], d.ids[c.v[2]]}
		if handed < 0 {
			t[1], t[2] = t[2], t[1]
		}
		out[i] = part{t, 1, facet}
	}
	return out
}
