package mesh_test

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// near reports whether got is want to the given share of want.
func near(got, want, share float64) bool { return math.Abs(got-want) <= share*math.Abs(want) }

func TestVolumeAndArea(t *testing.T) {
	ngon := func(n float64) float64 { return n * math.Sin(2*math.Pi/n) / 2 / math.Pi } // share of the circle
	for _, tt := range []struct {
		name         string
		m            *mesh.Mesh
		volume, area float64 // area 0: not known
		share        float64
		source       string
	}{
		{"box", solidtest.Box(30, 20, 10), 6000, 2200, 1e-12, "abc, 2(ab+bc+ca)"},
		{"frustum of 7 sides", solidtest.Frustum(40, 20, 60, 7), 175929.189 * ngon(7), 0, 1e-6, "prismatoid formula, CRC handbook"},
		{"frustum", solidtest.Frustum(40, 20, 60, 720), 175929.189, 11921.506 + math.Pi*2000, 3e-5, "CRC handbook"},
		{"cone", solidtest.Frustum(40, 0, 60, 720), math.Pi * 1600 * 20, math.Pi * 40 * (40 + math.Hypot(40, 60)), 3e-5, "CRC handbook"},
		{"torus", solidtest.Torus(40, 12, 600, 300), 113697.843, 18949.640, 2e-4, "Pappus: 2π²Rr², 4π²Rr"},
		{"ellipsoid", solidtest.Ellipsoid(30, 20, 10, 200_000), 25132.741, 4888.22, 1e-4, "4πabc/3; area by quadrature"},
		{"sphere", solidtest.Sphere(50, 200_000), 523598.776, 31415.927, 1e-4, "4πr³/3, 4πr²"},
		{"shell", solidtest.Join(solidtest.Sphere(50, 200_000), solidtest.Flip(solidtest.Sphere(42, 200_000))), 213259.687,
			4 * math.Pi * (2500 + 1764), 1e-4, "difference of two balls"},
	} {
		if got := tt.m.Volume(); !near(got, tt.volume, tt.share) {
			t.Errorf("%s: volume %.3f, want %.3f (%s)", tt.name, got, tt.volume, tt.source)
		}
		if got := tt.m.Area(); tt.area > 0 && !near(got, tt.area, tt.share) {
			t.Errorf("%s: area %.3f, want %.3f (%s)", tt.name, got, tt.area, tt.source)
		}
	}
}

// The facetted ball's shortfall goes with the square of the facets' length, that is with one over their number.
func TestVolumeConverges(t *testing.T) {
	gap := func(n int) float64 { return 4*math.Pi/3*125000 - solidtest.Sphere(50, n).Volume() }
	if ratio := gap(12*40*40) / gap(12*80*80); !near(ratio, 4, 0.02) {
		t.Errorf("four times the facets cut the error by %.3f, want 4", ratio)
	}
}

func TestCentroid(t *testing.T) {
	for _, tt := range []struct {
		name string
		m    *mesh.Mesh
		want geom.Vec
	}{
		{"box", solidtest.Box(30, 20, 10), geom.Vec{X: 15, Y: 10, Z: 5}},
		{"frustum", solidtest.Frustum(40, 20, 60, 360), geom.Vec{Z: 23.5714}}, // h/4·(R²+2Rr+3r²)/(R²+Rr+r²), CRC handbook
		{"cone", solidtest.Frustum(40, 0, 60, 360), geom.Vec{Z: 15}},          // h/4
		{"inside out", solidtest.Flip(solidtest.Box(30, 20, 10)), geom.Vec{X: 15, Y: 10, Z: 5}},
	} {
		got, ok := tt.m.Centroid()
		if !ok || got.Sub(tt.want).Len() > 1e-4 {
			t.Errorf("%s: centre %v %v, want %v", tt.name, got, ok, tt.want)
		}
	}
	flat := &mesh.Mesh{Points: []mesh.Point{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, Triangles: []mesh.Triangle{{0, 1, 2}}}
	if c, ok := flat.Centroid(); ok {
		t.Errorf("a single triangle has centre %v, want none", c)
	}
	if c, ok := (&mesh.Mesh{}).Centroid(); ok {
		t.Errorf("an empty mesh has centre %v, want none", c)
	}
}

func TestMeasuresKeepUnderMotion(t *testing.T) {
	m := solidtest.Bumpy(100, 20_000)
	c, _ := m.Centroid()
	turn := geom.TurnXYZ(20, 50, 110)
	shift := geom.Vec{X: 300, Y: -200, Z: 1000}
	for _, tt := range []struct {
		name   string
		m      *mesh.Mesh
		factor float64
		centre geom.Vec
	}{
		{"reversed", solidtest.Flip(m), -1, c},
		{"moved", solidtest.Moved(m, shift), 1, c.Add(shift)},
		{"turned", solidtest.Turned(m, turn), 1, turn.Apply(c)},
		{"shuffled", solidtest.Shuffle(m, 3), 1, c},
		{"mirrored", solidtest.Stretch(m, -1, 1, 1), -1, geom.Vec{X: -c.X, Y: c.Y, Z: c.Z}},
		{"stretched", solidtest.Stretch(m, 2, 3, 0.5), 3, geom.Vec{X: 2 * c.X, Y: 3 * c.Y, Z: c.Z / 2}},
	} {
		if got, want := tt.m.Volume(), tt.factor*m.Volume(); !near(got, want, 1e-6) {
			t.Errorf("%s: volume %.4f, want %.4f", tt.name, got, want)
		}
		if got, want := tt.m.Area(), m.Area(); tt.name != "stretched" && !near(got, want, 1e-6) {
			t.Errorf("%s: area %.4f, want %.4f", tt.name, got, want)
		}
		if got, _ := tt.m.Centroid(); got.Sub(tt.centre).Len() > 1e-4 {
			t.Errorf("%s: centre %v, want %v", tt.name, got, tt.centre)
		}
	}
}

func TestBox(t *testing.T) {
	m := solidtest.Moved(solidtest.Box(3, 4, 5), geom.Vec{X: -1, Y: -2, Z: -3})
	want := geom.Box{Min: geom.Vec{X: -1, Y: -2, Z: -3}, Max: geom.Vec{X: 2, Y: 2, Z: 2}}
	if got := m.Box(); got != want {
		t.Errorf("box %v, want %v", got, want)
	}
	if !(&mesh.Mesh{}).Box().Empty() {
		t.Error("the box of nothing is not empty")
	}
}

// TestSurfaceCentre: of an open tray, the floor and four walls, by the areas of its faces; fine and coarse facets agree.
func TestSurfaceCentre(t *testing.T) {
	box := solidtest.Box(100, 60, 20)
	tray := &mesh.Mesh{Points: box.Points}
	for i, f := range box.Triangles {
		if a, b, c := box.Corners(i); a.Z+b.Z+c.Z < 50 { // without the lid
			tray.Triangles = append(tray.Triangles, f)
		}
	}
	want := 10 * 2 * (100 + 60) * 20.0 / (100*60 + 2*(100+60)*20)
	at, low := tray.SurfaceCentre(), tray.Box().Min
	if got := at.Z - low.Z; !near(got, want, 1e-6) || !near(at.X-low.X, 50, 1e-6) || !near(at.Y-low.Y, 30, 1e-6) {
		t.Errorf("%v from %v, want %v above", at, low, want)
	}
}
