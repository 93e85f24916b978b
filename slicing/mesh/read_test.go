package mesh_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

func read(file []byte) (*mesh.Mesh, mesh.Raw, error) {
	return mesh.Read(bytes.NewReader(file), int64(len(file)), "piece")
}

func TestAllFormatsGiveTheSameMesh(t *testing.T) {
	m := solidtest.Bumpy(80, 3_000)
	want, _, err := read(binarySTL(t, m))
	if err != nil {
		t.Fatal(err)
	}
	if len(want.Points) != len(m.Points) || len(want.Triangles) != len(m.Triangles) {
		t.Fatalf("read %d points, %d triangles, wrote %d, %d", len(want.Points), len(want.Triangles), len(m.Points), len(m.Triangles))
	}
	if !near(want.Volume(), m.Volume(), 1e-12) || !near(want.Area(), m.Area(), 1e-12) {
		t.Errorf("volume %v, area %v, wrote %v, %v", want.Volume(), want.Area(), m.Volume(), m.Area())
	}
	solid := binarySTL(t, m)
	copy(solid, "solid facet normal of a careless program")
	for _, tt := range []struct {
		name, format string
		file         []byte
	}{
		{"binary stl that says solid", "binary STL", solid},
		{"binary stl with bytes after it", "binary STL", append(binarySTL(t, m), "made by hand"...)},
		{"ascii stl", "ASCII STL", textSTL(t, m)},
		{"ascii stl in capitals, with a mark", "ASCII STL", append([]byte("\xef\xbb\xbf"), bytes.ToUpper(textSTL(t, m))...)},
		{"ascii stl, a facet a line", "ASCII STL", bytes.ReplaceAll(textSTL(t, m), []byte("\n  "), []byte(" "))},
		{"obj", "OBJ", objText(m, "%[1]d", false)},
		{"obj from the end", "OBJ", objText(m, "%[1]d", true)},
		{"obj with textures", "OBJ", objText(m, "%[1]d/1", false)},
		{"obj with normals", "OBJ", objText(m, "%[1]d//%[1]d", false)},
		{"obj with both", "OBJ", objText(m, "%[1]d/7/%[1]d", true)},
		{"off", "OFF", offText(m, "OFF\n", "")},
		{"off, counts on the same line", "OFF", offText(m, "OFF ", "")},
		{"off with colours", "OFF", offText(m, "# first\nCOFF\n", " 255 0 0 255")},
		{"off with normals", "OFF", offText(m, "NOFF\n", " 0 0 1")},
		{"ply text", "PLY", plyText(m)},
		{"ply little", "PLY", plyBinary(m, binary.LittleEndian)},
		{"ply big", "PLY", plyBinary(m, binary.BigEndian)},
	} {
		got, raw, err := read(tt.file)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if raw != (mesh.Raw{Format: tt.format, Facets: len(m.Triangles)}) {
			t.Errorf("%s: raw %+v, want %s with %d facets", tt.name, raw, tt.format, len(m.Triangles))
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: another mesh than from binary STL", tt.name)
		}
	}
}

// Where a file begins with a triangle must not matter beyond the order within one cell; a shuffled file measures the same.
func TestOrderOfFileDoesNotMatter(t *testing.T) {
	m := solidtest.Bumpy(80, 3_000)
	a, _, err := read(binarySTL(t, m))
	if err != nil {
		t.Fatal(err)
	}
	b, _, err := read(binarySTL(t, solidtest.Shuffle(m, 5)))
	if err != nil {
		t.Fatal(err)
	}
	fa, fb := mesh.Inspect(a, a.Adjacency()), mesh.Inspect(b, b.Adjacency())
	if !near(fa.Volume, fb.Volume, 1e-12) || !near(fa.Area, fb.Area, 1e-12) {
		t.Errorf("volume %v and %v, area %v and %v", fa.Volume, fb.Volume, fa.Area, fb.Area)
	}
	fb.Volume, fb.Area = fa.Volume, fa.Area
	if fa != fb {
		t.Errorf("in order %+v, shuffled %+v", fa, fb)
	}
}

// Neighbours in the list are neighbours in space: the mean step from triangle to triangle is a few edges, not the
// solid's size.
func TestReadOrdersInSpace(t *testing.T) {
	m, _, err := read(binarySTL(t, solidtest.Shuffle(solidtest.Sphere(50, 50_000), 1)))
	if err != nil {
		t.Fatal(err)
	}
	steps, edges, jumps := 0.0, 0.0, 0
	for i := 1; i < len(m.Triangles); i++ {
		a, b, _ := m.Corners(i)
		before, _, _ := m.Corners(i - 1)
		steps += a.Sub(before).Len()
		edges += a.Sub(b).Len()
		for k, p := range m.Triangles[i] {
			if d := p - m.Triangles[i-1][k]; d > 2000 || d < -2000 {
				jumps++
			}
		}
	}
	if steps > 4*edges {
		t.Errorf("the mean step is %.1f edges, want at most 4", steps/edges)
	}
	if jumps > len(m.Triangles)/5 {
		t.Errorf("%d of %d corners lie far from the last triangle's in memory", jumps, 3*len(m.Triangles))
	}
}

func TestPolygonsAndOddRows(t *testing.T) {
	const cube = "v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\nv 0 0 1\nv 1 0 1\nv 1 1 1\nv 0 1 1\n"
	for _, tt := range []struct {
		name, file        string
		facets, without   int
		volume, area      float64
		triangles, points int
	}{
		{"obj of squares", cube + "f 4 3 2 1\nf 5 6 7 8\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8\n", 12, 0, 1, 6, 12, 8},
		{"obj, line continued", cube + "f 4 3 \\\n2 1\nf 5 6 7 8 # top\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8\n", 12, 0, 1, 6, 12, 8},
		{"obj, faces first", "f 1 2 3\n" + strings.ReplaceAll(cube, "v ", "v  "), 1, 0, 0, 0.5, 1, 3},
		{"obj with a point and a line for faces", cube + "f 1\nf 1 2\nf 1 2 3\n", 3, 2, 0, 0.5, 1, 3},
		{"off of squares", "OFF\n8 6\n0 0 0\n1 0 0\n1 1 0\n0 1 0\n0 0 1\n1 0 1\n1 1 1\n0 1 1\n" +
			"4 3 2 1 0\n4 4 5 6 7\n4 0 1 5 4\n4 1 2 6 5\n4 2 3 7 6\n4 3 0 4 7\n", 12, 0, 1, 6, 12, 8},
		{"minus nought is nought", "OFF\n6 2 0\n0 0 0\n1 0 0\n0 1 0\n-0 -0.0 0\n0 -1e0 0\n1 -0 0\n3 0 1 2\n3 3 4 5\n", 2, 0, 0, 1, 2, 4},
	} {
		m, raw, err := read([]byte(tt.file))
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if raw.Facets != tt.facets || raw.ZeroArea != tt.without || len(m.Triangles) != tt.triangles || len(m.Points) != tt.points {
			t.Errorf("%s: %+v, %d triangles, %d points", tt.name, raw, len(m.Triangles), len(m.Points))
		}
		if !near(m.Volume(), tt.volume, 1e-12) && tt.volume > 0 || !near(m.Area(), tt.area, 1e-12) {
			t.Errorf("%s: volume %v, area %v, want %v, %v", tt.name, m.Volume(), m.Area(), tt.volume, tt.area)
		}
	}
}

func TestOpen(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "box.txt") // the ending says nothing
	if err := os.WriteFile(path, binarySTL(t, solidtest.Box(1, 2, 3)), 0o600); err != nil {
		t.Fatal(err)
	}
	m, raw, err := mesh.Open(path)
	if err != nil || m.Volume() != 6 || raw.Format != "binary STL" {
		t.Errorf("got %v, %+v, %v", m, raw, err)
	}
	if _, _, err := mesh.Open(dir); err == nil {
		t.Error("a folder was opened")
	}
	if _, _, err := mesh.Open(filepath.Join(dir, "none")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a missing file gives %v", err)
	}
}

var update = flag.Bool("update", false, "write the shared files anew")

// The small files kept beside the program open and hold what their names say.
func TestSharedFiles(t *testing.T) {
	box, torus := solidtest.Box(30, 20, 10), solidtest.Torus(40, 12, 48, 24)
	holed := &mesh.Mesh{Points: torus.Points, Triangles: torus.Triangles[4:]}
	for _, tt := range []struct {
		name   string
		file   []byte
		volume float64 // textbook
		share  float64
		holes  int
	}{
		{"box.stl", binarySTL(t, box), 6000, 1e-6, 0},
		{"box-text.stl", textSTL(t, box), 6000, 1e-6, 0},
		{"box.obj", objText(box, "%[1]d", false), 6000, 1e-6, 0},
		{"box.ply", plyText(box), 6000, 1e-6, 0},
		{"box.off", offText(box, "OFF\n", ""), 6000, 1e-6, 0},
		{"torus.stl", binarySTL(t, torus), 113697.843, 0.02, 0},
		{"torus-hole.stl", binarySTL(t, holed), 113697.843, 0.03, 1},
	} {
		path := filepath.Join("..", "..", "testdata", tt.name)
		if *update {
			if err := os.WriteFile(path, tt.file, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		m, _, err := mesh.Open(path)
		if err != nil {
			t.Error(err)
			continue
		}
		f := mesh.Inspect(m, m.Adjacency())
		if f.Solid() != (tt.holes == 0) || f.Holes != tt.holes || !near(f.Volume, tt.volume, tt.share) {
			t.Errorf("%s: %+v", tt.name, f)
		}
	}
}
