package mesh

import (
	"bytes"
	"fmt"
	"math/rand"
	"testing"
)

// tetra is a tetrahedron with a colour at each corner, as PLY in text and as OBJ.
func colouredFiles() map[string]string {
	corners := [4][3]int{{0, 0, 0}, {10, 0, 0}, {0, 10, 0}, {0, 0, 10}}
	colours := [4][3]int{{255, 0, 0}, {0, 255, 0}, {0, 0, 255}, {51, 102, 204}}
	faces := [4][3]int{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}}
	ply := "ply\nformat ascii 1.0\nelement vertex 4\nproperty float x\nproperty float y\nproperty float z\n" +
		"property uchar red\nproperty uchar green\nproperty uchar blue\nproperty float quality\n" +
		"element face 4\nproperty list uchar int vertex_indices\nend_header\n"
	obj := ""
	for i, c := range corners {
		k := colours[i]
		ply += fmt.Sprintf("%d %d %d %d %d %d 0.5\n", c[0], c[1], c[2], k[0], k[1], k[2])
		obj += fmt.Sprintf("v %d %d %d %g %g %g\n", c[0], c[1], c[2], float64(k[0])/255, float64(k[1])/255, float64(k[2])/255)
	}
	for _, f := range faces {
		ply += fmt.Sprintf("3 %d %d %d\n", f[0], f[1], f[2])
		obj += fmt.Sprintf("f %d %d %d\n", f[0]+1, f[1]+1, f[2]+1)
	}
	return map[string]string{"PLY": ply, "OBJ": obj}
}

func TestColoursAreRead(t *testing.T) {
	for name, text := range colouredFiles() {
		_, raw, err := Read(bytes.NewReader([]byte(text)), int64(len(text)), name)
		if err != nil {
			t.Fatal(name, err)
		}
		if raw.Colours == nil || len(raw.Colours.RGB) != 4 {
			t.Fatalf("%s: colours %v", name, raw.Colours)
		}
		if got := raw.Colours.RGB[3]; got != [3]uint8{51, 102, 204} {
			t.Errorf("%s: the last corner is %v", name, got)
		}
	}
	plain := "v 0 0 0\nv 1 0 0 1\nv 0 1 0\nv 0 0 1\nf 1 3 2\nf 1 2 4\nf 1 4 3\nf 2 3 4\n"
	if _, raw, err := Read(bytes.NewReader([]byte(plain)), int64(len(plain)), "plain"); err != nil || raw.Colours != nil {
		t.Errorf("without colours: %v, %v", raw.Colours, err)
	}
}

// TestNearestColour compares the grid's answer with looking at every point.
func TestNearestColour(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	for _, flat := range []float32{1, 0.001, 0} {
		points := make([]Point, 500)
		for i := range points {
			points[i] = Point{rnd.Float32() * 100, rnd.Float32() * 100, rnd.Float32() * 100 * flat}
		}
		b := newBuckets(points)
		for range 500 {
			p := Point{rnd.Float32()*200 - 50, rnd.Float32()*200 - 50, rnd.Float32()*200 - 50}
			want, least := 0.0, false
			for _, q := range points {
				x, y, z := float64(q[0]-p[0]), float64(q[1]-p[1]), float64(q[2]-p[2])
				if d := x*x + y*y + z*z; !least || d < want {
					want, least = d, true
				}
			}
			q := points[b.nearest(p)]
			x, y, z := float64(q[0]-p[0]), float64(q[1]-p[1]), float64(q[2]-p[2])
			if got := x*x + y*y + z*z; got > want {
				t.Fatalf("flat %g: %v has a point at %g, nearest is %g", flat, p, got, want)
			}
		}
	}
}
