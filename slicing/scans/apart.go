package scans

import (
	"context"
	"math"

	"grainstack/slicing/cloud"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

const (
	// sees is within how many of its spacings a scan's point has to lie to have seen a place, and alike the cosine between the normals
	// of what two scans saw of the same side. Rims count for nothing: beyond them a tangent plane says nothing.
	sees, alike = 1.5, 0.5
)

// apart is for each point of the joined piece how far apart the scans lie there: the farthest of their tangent planes from one another,
// in units of the first. It is -1 where fewer than two scans saw the place.
func (s *Set) apart(ctx context.Context, m *mesh.Mesh) ([]float32, error) {
	placed := s.placed()
	trees := make([]*cloud.Tree, len(placed))
	for i, c := range placed {
		trees[i] = cloud.NewTree(c.Points)
	}
	out := make([]float32, len(m.Points))
	err := par.Spans(ctx, len(out), 4096, func(from, to int) {
		for i := from; i < to; i++ {
			out[i] = spread(placed, trees, m.Points[i].Vec())
		}
	})
	return out, err
}

// spread is how far apart the scans lie at a place.
func spread(scans []*cloud.Cloud, trees []*cloud.Tree, p geom.Vec) float32 {
	low, high, saw := math.Inf(1), math.Inf(-1), 0
	var first geom.Vec
	for i, c := range scans {
		q, _ := trees[i].Nearest(p, sees*c.Spacing)
		if q < 0 || c.Rim[q] {
			continue
		}
		n := c.Normals[q].Vec()
		if saw == 0 {
			first = n
		}
		if first.Dot(n) < alike {
			continue // the other side of something thin
		}
		saw++
		d := n.Dot(p.Sub(c.Points[q].Vec()))
		low, high = math.Min(low, d), math.Max(high, d)
	}
	if saw < 2 {
		return -1
	}
	return float32(high - low)
}
