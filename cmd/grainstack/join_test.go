package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// writePoints is a PLY file of the points of a mesh without its facets.
func writePoints(t *testing.T, name string, m *mesh.Mesh) string {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, "ply\nformat ascii 1.0\nelement vertex %d\nproperty float x\nproperty float y\nproperty float z\nend_header\n", len(m.Points))
	for _, p := range m.Points {
		fmt.Fprintln(&b, p[0], p[1], p[2])
	}
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// matching is a file of places that scans have in common, off by a hundredth of the size, each on the first and on another.
func matching(t *testing.T, m *mesh.Mesh, sittings []solidtest.Sitting, places ...geom.Vec) string {
	t.Helper()
	rnd := rand.New(rand.NewSource(1))
	var b strings.Builder
	b.WriteString("# picked by hand\n\n")
	for i := 1; i < len(sittings); i++ {
		for _, p := range places {
			for k, of := range []int{0, i} {
				off := geom.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}.Unit().Scale(0.01 * solidtest.Size(m))
				q := sittings[of].At.Back(p.Add(off))
				fmt.Fprint(&b, of+1, " ", q.X, " ", q.Y, " ", q.Z, [2]string{"  ", "\n"}[k])
			}
		}
	}
	path := filepath.Join(t.TempDir(), "points.txt")
	if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestJoinMakesOnePiece: three scans, one of them bare points, are found and joined to a solid of the original's size; what is told of
// them is what they are, and cutting half of one away leaves a piece as well.
func TestJoinMakesOnePiece(t *testing.T) {
	m := solidtest.Bumpy(60, 16_000)
	sittings := solidtest.Sittings(m, 3, 0.0005, 0.1, 2)
	files := []string{write(t, "a.stl", sittings[0].Mesh), write(t, "b.stl", sittings[1].Mesh), writePoints(t, "c.ply", sittings[2].Mesh)}
	unit := sittings[0].At.Scale // mm for one unit of the first scan
	to := filepath.Join(t.TempDir(), "piece.ply")
	middle := sittings[1].Mesh.Box().Center()
	var out bytes.Buffer
	args := append([]string{"join", "-o", to, "-scale", fmt.Sprint(unit), "-plane", fmt.Sprintf("2: 1,0,0 %g", middle.X-20/sittings[1].At.Scale)}, files...)
	if err := run(context.Background(), args, &out); err != nil {
		t.Fatal(err)
	}
	var r struct {
		Scans []joinedScan
		Piece joinedPiece
	}
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	for i, s := range r.Scans {
		near(t, "scale of "+s.File, s.Scale, sittings[i].At.Scale/unit, 0.003)
		if s.Overlap < 40 || s.Distance > 0.002*solidtest.Size(m) || s.LeftOut == 0 {
			t.Errorf("told of a scan: %+v", s)
		}
	}
	got, _, err := mesh.Open(to)
	if err != nil {
		t.Fatal(err)
	}
	if f := mesh.Inspect(got, got.Adjacency()); !f.Solid() || f.Triangles != r.Piece.Triangles {
		t.Errorf("the piece is %+v", f)
	}
	near(t, "volume", got.Volume(), m.Volume(), 0.01)
	near(t, "area", r.Piece.Area*100, m.Area(), 0.02)
}

// TestJoinSaysWhy: what does not go together is told in a sentence, with the file, and nothing is written.
func TestJoinSaysWhy(t *testing.T) {
	m := solidtest.Bumpy(60, 6_000)
	sittings := solidtest.Sittings(m, 2, 0.0005, 0, 3)
	a, b := write(t, "a.stl", sittings[0].Mesh), write(t, "b.stl", sittings[1].Mesh)
	mirror := write(t, "mirror.stl", solidtest.Flip(solidtest.Stretch(sittings[1].Mesh, 1, 1, -1)))
	other := write(t, "other.stl", solidtest.Torus(50, 20, 60, 40))
	line := matching(t, m, sittings, geom.Vec{X: -60}, geom.Vec{}, geom.Vec{X: 60})
	wrong := matching(t, solidtest.Sphere(1, 100), []solidtest.Sitting{{At: sittings[0].At}, {At: geom.Placement{Turn: geom.TurnXYZ(90, 80, 0), Scale: 3}}}, geom.Vec{X: 50}, geom.Vec{Y: 50}, geom.Vec{Z: 50})
	three := matching(t, m, sittings, geom.Vec{X: -40}, geom.Vec{Y: 40}, geom.Vec{Z: 40})
	few := matching(t, m, sittings, geom.Vec{X: -60}, geom.Vec{})
	text := write(t, "text.stl", m)
	if err := os.WriteFile(text, []byte("1 0 0 0 2 0 0\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), "piece.ply")
	for _, tt := range []struct {
		args, says string
		status     int
	}{
		{a, "two scans are wanted", 2},
		{a + " " + b + " -o piece.obj", "written as .ply or .stl", 2},
		{a + " " + b + " -o " + a, "is not written over", 1},
		{a + " " + b + " -blend 90 -o " + to, "0 to 50 %", 2},
		{strings.Repeat(a+" ", 20) + "-o " + to, "20 scans are named, and 12", 1},
		{a + " " + other + " -o " + to, "other.stl lies nowhere", 1},
		{a + " " + mirror + " -o " + to, "mirror.stl is the mirror image", 1},
		{a + " " + b + " -points " + line + " -o " + to, "lie on one line", 1},
		{a + " " + b + " -points " + few + " -o " + to, "three matching points are needed", 1},
		{a + " " + b + " -points " + wrong + " -o " + to, "b.stl fits badly", 1},
		{a + " " + mirror + " -points " + three + " -o " + to, "mirror.stl is the mirror image", 1},
		{a + " " + b + " -points " + text + " -o " + to, "line 1: two times the number", 1},
		{a + " " + filepath.Join(t.TempDir(), "gone.stl") + " -o " + to, "gone.stl", 1},
	} {
		var told bytes.Buffer
		err := run(context.Background(), append([]string{"join"}, strings.Fields(tt.args)...), &bytes.Buffer{})
		if got := status(err, &told); got != tt.status || !strings.Contains(told.String(), tt.says) {
			t.Errorf("join %s: %d, %q, want %q", tt.args, got, told.String(), tt.says)
		}
		if _, err := os.Stat(to); err == nil {
			t.Fatalf("join %s wrote a file", tt.args)
		}
	}
	cut := run(context.Background(), []string{"join", a, b, "-o", to, "-box", "2: 1e5,1e5,1e5 2e5,2e5,2e5"}, &bytes.Buffer{})
	if cut == nil || !strings.Contains(cut.Error(), "nothing is left of b.stl") {
		t.Errorf("all cut away: %v", cut)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if err := run(ctx, []string{"join", a, b, "-o", to}, &bytes.Buffer{}); err == nil || status(err, &bytes.Buffer{}) != 1 {
		t.Errorf("called off: %v", err)
	}
}

// TestOneScanIsCut: what a plane and a box leave of one scan is the piece, closed where it was cut; a job of joined scans is not cut so.
func TestOneScanIsCut(t *testing.T) {
	file := filepath.Join(t.TempDir(), "ball.stl")
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(mesh.WriteSTL(f, solidtest.Sphere(50, 8000)), f.Close()); err != nil {
		t.Fatal(err)
	}
	for _, flags := range [][]string{{"-plane", "0,0,2 0"}, {"-box", "-99,-99,0 99,99,99"}} {
		p := reportOf(t, append(flags, "-wall", "0", file)...)["piece"].(map[string]any)
		half := 2 * math.Pi / 3 * 125
		if v := p["volume_cm3"].(float64); p["solid"] != true || math.Abs(v/half-1) > 0.02 {
			t.Errorf("%v leave %v cm³ of a ball of which %.1f are one half", flags, p["volume_cm3"], half)
		}
	}
	for _, flags := range [][]string{{"-plane", "0,0,0 1"}, {"-box", "1,2,3"}, {"-plane", "0,0,1 200"}} {
		if err := run(t.Context(), append(append([]string{"report"}, flags...), file), io.Discard); err == nil {
			t.Errorf("%v is taken", flags)
		}
	}
}
