package carve

import (
	"context"
	"fmt"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/stack"
)

// QuickStep is the columns' spacing in mm that serves to compare stands.
const QuickStep = 2.0

// TrappedQuick is about how much air outside the piece is trapped when it stands as s says, in layers of a thickness with
// the first joint at firstJoint (0 for a whole layer): mm³. It is meant for comparing many stands of a thinned piece (see
// mesh.Thin) at a wide step. m is in its own frame. It runs on one goroutine: try several stands side by side.
func TrappedQuick(ctx context.Context, m *mesh.Mesh, s stack.Stand, thickness, firstJoint, step float64) (float64, error) {
	if err := ctx.Err(); err != nil {
		return 0, err
	}
	q, err := stand(m, s)
	if err != nil {
		return 0, err
	}
	if firstJoint <= 0 {
		firstJoint = thickness
	}
	slabs, err := stack.Layers(q.height, thickness, firstJoint)
	if err != nil {
		return 0, err
	}
	l, err := newLattice(q.box, step)
	if err != nil {
		return 0, err
	}
	cast := caster{lattice: &l, j1: l.ny, out: make([]crossing, 0, 4*l.nx*l.ny)}
	for i, t := range m.Triangles {
		if i%chunk == 0 && ctx.Err() != nil {
			return 0, ctx.Err()
		}
		cast.facet(&q.points[t[0]], &q.points[t[1]], &q.points[t[2]])
	}
	return trappedIn(&l, cast.out, slabs), nil
}

// A quickStand is a piece that stands for a moment.
type quickStand struct {
	points []mesh.Point
	box    geom.Box
	height float64
}

func stand(m *mesh.Mesh, s stack.Stand) (quickStand, error) {
	if len(m.Points) == 0 || len(m.Triangles) == 0 || !(s.Scale > 0) {
		return quickStand{}, fmt.Errorf("carve: no piece to stand, or at no scale")
	}
	q := quickStand{points: make([]mesh.Point, len(m.Points))}
	var k [3][3]float32
	for i := range k {
		for j := range k[i] {
			k[i][j] = float32(s.Turn[i][j] * s.Scale)
		}
	}
	low, high := float32(math.MaxFloat32), float32(-math.MaxFloat32)
	for i, p := range m.Points {
		t := &q.points[i]
		for c := range k {
			t[c] = k[c][0]*p[0] + k[c][1]*p[1] + k[c][2]*p[2]
		}
		low, high = min3(low, t[2], t[2]), max3(high, t[2], t[2])
	}
	for i := range q.points {
		q.points[i][2] -= low
	}
	q.box = (&mesh.Mesh{Points: q.points}).Box()
	q.height = float64(high - low)
	if size := q.box.Size().Len(); math.IsNaN(size) || math.IsInf(size, 0) {
		return quickStand{}, fmt.Errorf("carve: the piece has points that are no numbers")
	}
	return q, nil
}

// trappedIn sums the air between wood of one column in one layer, over all columns; mm³.
func trappedIn(l *lattice, cs []crossing, slabs []stack.Slab) float64 {
	s := newStrip(*l, slabs, nil, nil)
	s.start = make([]int32, l.nx*l.ny+1)
	s.cast.out = cs
	s.sort()
	s.begin()
	sum := 0.0
	for j := range l.ny {
		for i := range l.nx {
			cell := j*l.nx + i
			if a, b := s.start[cell], s.start[cell+1]; b-a > 2 {
				s.column(i, j, s.sorted[a:b])
			}
		}
	}
	for k := range s.frags {
		for _, t := range s.frags[k].trapped {
			sum += float64(t.outside)
		}
	}
	return sum * l.step * l.step
}
