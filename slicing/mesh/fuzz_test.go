package mesh_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math"
	"runtime"
	"testing"

	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// checkRead reads a file of any contents: it must give a mesh that holds together or an error that says what to do, and
// must not take more memory than the file's size warrants. The dearest file is one of faces with many corners, each in one
// byte or two, which become three points and three numbers.
func checkRead(t *testing.T, file []byte) {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	m, raw, err := read(file)
	runtime.ReadMemStats(&after)
	if got, most := after.TotalAlloc-before.TotalAlloc, uint64(1<<20+400*len(file)); got > most {
		t.Errorf("%d bytes taken for a file of %d", got, len(file))
	}
	if err != nil {
		var fault *mesh.FormatError
		var kind *mesh.UnsupportedError
		if !errors.As(err, &fault) && !errors.As(err, &kind) || m != nil {
			t.Errorf("got %v with mesh %v", err, m)
		}
		return
	}
	if len(m.Triangles) == 0 || raw.Facets != len(m.Triangles)+raw.ZeroArea {
		t.Errorf("%d triangles, %+v", len(m.Triangles), raw)
	}
	for _, p := range m.Points {
		for _, v := range p {
			if math.IsNaN(float64(v)) || math.IsInf(float64(v), 0) || v == 0 && math.Signbit(float64(v)) {
				t.Fatalf("point %v", p)
			}
		}
	}
	for _, c := range m.Triangles {
		for _, i := range c {
			if i < 0 || int(i) >= len(m.Points) {
				t.Fatalf("corner %d of %d", i, len(m.Points))
			}
		}
	}
	adj := m.Adjacency()
	for h, twin := range adj {
		if twin >= 0 && (int(twin) >= len(adj) || int(adj[twin]) != h) {
			t.Fatalf("half-edge %d has partner %d", h, twin)
		}
	}
	mesh.Inspect(m, adj).Sentences(1)
	var out bytes.Buffer
	if err := mesh.WriteSTL(&out, m); err != nil {
		t.Fatal(err)
	}
	again, _, err := read(out.Bytes())
	if err != nil || len(again.Points) != len(m.Points) || len(again.Triangles) != len(m.Triangles) {
		t.Errorf("written and read again: %v, %v", again, err)
	}
}

func FuzzSTL(f *testing.F) {
	box := solidtest.Box(1, 2, 3)
	f.Add(binarySTL(f, box))
	f.Add(binarySTL(f, box)[:200])
	f.Add(textSTL(f, box))
	f.Add(header("solid", math.MaxUint32))
	f.Fuzz(checkRead)
}

func FuzzOBJ(f *testing.F) {
	box := solidtest.Box(1, 2, 3)
	f.Add(objText(box, "%[1]d", false))
	f.Add(objText(box, "%[1]d//%[1]d", true))
	f.Add([]byte("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2\\\n3\n"))
	f.Fuzz(checkRead)
}

func FuzzPLY(f *testing.F) {
	box := solidtest.Box(1, 2, 3)
	f.Add(plyText(box))
	f.Add(plyBinary(box, binary.LittleEndian))
	f.Add(plyBinary(box, binary.BigEndian))
	f.Add([]byte(plyStart + "0 0 0\n1 0 0\n0 1 0\n3 0 1 2\n"))
	f.Fuzz(checkRead)
}

// FuzzPoints reads files of points without faces, which have to hold together as well.
func FuzzPoints(f *testing.F) {
	f.Add([]byte(plyPoints + "0 0 0 0 0 2\n1 0 0 nan 0 1\n0 1 0 0 0 0\n"))
	f.Add([]byte("ply\nformat binary_little_endian 1.0\nelement vertex 1\nproperty float x\nproperty float y\nproperty float z\nend_header\nabcdefghijkl"))
	f.Add(plyText(solidtest.Box(1, 2, 3)))
	f.Fuzz(func(t *testing.T, file []byte) {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		scan, err := mesh.ReadScan(bytes.NewReader(file), int64(len(file)), "scan")
		runtime.ReadMemStats(&after)
		if got, most := after.TotalAlloc-before.TotalAlloc, uint64(1<<20+400*len(file)); got > most {
			t.Errorf("%d bytes taken for a file of %d", got, len(file))
		}
		if (err == nil) != (scan.Mesh != nil || scan.Points != nil) || scan.Mesh != nil && scan.Points != nil {
			t.Fatalf("%+v, %v", scan, err)
		}
		if scan.Points == nil {
			return
		}
		if n := scan.Points.Normals; n != nil && len(n) != len(scan.Points.At) {
			t.Fatalf("%d normals of %d points", len(n), len(scan.Points.At))
		}
		for i, p := range scan.Points.At {
			if v := p.Vec().Len(); math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("point %v", p)
			}
			if scan.Points.Normals == nil {
				continue
			}
			if long := scan.Points.Normals[i].Vec().Len(); long != 0 && math.Abs(long-1) > 1e-6 {
				t.Fatalf("a normal of length %g", long)
			}
		}
	})
}

func FuzzOFF(f *testing.F) {
	box := solidtest.Box(1, 2, 3)
	f.Add(offText(box, "OFF\n", ""))
	f.Add(offText(box, "STCNOFF ", " 1 2 3"))
	f.Fuzz(checkRead)
}
