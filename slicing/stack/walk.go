package stack

import (
	"math"
	"slices"

	"grainstack/slicing/geom"
)

// A line is an outline as walked: the points at walker.points[from:to], beginning in a triangle.
type line struct {
	from, to int
	triangle int32
}

// A walker follows the outlines of one plane after the other from triangle to triangle. A triangle cut by a plane has one
// edge that falls through the plane and one that rises, in its own order of corners; with the solid on the left the outline
// comes in across the falling edge and leaves across the rising one, which is the falling edge of the next triangle.
type walker struct {
	slicer  *Slicer
	classes []int32
	stamps  []int32 // per triangle the number + 1 of the plane that it was last walked for

	points []geom.Vec2
	rings  []line // closed
	chains []line // open at both ends
}

// walk finds all outlines of plane k at a height from the triangles that it cuts.
func (w *walker) walk(k int32, height float64, cut []int32) {
	w.points = make([]geom.Vec2, 0, len(cut)+16)
	w.rings, w.chains = w.rings[:0], w.chains[:0]
	for _, t := range cut {
		if w.stamps[t] == k+1 {
			continue
		}
		l := line{from: len(w.points), triangle: t}
		closed := w.follow(k, height, t)
		l.to = len(w.points)
		if closed {
			w.rings = append(w.rings, l)
			continue
		}
		start := len(w.points)
		w.retrace(k, height, t)
		w.prepend(&l, start)
		w.chains = append(w.chains, l)
	}
}

// follow walks on from triangle t, adding the point where it leaves each triangle, until it is back at t or comes to an open
// edge.
func (w *walker) follow(k int32, height float64, t int32) (closed bool) {
	start := t
	e := w.rising(k, t)
	for {
		w.stamps[t] = k + 1
		w.points = append(w.points, w.crossing(height, t, e))
		twin := w.slicer.twins[3*t+e]
		if twin < 0 {
			return false
		}
		t = twin / 3
		if t == start {
			return true
		}
		if w.stamps[t] == k+1 {
			return false
		}
		// The edge came in falling: the third corner decides which of the other two rises.
		e = twin%3 + 1
		if w.classes[w.slicer.mesh.Triangles[t][(twin+2)%3]] <= k {
			e++
		}
		e %= 3
	}
}

// retrace walks back from triangle t to where the outline begins, adding the points on the way.
func (w *walker) retrace(k int32, height float64, t int32) {
	e := w.rising(k, t)
	for {
		// From the rising edge back: the third corner decides which of the other two falls.
		tri := w.slicer.mesh.Triangles[t]
		f := e + 1
		if w.classes[tri[(e+2)%3]] > k {
			f++
		}
		f %= 3
		w.points = append(w.points, w.crossing(height, t, f))
		twin := w.slicer.twins[3*t+f]
		if twin < 0 || w.stamps[twin/3] == k+1 {
			return
		}
		t, e = twin/3, twin%3
		w.stamps[t] = k + 1
	}
}

// prepend puts the points from start on, in reverse order, before the others of the line.
func (w *walker) prepend(l *line, start int) {
	slices.Reverse(w.points[l.from:start])
	slices.Reverse(w.points[l.from:])
	l.to = len(w.points)
}

// rising is the edge of triangle t that goes up through plane k.
func (w *walker) rising(k, t int32) int32 {
	tri := w.slicer.mesh.Triangles[t]
	for e := range int32(2) {
		if w.classes[tri[e]] <= k && w.classes[tri[e+1]] > k {
			return e
		}
	}
	return 2
}

// crossing is where edge e of triangle t meets the plane, reckoned from the lower-numbered vertex so that it does not depend
// on the triangle.
func (w *walker) crossing(height float64, t, e int32) geom.Vec2 {
	m := w.slicer.mesh
	tri := &m.Triangles[t]
	i, j := tri[e], tri[(e+1)%3]
	if i > j {
		i, j = j, i
	}
	p, q := &m.Points[i], &m.Points[j]
	px, py, pz := float64(p[0]), float64(p[1]), float64(p[2])
	rise := float64(q[2]) - pz
	if rise == 0 {
		return geom.Vec2{X: px, Y: py}
	}
	s := (height - pz) / rise
	return geom.Vec2{X: px + s*(float64(q[0])-px), Y: py + s*(float64(q[1])-py)}
}

// region is the rings of the plane: without repeated points, without those that are nowhere wider than width, and with the
// open ones as far as they can be closed.
func (w *walker) region(width float64) geom.Region {
	g := make(geom.Region, 0, len(w.rings))
	for _, l := range w.rings {
		if r := w.ring(l, width); r != nil {
			g = append(g, r)
		}
	}
	for _, r := range joinChains(w.chains, w.points) {
		if r = tidy(r); !thin(r, width) {
			g = append(g, r)
		}
	}
	return g
}

// ring is a closed line without repeated points, nil where it is nowhere wider than width.
func (w *walker) ring(l line, width float64) geom.Ring {
	r := tidy(geom.Ring(w.points[l.from:l.to:l.to]))
	if thin(r, width) {
		return nil
	}
	return r
}

// breaks is the number of open lines.
func (w *walker) breaks() int { return len(w.chains) }

// tidy drops points that repeat the one before, in place.
func tidy(r geom.Ring) geom.Ring {
	n := 0
	for _, p := range r {
		if n == 0 || p != r[n-1] {
			r[n] = p
			n++
		}
	}
	for n > 1 && r[n-1] == r[0] {
		n--
	}
	return r[:n:n]
}

// thin reports whether a ring is nowhere wider than width, as near as area and perimeter can tell.
func thin(r geom.Ring, width float64) bool {
	return len(r) < 3 || math.Abs(r.Area()) <= width/2*r.Perimeter()
}
