package mesh_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"testing"

	"github.com/hschendel/stl"

	"grainstack/slicing/mesh"
)

// The writers here are plain and only for tests.

func binarySTL(t testing.TB, m *mesh.Mesh) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := mesh.WriteSTL(&out, m); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func textSTL(t testing.TB, m *mesh.Mesh) []byte {
	t.Helper()
	s := stl.Solid{IsAscii: true, Name: "made for a test"}
	for _, c := range m.Triangles {
		s.AppendTriangle(stl.Triangle{Vertices: [3]stl.Vec3{
			stl.Vec3(m.Points[c[0]]), stl.Vec3(m.Points[c[1]]), stl.Vec3(m.Points[c[2]]),
		}})
	}
	var out bytes.Buffer
	if err := s.WriteAll(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// objText writes corners in the given manner: "%[1]d", "%[1]d/7", "%[1]d//%[1]d"; back counts from the end.
func objText(m *mesh.Mesh, corner string, back bool) []byte {
	var out bytes.Buffer
	out.WriteString("# made for a test\nmtllib oak.mtl\no piece\n")
	for _, p := range m.Points {
		fmt.Fprintf(&out, "v %v %v %v 1.0\nvn 0 0 1\n", p[0], p[1], p[2])
	}
	out.WriteString("usemtl oak\ns off\n")
	for _, c := range m.Triangles {
		out.WriteString("f")
		for _, i := range c {
			if i++; back {
				i -= int32(len(m.Points)) + 1
			}
			fmt.Fprintf(&out, " "+corner, i)
		}
		out.WriteString("\r\n")
	}
	return out.Bytes()
}

func offText(m *mesh.Mesh, header, more string) []byte {
	var out bytes.Buffer
	fmt.Fprintf(&out, "%s%d %d 0\n# corners\n", header, len(m.Points), len(m.Triangles))
	for _, p := range m.Points {
		fmt.Fprintf(&out, "%v %v %v%s\n", p[0], p[1], p[2], more)
	}
	out.WriteString("\n")
	for _, c := range m.Triangles {
		fmt.Fprintf(&out, "3 %d %d %d 200 180 140 # a face\n", c[0], c[1], c[2])
	}
	return out.Bytes()
}

// plyText has a column before, between and after, and tables round those that count.
func plyText(m *mesh.Mesh) []byte {
	var out bytes.Buffer
	fmt.Fprintf(&out, `ply
format ascii 1.0
comment made for a test
element material 2
property uchar red
property list uchar float weights
element vertex %d
property float x
property float quality
property float y
property float z
property list uchar int tags
element face %d
property uchar flags
property list uchar int vertex_indices
element edge 0
end_header
9 3 0.5 0.25 0.125
9 0
`, len(m.Points), len(m.Triangles))
	for _, p := range m.Points {
		fmt.Fprintf(&out, "%v 0.5 %v %v 2 7 8\n", p[0], p[1], p[2])
	}
	for _, c := range m.Triangles {
		fmt.Fprintf(&out, "0 3 %d %d %d\n", c[0], c[1], c[2])
	}
	return out.Bytes()
}

func plyBinary(m *mesh.Mesh, order binary.ByteOrder) []byte {
	name := "binary_little_endian"
	if order == binary.ByteOrder(binary.BigEndian) {
		name = "binary_big_endian"
	}
	var out bytes.Buffer
	fmt.Fprintf(&out, "ply\nformat %s 1.0\nelement camera 3\nproperty double focus\nproperty short number\n"+
		"element vertex %d\nproperty double x\nproperty float y\nproperty float z\nproperty uchar red\n"+
		"element group 2\nproperty list ushort int members\nelement face %d\nproperty list uchar uint vertex_index\nend_header\n",
		name, len(m.Points), len(m.Triangles))
	put := func(v any) { _ = binary.Write(&out, order, v) } // a bytes.Buffer takes everything
	for range 3 {
		put(1.5)
		put(int16(-2))
	}
	for _, p := range m.Points {
		put(float64(p[0]))
		put(p[1])
		put(p[2])
		put(uint8(200))
	}
	put(uint16(3))
	put([]int32{1, 2, 3})
	put(uint16(0))
	for _, c := range m.Triangles {
		put(uint8(3))
		put([]uint32{uint32(c[0]), uint32(c[1]), uint32(c[2])})
	}
	return out.Bytes()
}
