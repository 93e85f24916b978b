package mend

import (
	"context"

	"grainstack/slicing/arrange"
	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// Crosses reports whether the surface runs through itself, or lies on itself, somewhere. It ends at the first such place.
func Crosses(ctx context.Context, m *mesh.Mesh) (bool, error) {
	t, err := boxtree.New(ctx, m)
	if err != nil {
		return false, err
	}
	pairs, err := arrange.Crossings(ctx, t, true)
	return len(pairs) > 0, err
}

func cornersOf(m *mesh.Mesh, t mesh.Triangle) [3]geom.Vec {
	return [3]geom.Vec{m.Points[t[0]].Vec(), m.Points[t[1]].Vec(), m.Points[t[2]].Vec()}
}

func normalOf(p *[3]geom.Vec) geom.Vec { return p[1].Sub(p[0]).Cross(p[2].Sub(p[0])).Unit() }
