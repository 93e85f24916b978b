package arrange

import "grainstack/slicing/mesh"

// A rounding makes a mesh of what was kept of an arrangement.
type rounding struct {
	*arrangement
	kept []bool
}

// rounded is what was kept, with the new points rounded to the mesh's precision. Points that rounding brought together become one,
// triangles that it made lines go, and so do such that lie on one another face to face.
func (r *rounding) rounded() *mesh.Mesh {
	n := len(r.m.Points)
	out := &mesh.Mesh{Points: append(make([]mesh.Point, 0, n+len(r.made)), r.m.Points...), Triangles: make([]mesh.Triangle, 0, len(r.kept))}
	first := map[mesh.Point]int32{}
	for id := range r.spots {
		first[r.m.Points[id]] = id
	}
	to := make([]int32, len(r.made))
	for i, s := range r.made {
		p := mesh.Point{float32(s.at[0]), float32(s.at[1]), float32(s.at[2])}
		id, ok := first[p]
		if !ok {
			id = int32(len(out.Points))
			out.Points = append(out.Points, p)
			first[p] = id
		}
		to[i] = id
	}
	for i, f := range r.whole {
		if r.kept[i] {
			out.Triangles = append(out.Triangles, r.m.Triangles[f])
		}
	}
	out.Triangles = append(out.Triangles, r.fresh(to)...)
	return out
}

// fresh are the parts that were kept, with rounded points.
func (r *rounding) fresh(to []int32) (out []mesh.Triangle) {
	at := map[mesh.Triangle]int{}
	gone := map[int]bool{}
	for i, p := range r.parts {
		if !r.kept[len(r.whole)+i] {
			continue
		}
		t := p.Triangle
		for k, v := range t {
			if n := int(v) - len(r.m.Points); n >= 0 {
				t[k] = to[n]
			}
		}
		if t[0] == t[1] || t[1] == t[2] || t[2] == t[0] {
			continue
		}
		back := turned(mesh.Triangle{t[0], t[2], t[1]})
		if j, ok := at[back]; ok {
			gone[j] = true
			delete(at, back)
			continue
		}
		at[turned(t)] = len(out)
		out = append(out, t)
	}
	if len(gone) == 0 {
		return out
	}
	left := out[:0]
	for i, t := range out {
		if !gone[i] {
			left = append(left, t)
		}
	}
	return left
}

// turned is a triangle with its lowest point first.
func turned(t mesh.Triangle) mesh.Triangle {
	for t[0] > t[1] || t[0] > t[2] {
		t[0], t[1], t[2] = t[1], t[2], t[0]
	}
	return t
}
