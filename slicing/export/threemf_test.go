package export

import (
	"bytes"
	"encoding/csv"
	"reflect"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

func sample3MF() *mesh.Mesh { return solidtest.Sphere(30, 500) }

// Test3MFReadBack: the program's own reader gets back every object where it was, in mm.
func Test3MFReadBack(t *testing.T) {
	ball := sample3MF()
	block := solidtest.Moved(solidtest.Box(10, 20, 0.1), geom.Vec{X: 50, Y: -70.3, Z: 1.0 / 3})
	var b bytes.Buffer
	if err := Write3MF(&b, `A "title" <&>`, []Object{{"Layer 1", ball}, {`Layer "2" <b>`, block}}); err != nil {
		t.Fatal(err)
	}
	m, raw, err := mesh.Read(bytes.NewReader(b.Bytes()), int64(b.Len()), "layers.3mf")
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%+v", raw)
	f := mesh.Inspect(m, m.Adjacency())
	if !f.Solid() || f.Shells != 2 || f.Triangles != len(ball.Triangles)+len(block.Triangles) {
		t.Errorf("%+v", f)
	}
	if want := ball.Volume() + block.Volume(); off(m.Volume(), want) > 1e-7 {
		t.Errorf("%.6f mm³, want %.6f", m.Volume(), want)
	}
	want := solidtest.Join(ball, block).Box()
	if m.Box() != want {
		t.Errorf("box %v, want %v", m.Box(), want)
	}
}

// TestSTLReadBack: a layer written as STL comes back as the same solid.
func TestSTLReadBack(t *testing.T) {
	s := divide(t, stepped(), thickness(t, 16))
	for i, m := range s.solids(t) {
		var b bytes.Buffer
		if err := mesh.WriteSTL(&b, m); err != nil {
			t.Fatal(err)
		}
		back, _, err := mesh.Read(bytes.NewReader(b.Bytes()), int64(b.Len()), "layer.stl")
		if err != nil {
			t.Fatal(err)
		}
		if f := mesh.Inspect(back, back.Adjacency()); !f.Solid() || off(f.Volume, m.Volume()) > 1e-6 || f.Triangles != len(m.Triangles) {
			t.Errorf("layer %d: %+v", i+1, f)
		}
	}
}

// TestCSV: what spreadsheets read, by encoding/csv.
func TestCSV(t *testing.T) {
	table := Table{Head: []string{"Part", "Length, mm", "Note"}, Rows: [][]string{
		{"layer 1", "412.5", `says "birch"`}, {"=1+1", "-3.5", "-x"}, {"", "+", "two\nlines"}, {"2 × 3", "1", ""},
	}}
	var b bytes.Buffer
	if err := WriteCSV(&b, table); err != nil {
		t.Fatal(err)
	}
	mark := []byte{0xEF, 0xBB, 0xBF} // RFC 3629, 6: the byte order mark in UTF-8
	if !bytes.HasPrefix(b.Bytes(), mark) {
		t.Error("no byte order mark")
	}
	got, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(b.Bytes(), mark))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{{"Part", "Length, mm", "Note"}, {"layer 1", "412.5", `says "birch"`}, {"'=1+1", "-3.5", "'-x"}, {"", "+", "two\nlines"}, {"2 x 3", "1", ""}}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %q", got)
	}
}

func BenchmarkWrite3MF(b *testing.B) {
	m := solidtest.Bumpy(100, 100_000)
	for b.Loop() {
		var out bytes.Buffer
		if err := Write3MF(&out, "t", []Object{{"a", m}}); err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(out.Len()))
	}
}
