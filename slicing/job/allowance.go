package job

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
	"grainstack/slicing/stack"
)

// grown is the standing with its surface moved outwards by so many mm, along the points' normals, as sanding needs it before
// layers are cut. Floor and height stay: points don't move below the one or above the other, so that the layers are the same.
// The hollow stays as it is. Edges move so that both their faces have moved by as much, sharp tips by twice it at the most.
func (s *Standing) grown(ctx context.Context, by float64) (*Standing, error) {
	if !(by > 0) {
		return s, ctx.Err()
	}
	m := s.Placed.Mesh
	normals, angles := make([]geom.Vec, len(m.Points)), make([]float64, len(m.Points))
	for _, t := range m.Triangles {
		for k := range t {
			a, b, c := m.Points[t[k]].Vec(), m.Points[t[(k+1)%3]].Vec(), m.Points[t[(k+2)%3]].Vec()
			u, v := b.Sub(a), c.Sub(a)
			n := u.Cross(v)
			angle := math.Atan2(n.Len(), u.Dot(v))
			normals[t[k]] = normals[t[k]].Add(n.Unit().Scale(angle))
			angles[t[k]] += angle
		}
	}
	box := s.Placed.Box
	out := &mesh.Mesh{Points: make([]mesh.Point, len(m.Points)), Triangles: m.Triangles}
	const span = 1 << 14
	err := par.Spans(ctx, len(m.Points), span, func(from, to int) {
		for i := from; i < to; i++ {
			p := m.Points[i].Vec()
			blunt := math.Max(0.5, normals[i].Len()/math.Max(angles[i], 1e-9)) // 1 where flat, less at an edge
			q := p.Add(normals[i].Unit().Scale(by / blunt))
			q.Z = math.Max(box.Min.Z, math.Min(box.Max.Z, q.Z))
			if p.Z <= box.Min.Z || p.Z >= box.Max.Z {
				q.Z = p.Z
			}
			out.Points[i] = mesh.PointOf(q)
		}
	})
	if err != nil {
		return nil, err
	}
	g := *s
	g.Placed = &stack.Placed{Mesh: out, Placement: s.Placed.Placement, Box: box}
	if g.Profile, err = stack.NewProfile(ctx, out); err != nil {
		return nil, err
	}
	g.Slicer = stack.NewSlicer(out, s.Piece.Adjacency)
	return &g, nil
}
