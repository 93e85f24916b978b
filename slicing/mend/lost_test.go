package mend

import (
	"cmp"
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// A ball of more than the debris' share of the largest shell stays, though it has less of what two crossing balls make
// together; a smaller one goes, and is told with its volume and place.
func TestShellsThatCountStay(t *testing.T) {
	pair := solidtest.Join(solidtest.Sphere(50, 8000), solidtest.Moved(solidtest.Sphere(50, 8000), geom.Vec{X: 60}))
	largest := ball(50)
	at := geom.Vec{X: 30, Y: 80, Z: 5}
	for _, tt := range []struct {
		share float64 // of the largest
		stays bool
	}{{0.0012, true}, {0.0008, false}} {
		r := math.Cbrt(tt.share) * 50
		got := mended(t, solidtest.Join(pair, solidtest.Moved(solidtest.Sphere(r, 600), at)), Settings{Resolution: 1}, map[bool]int{true: 2, false: 1}[tt.stays])
		if did(got, Cut) != 1 {
			t.Fatal("the balls don't cross")
		}
		if (did(got, Dropped)+did(got, Lost) == 0) != tt.stays {
			t.Errorf("a ball of %g of the largest: %v", tt.share, got.Actions)
		}
		for _, a := range got.Actions {
			if a.Kind == Dropped {
				if want := tt.share * largest; math.Abs(a.Volume/want-1) > 0.05 || a.At.Sub(at).Len() > 0.1 {
					t.Errorf("told %g mm³ at %v, want %g at %v", a.Volume, a.At, want, at)
				}
			}
		}
	}
}

// A grid that is too coarse for a bit says what it lost, and where the surface is no longer.
func TestWhatAGridLosesIsTold(t *testing.T) {
	pair := solidtest.Join(solidtest.Sphere(50, 8000), solidtest.Moved(solidtest.Sphere(50, 8000), geom.Vec{X: 60}))
	at := geom.Vec{Y: 40} // it sticks out of one of the balls
	plate := solidtest.Moved(solidtest.Box(40, 40, 0.3), at)
	got := mended(t, finned(solidtest.Join(pair, plate)), Settings{Resolution: 2, DebrisShare: -1}, 1)
	for _, a := range got.Actions {
		if a.Kind == Shifted {
			if d := a.At.Sub(at); d.X < -1 || d.X > 41 || d.Y < -1 || d.Y > 41 || math.Abs(d.Z) > 1 {
				t.Errorf("the surface is told to have moved at %v, the plate lies at %v", a.At, at)
			}
			if got.DistanceMaxMm < 15 {
				t.Errorf("the plate lies %g mm off", got.DistanceMaxMm)
			}
			return
		}
	}
	t.Errorf("nothing told: %v", got.Actions)
}

// The mean distance of a box from one that is 2 taller is over the areas, however the facets are divided.
func TestMeanDistanceIsOverTheArea(t *testing.T) {
	a, b := solidtest.Box(100, 100, 10), solidtest.Box(100, 100, 12)
	fine := &mesh.Mesh{Points: append([]mesh.Point{}, b.Points...)}
	for i, t := range b.Triangles { // the bottom, which did not move, in a great many facets
		p, q, r := b.Corners(i)
		if p.Z+q.Z+r.Z > 0 {
			fine.Triangles = append(fine.Triangles, t)
			continue
		}
		const n = 60
		for k := range n {
			last := t[1]
			if k > 0 {
				last = int32(len(fine.Points) - 1)
			}
			next := t[2]
			if k < n-1 {
				next = int32(len(fine.Points))
				fine.Points = append(fine.Points, mesh.PointOf(q.Add(r.Sub(q).Scale(float64(k+1)/n))))
			}
			fine.Triangles = append(fine.Triangles, mesh.Triangle{t[0], last, next})
		}
	}
	w, err := apart(context.Background(), a, a.Adjacency(), fine)
	if err != nil {
		t.Fatal(err)
	}
	// The taller box's top lies 2 off, the lower one's as well but nearer where a side is nearer (the volume of a pyramid cut
	// off at 2), and the upper strips of the taller one's sides 1 in the mean.
	want := (2*10000 + 2.0/3*(10000+9600+9216) + 400*2*1) / (2*20000.0 + 4000 + 4800)
	if math.Abs(w.mean()/want-1) > 0.01 || math.Abs(w.most-2) > 0.001 {
		t.Errorf("mean %g, want %g; most %g, want 2", w.mean(), want, w.most)
	}
}

// TestShellsAddUp: a scan of many closed shells that overlap a little, the bones of the field set, holds after mending what
// they hold together, counted on upright lines apart from how it is mended: places in several of them count once. It holds as
// much as all of them less what they share, so that none is left out.
func TestShellsAddUp(t *testing.T) {
	set := os.Getenv("GRAINSTACK_FIELD_SET")
	if set == "" {
		t.Skip("the field set is not there")
	}
	m, _, err := mesh.Open(filepath.Join(set, "bones.off"))
	if err != nil {
		t.Fatal(err)
	}
	each, union := linesThrough(m, 700)
	if v := m.Volume(); math.Abs(each/v-1) > 0.001 {
		t.Fatalf("the lines count %g in the shells one by one, which hold %g", each, v)
	}
	got, err := Mend(t.Context(), m, m.Adjacency(), Settings{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	after := got.Mesh.Volume()
	// The same lines through the mended solid, so that how far apart they are takes no part in it.
	_, held := linesThrough(got.Mesh, 700)
	t.Logf("26 shells hold %.6g one by one and %.6g together; mended %.6g on the same lines, %+.2g, %.6g by itself", each, union, held, held/union-1, after)
	if math.Abs(held/union-1) > 1e-5 || math.Abs(after/union-1) > 0.001 {
		t.Errorf("mended to %g, %g by itself, the shells hold %g together", held, after, union)
	}
}

// linesThrough counts a surface's inside on n × n upright lines: places that are in several shells as often, and once.
func linesThrough(m *mesh.Mesh, n int) (each, once float64) {
	type crossing struct {
		z  float64
		in int
	}
	box := m.Box()
	size := box.Size()
	dx, dy := size.X/float64(n), size.Y/float64(n)
	lines := make([][]crossing, n*n)
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		area := b.Sub(a).Cross(c.Sub(a)).Z
		if area == 0 {
			continue
		}
		first := func(low, from, step float64) int { return max(0, int((low-from)/step-0.5)) }
		for j := first(min(a.Y, b.Y, c.Y), box.Min.Y, dy); j < n; j++ {
			y := box.Min.Y + (float64(j)+0.5)*dy
			if y > max(a.Y, b.Y, c.Y) {
				break
			}
			for k := first(min(a.X, b.X, c.X), box.Min.X, dx); k < n; k++ {
				p := geom.Vec{X: box.Min.X + (float64(k)+0.5)*dx, Y: y}
				if p.X > max(a.X, b.X, c.X) {
					break
				}
				u, v := b.Sub(p).Cross(c.Sub(p)).Z/area, c.Sub(p).Cross(a.Sub(p)).Z/area
				if w := 1 - u - v; u > 0 && v > 0 && w > 0 {
					in := 1
					if area > 0 { // it looks up
						in = -1
					}
					lines[j*n+k] = append(lines[j*n+k], crossing{u*a.Z + v*b.Z + w*c.Z, in})
				}
			}
		}
	}
	for _, line := range lines {
		slices.SortFunc(line, func(p, q crossing) int { return cmp.Compare(p.z, q.z) })
		depth := 0
		for i, c := range line {
			if depth > 0 {
				once += c.z - line[i-1].z
			}
			each += float64(depth) * (c.z - line[max(i-1, 0)].z)
			depth += c.in
		}
	}
	return each * dx * dy, once * dx * dy
}
