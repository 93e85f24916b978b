package mesh_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"grainstack/slicing/mesh"
)

const plyPoints = "ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\nproperty float nx\nproperty float ny\nproperty float nz\nend_header\n"

func readScan(file string) (mesh.Scan, error) {
	return mesh.ReadScan(bytes.NewReader([]byte(file)), int64(len(file)), "scan")
}

// TestPointsWithoutFaces: a scan may be bare points, with normals at length 1 or nothing; a piece may not, as ever.
func TestPointsWithoutFaces(t *testing.T) {
	file := plyPoints + "1 2 3 0 0 2\n4 5 6 nan 0 0\n7 8 9 3 0 -4\n"
	scan, err := readScan(file)
	if err != nil || scan.Mesh != nil || len(scan.Points.At) != 3 {
		t.Fatalf("%+v, %v", scan, err)
	}
	for i, want := range []mesh.Point{{0, 0, 1}, {}, {0.6, 0, -0.8}} {
		if scan.Points.At[i] != (mesh.Point{float32(3*i + 1), float32(3*i + 2), float32(3*i + 3)}) || scan.Points.Normals[i] != want {
			t.Errorf("point %d: %v %v", i, scan.Points.At[i], scan.Points.Normals[i])
		}
	}
	plain := "ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\nproperty float z\nproperty uchar red\nproperty uchar green\nproperty uchar blue\nelement face 0\nproperty list uchar int vertex_indices\nend_header\n1 2 3 4 5 6\n"
	if scan, err = readScan(plain); err != nil || scan.Points.Normals != nil || scan.Raw.Colours == nil || scan.Raw.Colours.RGB[0] != [3]uint8{4, 5, 6} {
		t.Errorf("%+v, %v", scan, err)
	}
	var kind *mesh.UnsupportedError
	if _, _, err := read([]byte(file)); !errors.As(err, &kind) {
		t.Errorf("a piece of bare points: %v", err)
	}
	var fault *mesh.FormatError
	for _, broken := range []string{strings.Replace(file, "7 8 9", "7 inf 9", 1), file[:len(file)-14], strings.Replace(file, "vertex 3", "vertex 30000", 1)} {
		if _, err := readScan(broken); !errors.As(err, &fault) {
			t.Errorf("%q: %v", broken[len(broken)-30:], err)
		}
	}
}
