package mesh

import (
	"bufio"
	"io"

	"github.com/hschendel/stl"
)

// WriteSTL writes m as binary STL, in file units, with normals by the right-hand rule (zero for a triangle without area).
func WriteSTL(w io.Writer, m *Mesh) error {
	s := stl.Solid{Name: "grainstack", Triangles: make([]stl.Triangle, len(m.Triangles))}
	run(len(m.Triangles), span, func(from, to int) {
		for i := from; i < to; i++ {
			a, b, c := m.Corners(i)
			n := b.Sub(a).Cross(c.Sub(a)).Unit()
			t := &s.Triangles[i]
			t.Normal = stl.Vec3{float32(n.X), float32(n.Y), float32(n.Z)}
			for k, p := range m.Triangles[i] {
				t.Vertices[k] = stl.Vec3(m.Points[p])
			}
		}
	})
	out := bufio.NewWriterSize(w, 1<<16)
	if err := s.WriteAll(out); err != nil {
		return err
	}
	return out.Flush()
}
