package mend

import (
	"context"

	"grainstack/slicing/mesh"
)

// doubles lists the facets with the same three points as an earlier one, whichever way they face.
func doubles(ctx context.Context, m *mesh.Mesh) (out []int32, err error) {
	start := make([]int32, len(m.Points)+2)
	for _, t := range m.Triangles {
		start[min(t[0], t[1], t[2])+2]++
	}
	for i := 2; i < len(start); i++ {
		start[i] += start[i-1]
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	items := make([]int32, len(m.Triangles))
	for i, t := range m.Triangles {
		p := min(t[0], t[1], t[2]) + 1
		items[start[p]] = int32(i)
		start[p]++
	}
	for p := range m.Points {
		if p&(1<<17-1) == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		at := items[start[p]:start[p+1]]
		for i, a := range at {
			for _, b := range at[:i] {
				if sameCorners(m.Triangles[a], m.Triangles[b]) {
					out = append(out, a)
					break
				}
			}
		}
	}
	return out, nil
}

func sameCorners(a, b mesh.Triangle) bool {
	has := func(v int32) bool { return a[0] == v || a[1] == v || a[2] == v }
	return has(b[0]) && has(b[1]) && has(b[2])
}

// without is m less some facets, which are listed in ascending order or not.
func without(m *mesh.Mesh, facets []int32) *mesh.Mesh {
	gone := make([]bool, len(m.Triangles))
	for _, i := range facets {
		gone[i] = true
	}
	return keeping(m, func(i int) bool { return !gone[i] })
}

// keeping is m with the facets that keep says.
func keeping(m *mesh.Mesh, keep func(i int) bool) *mesh.Mesh {
	out := &mesh.Mesh{Points: m.Points, Triangles: make([]mesh.Triangle, 0, len(m.Triangles))}
	for i, t := range m.Triangles {
		if keep(i) {
			out.Triangles = append(out.Triangles, t)
		}
	}
	return out
}
