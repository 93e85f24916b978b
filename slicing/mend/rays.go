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

// meet lists the meetings with the lines along axis a.
func (l *lattice) meet(ctx context.Context, a int) error {
	nu, nv := l.n[(a+1)%3], l.n[(a+2)%3]
	var found []meeting
	var on []int32
	for i, t := range l.m.Triangles {
		if i&(1<<15-1) == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		var f geom.Facet
		for k, v := range t {
			p := l.place(l.m.Points[v])
			f[k] = geom.Vec{X: p[(a+1)%3], Y: p[(a+2)%3], Z: p[a]}
		}
		for v, end := f.Rows(); v < end; v++ {
			s := f.Row(v, nu)
			for u := s.First; u < s.End; u++ {
				on = append(on, int32(v*nu+u))
				found = append(found, meeting{float32(s.Z(u)), int32(i), s.Enters})
			}
		}
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
