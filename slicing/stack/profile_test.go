package stack

import (
	"fmt"
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// stepped is a box a x a x h1 with a smaller box b x b x h2 on its middle: one closed surface with a flat step at h1.
func stepped(a, b, h1, h2 float64) *mesh.Mesh {
	m := &mesh.Mesh{}
	ring := func(half, z float64) (first int32) {
		first = int32(len(m.Points))
		for _, s := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
			m.Points = append(m.Points, mesh.Point{float32(s[0] * half), float32(s[1] * half), float32(z)})
		}
		return first
	}
	band := func(lower, upper int32) {
		for i := range int32(4) {
			j := (i + 1) % 4
			m.Triangles = append(m.Triangles, mesh.Triangle{lower + i, lower + j, upper + j}, mesh.Triangle{lower + i, upper + j, upper + i})
		}
	}
	r0, r1, r2, r3 := ring(a/2, 0), ring(a/2, h1), ring(b/2, h1), ring(b/2, h1+h2)
	band(r0, r1)
	band(r1, r2)
	band(r2, r3)
	m.Triangles = append(m.Triangles, mesh.Triangle{r0, r0 + 2, r0 + 1}, mesh.Triangle{r0, r0 + 3, r0 + 2},
		mesh.Triangle{r3, r3 + 1, r3 + 2}, mesh.Triangle{r3, r3 + 2, r3 + 3})
	return m
}

func TestProfileAgainstClipping(t *testing.T) {
	turn := geom.TurnXYZ(20, 33, 5)
	for _, tt := range []struct {
		name string
		mesh *mesh.Mesh
	}{
		{"box", solidtest.Box(30, 20, 10)},
		{"turned box", solidtest.Turned(solidtest.Box(30, 20, 10), turn)},
		{"sphere", solidtest.Sphere(50, 3000)},
		{"fine sphere", solidtest.Moved(solidtest.Sphere(50, 40000), geom.Vec{X: 7, Y: -3, Z: 60})},
		{"torus", solidtest.Torus(40, 12, 60, 30)},
		{"frustum", solidtest.Frustum(40, 20, 60, 90)},
		{"stepped", stepped(40, 20, 16, 16)},
		{"stepped, on its side", solidtest.Turned(stepped(40, 20, 16, 16), geom.TurnXYZ(90, 0, 0))},
		{"bumpy", solidtest.Bumpy(100, 30000)},
		{"inside out", solidtest.Flip(solidtest.Sphere(50, 3000))},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := profileOf(t, tt.mesh)
			low, high := p.Bottom(), p.Top()
			size := high - low
			whole := slowBelow(tt.mesh, high)
			before, at := slowBelow(tt.mesh, low), low
			for i := 1; i <= 37; i++ {
				h := low + size*float64(i)/37
				want := slowBelow(tt.mesh, h)
				name := fmt.Sprintf("at %.3f ", h)
				agree(t, name+"volume", p.Volume(low-1, h), want.volume, 1e-9, 1e-9*math.Abs(whole.volume))
				// Between tabulated heights the volume is off by the kinks of the area there, a cell high: less than a millionth of a layer.
				agree(t, name+"layer", p.Volume(at, h), want.volume-before.volume, 1e-6, 1e-10*math.Abs(whole.volume))
				got, scale := p.Moment(low, h), math.Abs(whole.volume)*size*1e-8
				agree(t, name+"moment X", got.X, want.moment.X, 1e-9, scale)
				agree(t, name+"moment Y", got.Y, want.moment.Y, 1e-9, scale)
				agree(t, name+"moment Z", got.Z, want.moment.Z, 1e-9, scale)
				before, at = want, h
			}
		})
	}
}

func TestRowsAndSurfaceAgainstClipping(t *testing.T) {
	m := solidtest.Turned(solidtest.Bumpy(100, 30000), geom.TurnXYZ(10, 70, 0))
	p := profileOf(t, m)
	low, size := p.Bottom(), p.Top()-p.Bottom()
	for i := range 11 {
		z0, z1 := low+size*float64(i)/11, low+size*float64(i+1)/11
		a, b := slowBelow(m, z0), slowBelow(m, z1)
		// Linear between tabulated heights, so that the curve within one cell of 1/2048 is lost at each end.
		agree(t, "surface", p.Surface(z0, z1), b.skin-a.skin, 1e-4, 0)
		for side, up := range []bool{true, false} {
			for k, alongX := range []bool{true, false} {
				agree(t, fmt.Sprint("rows ", up, alongX), p.Rows(z0, z1, up, alongX), b.rows[side][k]-a.rows[side][k], 1e-4, 0)
			}
		}
	}
}

// Formulas for the torus, frustum, ellipsoid and cap: geometry formula pages and handbooks, as far as they are exact for
// facets; what facets cost is the difference between inscribed polygons and circles, of order 1/n².
func TestProfileOfKnownSolids(t *testing.T) {
	t.Run("cap of a sphere", func(t *testing.T) {
		// R = 50, h = 20: volume πh²(3R-h)/3, skin 2πRh, centre 3(2R-h)²/(4(3R-h)) from the sphere's centre.
		p := profileOf(t, solidtest.Sphere(50, 500000))
		agree(t, "volume", p.Volume(30, 50), 54454.273, 1e-4, 0)
		agree(t, "skin", p.Surface(30, 50), 6283.185, 1e-4, 0)
		agree(t, "centre", p.Moment(30, 50).Z/p.Volume(30, 50), 36.9231, 1e-4, 0)
		agree(t, "whole", p.Volume(-50, 50), 523598.776, 1e-4, 0)
		agree(t, "area", p.Area(30), math.Pi*1600, 1e-4, 0)
		agree(t, "perimeter", p.Perimeter(30), 2*math.Pi*40, 1e-4, 0)
		agree(t, "half's centre", p.Moment(0, 50).Z/p.Volume(0, 50), 18.75, 1e-4, 0)
		z, area := p.Widest(-20, 30)
		agree(t, "widest at", z, 0, 0, 0.3)
		agree(t, "widest", area, math.Pi*2500, 1e-4, 0)
	})
	t.Run("torus", func(t *testing.T) {
		p := profileOf(t, solidtest.Torus(40, 12, 1000, 600))
		for _, z := range []float64{-11, -6, 0, 3, 9} {
			agree(t, "area", p.Area(z), 4*math.Pi*40*math.Sqrt(144-z*z), 3e-4, 0)
			agree(t, "perimeter", p.Perimeter(z), 4*math.Pi*40, 3e-4, 0)
		}
		agree(t, "volume", p.Volume(-12, 12), 113697.843, 3e-4, 0)
		agree(t, "skin", p.Surface(-12, 12), 18949.640, 3e-4, 0)
	})
	t.Run("frustum", func(t *testing.T) {
		const n = 360
		p := profileOf(t, solidtest.Frustum(40, 20, 60, n))
		cut := n * math.Sin(2*math.Pi/n) / (2 * math.Pi) // n-gon to circle
		agree(t, "volume", p.Volume(0, 60), 175929.189*cut, 1e-7, 0)
		agree(t, "lateral skin", p.Surface(0, 60)-math.Pi*(1600+400)*cut, 11921.506, 1e-4, 0)
		agree(t, "centre", p.Moment(0, 60).Z/p.Volume(0, 60), 60*4400/(4*2800.0), 1e-6, 0)
		for _, z := range []float64{0, 7, 30, 59} {
			r := 40 - z/3
			agree(t, "area", p.Area(z), math.Pi*r*r*cut, 1e-7, 0)
			agree(t, "perimeter", p.Perimeter(z), 2*r*n*math.Sin(math.Pi/n), 1e-7, 0)
		}
	})
	t.Run("many tall facets", func(t *testing.T) {
		const n = 100000 // tabulated in fewer heights
		p := profileOf(t, solidtest.Frustum(40, 20, 60, n))
		if len(p.nodes) > leastCell+4 {
			t.Errorf("tabulated at %d heights", len(p.nodes))
		}
		agree(t, "volume", p.Volume(0, 60), 175929.189, 1e-7, 0)
		agree(t, "lateral skin", p.Surface(0.1, 59.9), 11921.506*(59.8/60), 1e-5, 0)
		agree(t, "area", p.Area(7.7), math.Pi*(40-7.7/3)*(40-7.7/3), 1e-6, 0)
	})
	t.Run("cube on its corner", func(t *testing.T) {
		// A cube of edge 10 with a diagonal upright: at a third of its height 10√3 the section is a triangle of side 10√2,
		// in the middle a regular hexagon of side 5√2 (from memory); below the triangle a sixth of the volume.
		turn := geom.TurnTo(geom.Vec{X: 1, Y: 1, Z: 1}, geom.Vec{Z: 1})
		pl := placed(t, solidtest.Box(10, 10, 10), turn, 1)
		p, h := profileOf(t, pl.Mesh), 10*math.Sqrt(3)
		agree(t, "height", p.Top(), h, 1e-6, 0)
		agree(t, "corner", p.Volume(0, h/3), 1000.0/6, 1e-6, 0)
		agree(t, "half", p.Volume(0, h/2), 500, 1e-6, 0)
		agree(t, "triangle", p.Area(h/3), math.Sqrt(3)/4*200, 1e-5, 0)
		agree(t, "hexagon", p.Area(h/2), 3*math.Sqrt(3)/2*50, 1e-6, 0)
		agree(t, "hexagon's rim", p.Perimeter(h/2), 30*math.Sqrt2, 1e-6, 0)
	})
}

func TestFlats(t *testing.T) {
	for _, turn := range []struct {
		name string
		turn geom.Turn
		back bool
	}{
		{"upright", geom.NoTurn(), false},
		{"turned on the floor", geom.TurnXYZ(0, 0, 33), false},
		{"turned twice", geom.TurnXYZ(17, 40, 80).Then(geom.TurnXYZ(17, 40, 80).Inverse()), false},
		{"upside down", geom.TurnXYZ(180, 0, 12), true},
	} {
		t.Run(turn.name, func(t *testing.T) {
			p := profileOf(t, placed(t, stepped(40, 20, 16, 16), turn.turn, 1).Mesh)
			below, above := 1600.0, 400.0
			if turn.back {
				below, above = above, below
			}
			agree(t, "below", p.AreaBelow(16), below, 1e-6, 0)
			agree(t, "above", p.Area(16), above, 1e-6, 0)
			agree(t, "joint", p.JointArea(16), 400, 1e-6, 0)
			up, down := p.flats(16)
			agree(t, "facing up", up, max(below-above, 0), 1e-6, 1e-9)
			agree(t, "facing down", down, max(above-below, 0), 1e-6, 1e-9)
			agree(t, "floor", p.AreaBelow(0), 0, 0, 1e-9)
			agree(t, "on the floor", p.Area(0), below, 1e-6, 0)
			agree(t, "top", p.AreaBelow(32), above, 1e-6, 0)
			agree(t, "over the top", p.Area(32), 0, 0, 1e-9)
			agree(t, "lower layer", p.Volume(0, 16), 16*below, 1e-6, 0)
			agree(t, "both", p.Volume(0, 32), 16*2000, 1e-6, 0)

			// The step is at a joint, so nothing is to be finished but walls, half of them from each side; with a joint elsewhere it is.
			walls := p.Rows(0, 16, true, true)
			agree(t, "rows above the joint", p.Rows(16, 32, true, true), walls*above/below*math.Sqrt(below/above), 1e-5, 0)
			agree(t, "rows over the step", p.Rows(8, 24, true, true)+p.Rows(8, 24, false, true),
				2*(walls/2+p.Rows(16, 24, true, true))+1200, 1e-5, 0)
			agree(t, "skin", p.Surface(0, 16)+p.Surface(16, 32), 2*1600+4*16*60, 1e-6, 0)
		})
	}
}

func TestAreaIsDerivativeOfVolume(t *testing.T) {
	p := profileOf(t, solidtest.Bumpy(100, 60000))
	size := p.Top() - p.Bottom()
	_, most := p.Widest(p.Bottom(), p.Top())
	for i := 1; i < 400; i++ {
		z, d := p.Bottom()+size*float64(i)/400, size*1e-5
		agree(t, fmt.Sprintf("at %.3f", z), p.Area(z), p.Volume(z-d, z+d)/(2*d), 0, most*1e-6)
	}
}

func TestProfileInvariants(t *testing.T) {
	base := solidtest.Bumpy(100, 20000)
	p := profileOf(t, base)
	z0, z1 := p.Bottom()+30, p.Bottom()+46.5
	want := p.Volume(z0, z1)
	for _, tt := range []struct {
		name string
		mesh *mesh.Mesh
		by   float64
		up   float64
	}{
		{"shuffled", solidtest.Shuffle(base, 7), 1, 0},
		{"moved", solidtest.Moved(base, geom.Vec{X: 3, Y: 4, Z: 50}), 1, 50},
		{"turned about the axis", solidtest.Turned(base, geom.TurnXYZ(0, 0, 77)), 1, 0},
		{"reversed", solidtest.Flip(base), -1, 0},
	} {
		q := profileOf(t, tt.mesh)
		agree(t, tt.name, q.Volume(z0+tt.up, z1+tt.up), tt.by*want, 2e-6, 0)
		agree(t, tt.name+" area", q.Area(z0+tt.up), tt.by*p.Area(z0), 2e-6, 0)
		agree(t, tt.name+" rim", q.Perimeter(z0+tt.up), p.Perimeter(z0), 2e-5, 0)
	}
}

func TestProfileRefuses(t *testing.T) {
	nan := float32(math.NaN())
	for name, m := range map[string]*mesh.Mesh{
		"empty":     {},
		"flat":      {Points: []mesh.Point{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, Triangles: []mesh.Triangle{{0, 1, 2}}},
		"no number": {Points: []mesh.Point{{0, 0, nan}, {1, 0, 2}, {0, 1, 0}}, Triangles: []mesh.Triangle{{0, 1, 2}}},
	} {
		if p, err := NewProfile(ctx, m); err == nil || p != nil {
			t.Errorf("%s: no error", name)
		}
	}
}
