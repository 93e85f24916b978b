package export

import (
	"errors"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/stack"
)

// sameBox is how far the box of a part may be off that of its solid, mm: rounding, and points put on a joint.
const sameBox = 0.01

// SplitParts divides the solid of a layer into its parts, in the order of the layer's Parts. Shells are told apart over
// their edges and belong to the part with their box; the skin of a cavity belongs to the smallest part round it.
func SplitParts(solid *mesh.Mesh, parts []stack.Part) ([]*mesh.Mesh, error) {
	if len(parts) == 0 {
		return nil, errors.New("the parts of the layer are not known")
	}
	if len(parts) == 1 {
		return []*mesh.Mesh{solid}, nil
	}
	shell, count := shells(solid)
	boxes := make([]geom.Box, count)
	for i := range boxes {
		boxes[i] = geom.EmptyBox()
	}
	for i, t := range solid.Triangles {
		b := &boxes[shell[i]]
		for _, p := range t {
			*b = b.Add(solid.Points[p].Vec())
		}
	}
	owner := make([]int, count)
	for i, b := range boxes {
		owner[i] = partOf(b, parts)
		if owner[i] < 0 {
			return nil, errors.New("a piece of the layer's solid belongs to none of its parts")
		}
	}
	out := make([]*mesh.Mesh, len(parts))
	for k := range parts {
		out[k] = pick(solid, func(i int) bool { return owner[shell[i]] == k })
		if len(out[k].Triangles) == 0 {
			return nil, errors.New("a part of the layer has no solid")
		}
	}
	return out, nil
}

// partOf is the part with a shell's box, else the smallest that holds it, -1 for none.
func partOf(b geom.Box, parts []stack.Part) int {
	best, least := -1, math.Inf(1)
	for k, p := range parts {
		low, high := b.Min.Sub(p.Box.Min), p.Box.Max.Sub(b.Max)
		if min(low.X, low.Y, low.Z, high.X, high.Y, high.Z) < -sameBox {
			continue
		}
		if off := max(low.X, low.Y, low.Z, high.X, high.Y, high.Z); off <= sameBox {
			return k
		}
		s := p.Box.Size()
		if v := s.X * s.Y * s.Z; v < least {
			best, least = k, v
		}
	}
	return best
}

// shells numbers the surfaces that hang together over edges, from 0 in the order of their first triangles.
func shells(m *mesh.Mesh) (shell []int32, count int) {
	adj := m.Adjacency()
	shell = make([]int32, len(m.Triangles))
	for i := range shell {
		shell[i] = -1
	}
	var todo []int32
	for i := range shell {
		if shell[i] >= 0 {
			continue
		}
		shell[i] = int32(count)
		todo = append(todo[:0], int32(i))
		for len(todo) > 0 {
			t := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for e := range int32(3) {
				if u := adj[3*t+e]; u >= 0 && shell[u/3] < 0 {
					shell[u/3] = int32(count)
					todo = append(todo, u/3)
				}
			}
		}
		count++
	}
	return shell, count
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
