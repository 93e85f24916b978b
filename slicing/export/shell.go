package export

import "grainstack/slicing/mesh"

// A LayerSolid is a layer as a closed solid, which is that of its parts.
type LayerSolid struct {
	*mesh.Mesh
	part  []int32 // of each triangle, its place among the layer's parts
	count int
}

// Parts are the layer's parts as solids of their own, in the order of the layer's Parts.
func (s LayerSolid) Parts() []*mesh.Mesh {
	if s.count == 1 {
		return []*mesh.Mesh{s.Mesh}
	}
	out := make([]*mesh.Mesh, s.count)
	for k := range out {
		out[k] = pick(s.Mesh, func(i int) bool { return s.part[i] == int32(k) })
	}
	return out
}

// belong says of the triangles that were added last whose they are.
func (b *bench) belong(part int32) {
	for len(b.whose) < len(b.out.Triangles) {
		b.whose = append(b.whose, part)
	}
}

// solid is the layer once all its triangles are there: the hollow's skin belongs to the part whose faces it borders on.
func (b *bench) solid() LayerSolid {
	s := LayerSolid{Mesh: b.out, part: b.whose, count: len(b.parts.Parts[b.k])}
	if s.count == 1 {
		return s
	}
	adj := s.Adjacency()
	var todo []int32
	for i, part := range s.part {
		if part != unknown {
			todo = append(todo, int32(i))
		}
	}
	for len(todo) > 0 {
		t := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for e := 3 * t; e < 3*t+3; e++ {
			if u := adj[e] / 3; adj[e] >= 0 && s.part[u] == unknown {
				s.part[u] = s.part[t]
				todo = append(todo, u)
			}
		}
	}
	return s
}

// pick is the mesh of some triangles, with the points that they use.
func pick(m *mesh.Mesh, want func(i int) bool) *mesh.Mesh {
	out := &mesh.Mesh{}
	number := make([]int32, len(m.Points)) // one more than the point's number in out
	for i, t := range m.Triangles {
		if !want(i) {
			continue
		}
		for k, p := range t {
			if number[p] == 0 {
				out.Points = append(out.Points, m.Points[p])
				number[p] = int32(len(out.Points))
			}
			t[k] = number[p] - 1
		}
		out.Triangles = append(out.Triangles, t)
	}
	return out
}
