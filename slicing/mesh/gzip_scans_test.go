package mesh_test

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/unixpickle/model3d/model3d"

	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// The packed solids that come with github.com/unixpickle/model3d v0.4.5 hold as many facets as that module itself reads, and
// as much area.
func TestRealPackedSolids(t *testing.T) {
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/unixpickle/model3d").Output()
	if err != nil {
		t.Skip("the module is not at hand:", err)
	}
	root := filepath.Join(strings.TrimSpace(string(dir)), "examples", "renderings", "showcase", "models")
	for _, name := range []string{"curvy_thing.stl.gz", "pumpkin_stem.stl.gz", "rocks.stl.gz", "rose.stl.gz"} {
		file, err := os.ReadFile(filepath.Join(root, name))
		if err != nil {
			t.Error(err)
			continue
		}
		z, err := gzip.NewReader(bytes.NewReader(file))
		if err != nil {
			t.Fatal(err)
		}
		theirs, err := model3d.ReadSTL(z)
		if err != nil {
			t.Fatal(err)
		}
		area := 0.0
		for _, f := range theirs {
			area += f.Area()
		}
		m, raw, err := read(file)
		if err != nil || raw.Facets != len(theirs) || raw.Format != "binary STL" || !near(m.Area(), area, 1e-5) {
			t.Errorf("%s: %+v, %v, want %d facets, area %v", name, raw, err, len(theirs), area)
		}
	}
}

// What photogrammetry writes: colours, normals and more beside each corner, and faces with texture places.
func TestScansWithColours(t *testing.T) {
	box := solidtest.Box(1, 2, 3)
	var head, text, little bytes.Buffer
	fmt.Fprintf(&head, "element vertex %d\nproperty float x\nproperty float y\nproperty float z\nproperty float nx\nproperty float ny\n"+
		"property float nz\nproperty uchar red\nproperty uchar green\nproperty uchar blue\nproperty uchar alpha\nproperty double confidence\n"+
		"element face %d\nproperty list uchar int vertex_indices\nproperty list uchar float texcoord\nproperty int texnumber\nend_header\n",
		len(box.Points), len(box.Triangles))
	text.WriteString("ply\nformat ascii 1.0\ncomment TextureFile oak.jpg\nobj_info one scan\n" + head.String())
	little.WriteString("ply\nformat binary_little_endian 1.0\n" + head.String())
	put := func(v ...any) {
		for _, v := range v {
			_ = binary.Write(&little, binary.LittleEndian, v) // a bytes.Buffer takes everything
		}
	}
	for _, p := range box.Points {
		fmt.Fprintf(&text, "%v %v %v 0 0 1 200 180 140 255 0.75\n", p[0], p[1], p[2])
		put(p, [3]float32{0, 0, 1}, [4]uint8{200, 180, 140, 255}, 0.75)
	}
	for _, c := range box.Triangles {
		fmt.Fprintf(&text, "3 %d %d %d 6 0 0 1 0 1 1 -1\n", c[0], c[1], c[2])
		put(uint8(3), c, uint8(6), [6]float32{0, 0, 1, 0, 1, 1}, int32(-1))
	}
	const obj = `mtllib scan.mtl
v 0 0 0 0.8 0.7 0.5
v 1 0 0 0.8 0.7 0.5
v 1 2 0 0.8 0.7 0.5
v 0 2 0 0.8 0.7 0.5
vt 0 0
vn 0 0 -1
g bottom
usemtl oak
s 1
f -1/-1/-1 -2/-1/-1 -3/-1/-1 -4/-1/-1
o rest
v 0 0 3
v 1 0 3
v 1 2 3
v 0 2 3
g top
f 5//1 6//1 7//1 8//1
g sides front
f 1/1 2/1 -3/1 -4/1
l 1 2 3
f 2 3 7 6
p 4
f 3 4 8 7
f -5 -8 -4 -1
`
	for _, tt := range []struct {
		name string
		file []byte
	}{{"ply text", text.Bytes()}, {"ply binary", little.Bytes()}, {"obj", []byte(obj)}, {"obj, windows", []byte(strings.ReplaceAll(obj, "\n", "\r\n"))}} {
		m, raw, err := read(tt.file)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if f := mesh.Inspect(m, m.Adjacency()); !f.Solid() || f.Volume != 6 || f.Points != 8 || raw.Facets != 12 {
			t.Errorf("%s: %+v, %+v", tt.name, raw, f)
		}
	}
}
