package mesh

// Compact is m without the points that no facet uses; m itself where there are none.
func (m *Mesh) Compact() *Mesh {
	used := make([]int32, len(m.Points))
	for _, t := range m.Triangles {
		used[t[0]], used[t[1]], used[t[2]] = 1, 1, 1
	}
	out := &Mesh{Points: make([]Point, 0, len(m.Points)), Triangles: make([]Triangle, len(m.Triangles))}
	for i, p := range m.Points {
		if used[i] != 0 {
			used[i] = int32(len(out.Points))
			out.Points = append(out.Points, p)
		}
	}
	if len(out.Points) == len(m.Points) {
		return m
	}
	for i, t := range m.Triangles {
		out.Triangles[i] = Triangle{used[t[0]], used[t[1]], used[t[2]]}
	}
	return out
}
