package arrange

import (
	"context"

	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// span is how many facets one piece of parallel work takes.
const span = 1 << 14

// welded is m with one number for points at one place and without facets that are mere lines: what they join, their neighbours
// meet at points of their own edges. It is m itself where there is nothing of that kind.
func welded(ctx context.Context, m *mesh.Mesh) (*mesh.Mesh, error) {
	first := make(map[mesh.Point]int32, len(m.Points))
	to := make([]int32, len(m.Points))
	same := true
	for i, p := range m.Points {
		at, ok := first[p]
		if !ok {
			at = int32(i)
			first[p] = at
		}
		to[i] = at
		same = same && at == int32(i)
	}
	slim := make([][]int32, (len(m.Triangles)+span-1)/span)
	err := par.Spans(ctx, len(m.Triangles), span, func(from, upTo int) {
		for i := from; i < upTo; i++ {
			if t := m.Triangles[i]; to[t[0]] == to[t[1]] || to[t[1]] == to[t[2]] || to[t[2]] == to[t[0]] || maybeLine(m, t) {
				slim[from/span] = append(slim[from/span], int32(i))
			}
		}
	})
	if err != nil {
		return nil, err
	}
	var lines map[int32]bool
	p := newPoints(m)
	for _, list := range slim {
		for _, i := range list {
			if _, _, ok := p.viewOf(m.Triangles[i]); !ok {
				if lines == nil {
					lines = map[int32]bool{}
				}
				lines[i] = true
			}
		}
	}
	if same && lines == nil {
		return m, nil
	}
	out := &mesh.Mesh{Points: m.Points, Triangles: make([]mesh.Triangle, 0, len(m.Triangles))}
	for i, t := range m.Triangles {
		if !lines[int32(i)] {
			out.Triangles = append(out.Triangles, mesh.Triangle{to[t[0]], to[t[1]], to[t[2]]})
		}
	}
	return out, nil
}

// maybeLine reports whether rounding can't tell a facet from a line.
func maybeLine(m *mesh.Mesh, t mesh.Triangle) bool {
	a, b, c := m.Points[t[0]], m.Points[t[1]], m.Points[t[2]]
	var u, v [3]float64
	for k := range u {
		u[k], v[k] = float64(b[k])-float64(a[k]), float64(c[k])-float64(a[k])
	}
	n := cross(&u, &v)
	return !(reach(&n) > 3*productError*reach(&u)*reach(&v))
}
