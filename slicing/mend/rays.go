package mend

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

const (
	// margin is how many nodes lie outside the box on each side.
	margin = 3
	// offGrid is where the box begins between two nodes: flat faces that lie at whole steps meet no node.
	offGrid = 0.4142
	// mostNodes bounds the memory of a grid: two bytes a node.
	mostNodes = 1 << 27
)

// A lattice is a grid of nodes round a solid with the places where the grid's lines meet the surface. Axis a's lines are
// told by their places on the axes a+1 and a+2.
type lattice struct {
	origin geom.Vec
	step   float64
	n      [3]int
	m      *mesh.Mesh
	lines  [3]lines
	inside []uint8 // x fastest, then y, then z
}

// lines are all lines along one axis with their meetings in order.
type lines struct {
	start []int32
	meets []meeting
	nu    int
}

// A meeting is where a line meets a facet: at steps along the line; into says that it enters.
type meeting struct {
	at    float32
	facet int32
	into  bool
}

// newLattice lays a grid of the given step over m.
func newLattice(ctx context.Context, m *mesh.Mesh, step float64) (*lattice, error) {
	b := m.Box()
	size := b.Size()
	l := &lattice{step: step, m: m, origin: b.Min.Sub(geom.Vec{X: 1, Y: 1, Z: 1}.Scale((margin + offGrid) * step))}
	total := 1.0
	for k, s := range [3]float64{size.X, size.Y, size.Z} {
		n := math.Floor(s/step) + 2*margin + 3
		total *= n
		if !(total <= mostNodes) {
			return nil, errors.New("mend: the resolution is too fine for this piece")
		}
		l.n[k] = int(n)
	}
	errs := [3]error{}
	err := par.Spans(ctx, 3, 1, func(a, _ int) { errs[a] = l.meet(ctx, a) })
	return l, errors.Join(err, errs[0], errs[1], errs[2])
}

// place is p in steps.
func (l *lattice) place(p mesh.Point) [3]float64 {
	v := p.Vec().Sub(l.origin).Scale(1 / l.step)
	return [3]float64{v.X, v.Y, v.Z}
}

// A spot is a corner as the lines of one axis see it.
type spot struct{ u, v, at float64 }

// meet lists the meetings with the lines along axis a.
func (l *lattice) meet(ctx context.Context, a int) error {
	nu, nv := l.n[(a+1)%3], l.n[(a+2)%3]
	var found []meeting
	var on []int32
	add := func(u, v int, at float64, facet int32, into bool) {
		on = append(on, int32(v*nu+u))
		found = append(found, meeting{float32(at), facet, into})
	}
	for i, t := range l.m.Triangles {
		if i&(1<<15-1) == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		var s [3]spot
		for k, v := range t {
			p := l.place(l.m.Points[v])
			s[k] = spot{p[(a+1)%3], p[(a+2)%3], p[a]}
		}
		crossLines(&s, func(u, v int, at float64, into bool) { add(u, v, at, int32(i), into) })
	}
	ls := &l.lines[a]
	ls.nu = nu
	ls.start = make([]int32, nu*nv+2)
	for _, o := range on {
		ls.start[o+2]++
	}
	for i := 2; i < len(ls.start); i++ {
		ls.start[i] += ls.start[i-1]
	}
	ls.meets = make([]meeting, len(found))
	for i, o := range on {
		ls.meets[ls.start[o+1]] = found[i]
		ls.start[o+1]++
	}
	for i := range nu * nv {
		slices.SortStableFunc(ls.meets[ls.start[i]:ls.start[i+1]], func(p, q meeting) int { return cmp.Compare(p.at, q.at) })
	}
	return nil
}

// crossLines visits the lines at whole u and v that pass through a facet. A corner on a row counts as before it and a line
// on the end of a row's span as past it, and both facets on a side find its place from the same sum; so no line is counted
// twice or never where it passes through a side or a corner.
func crossLines(s *[3]spot, visit func(u, v int, at float64, into bool)) {
	lo, hi := min(s[0].v, s[1].v, s[2].v), max(s[0].v, s[1].v, s[2].v)
	for v := int(math.Ceil(lo)); v < int(math.Ceil(hi)); v++ {
		y := float64(v)
		var up, down spot
		for k := range 3 {
			p, q := &s[k], &s[(k+1)%3]
			if before := p.v <= y; before == (q.v <= y) {
				continue
			} else if before {
				up = between(p, q, y)
			} else {
				down = between(q, p, y)
			}
		}
		left, right, into := down, up, false
		if up.u < down.u {
			left, right, into = up, down, true
		}
		u, end := int(math.Ceil(left.u)), int(math.Ceil(right.u))
		if u >= end {
			continue
		}
		slope := (right.at - left.at) / (right.u - left.u)
		for ; u < end; u++ {
			visit(u, v, left.at+slope*(float64(u)-left.u), into)
		}
	}
}

// between is where the side from lo up to hi passes row v.
func between(lo, hi *spot, v float64) spot {
	t := (v - lo.v) / (hi.v - lo.v)
	return spot{lo.u + t*(hi.u-lo.u), v, lo.at + t*(hi.at-lo.at)}
}

// of are the meetings of the line at u, v.
func (ls *lines) of(u, v int) []meeting {
	i := v*ls.nu + u
	return ls.meets[ls.start[i]:ls.start[i+1]]
}

// stride is how far apart neighbours along an axis lie in inside.
func (l *lattice) stride(a int) int {
	switch a {
	case 0:
		return 1
	case 1:
		return l.n[0]
	}
	return l.n[0] * l.n[1]
}

// node is the place of a node in space.
func (l *lattice) node(x, y, z float64) geom.Vec {
	return l.origin.Add(geom.Vec{X: x, Y: y, Z: z}.Scale(l.step))
}
