package mend

import (
	"cmp"
	"slices"

	"grainstack/slicing/mesh"
)

// untie gives each fan of facets round a point its own point, so that surfaces do not hang together by a point only.
func (b *bench) untie() {
	m := b.m
	seen := make([]bool, len(b.adj))
	used := make([]bool, len(m.Points))
	var points []mesh.Point
	var triangles []mesh.Triangle
	count := 0
	for h := range b.adj {
		if seen[h] {
			continue
		}
		p := m.Triangles[h/3][h%3]
		to := p
		if used[p] {
			if triangles == nil {
				points, triangles = slices.Clone(m.Points), slices.Clone(m.Triangles)
			}
			to = int32(len(points))
			points = append(points, m.Points[p])
			count++
		}
		used[p] = true
		for k := int32(h); !seen[k]; {
			seen[k] = true
			if to != p {
				triangles[k/3][k%3] = to
			}
			before := k/3*3 + (k+2)%3
			if b.adj[before] < 0 {
				break
			}
			k = b.adj[before]
		}
	}
	if count > 0 {
		b.m = &mesh.Mesh{Points: points, Triangles: triangles}
	}
	b.did(Untied, count+b.unzip(), 0)
}

// unzip splits edges along which surfaces still touch since they hang together beyond both ends: each surface gets a middle of its
// own. It counts them.
func (b *bench) unzip() int {
	adj := b.m.Adjacency()
	var cuts []cut
	points := b.m.Points
	for h, twin := range b.m.Simple() {
		if other := adj[h]; twin < 0 && other > int32(h) {
			from, to := ends(b.m, int32(h))
			p := int32(len(points))
			points = append(slices.Clip(points), mesh.PointOf(points[from].Vec().Add(points[to].Vec()).Scale(0.5)))
			cuts = append(cuts, cut{int32(h), 0.5, p}, cut{other, 0.5, p})
		}
	}
	if len(cuts) == 0 {
		return 0
	}
	slices.SortFunc(cuts, func(a, b cut) int { return cmp.Compare(a.half, b.half) })
	b.m = splitAt(&mesh.Mesh{Points: points, Triangles: b.m.Triangles}, cuts)
	return len(cuts) / 2
}
