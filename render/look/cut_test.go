package look

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

// kinds counts the pixels of each kind, in mm² of the picture.
func kinds(r *Renderer) (area [4]float64) {
	r.seen(func(_, _ int, s *sample) { area[s.kind] += 1 / (r.lens.scale * r.lens.scale) })
	return area
}

// TestCutSphere: a sphere cut at some height shows a disc of the radius that Pythagoras gives, foreshortened by the sine of
// the elevation; from below it shows none.
func TestCutSphere(t *testing.T) {
	const radius = 100.0
	m := solidtest.Moved(solidtest.Sphere(radius, 200_000), geom.Vec{Z: radius})
	for _, tt := range []struct{ cut, elevation float64 }{{100, 90}, {100, 30}, {60, 50}, {150, 20}, {100, -30}, {60, -90}, {100, 0}} {
		v := upright(m, 15, tt.elevation, 400, 400)
		v.Cut = tt.cut
		r := rastered(t, m, v)
		want := math.Pi * (radius*radius - (tt.cut-radius)*(tt.cut-radius)) * max(0, math.Sin(tt.elevation*math.Pi/180))
		if got := kinds(r)[face]; math.Abs(got-want) > 0.005*want {
			t.Errorf("cut at %g seen from %g degrees: face of %.0f mm², want %.0f", tt.cut, tt.elevation, got, want)
		}
		r.seen(func(x, y int, s *sample) {
			if float64(s.h) > tt.cut+0.01 {
				t.Fatalf("pixel %d, %d shows %.2f mm above a cut at %g", x, y, s.h, tt.cut)
			}
		})
	}
}

// TestCutFaceIsOneVeneer: the face laid bare has one veneer's tone all over, and a cut one veneer lower has the other's.
func TestCutFaceIsOneVeneer(t *testing.T) {
	m := solidtest.Box(100, 100, 100)
	v := upright(m, 20, 60, 200, 200)
	for k := range 6 {
		v.Cut = 10*float64(k) + 15
		r := rastered(t, m, v)
		f, err := r.Shade(context.Background(), Dress{Wood: zebra(10)})
		if err != nil {
			t.Fatal(err)
		}
		r.seen(func(x, y int, s *sample) {
			if white := k%2 == 1; s.kind == face && (f.Image.RGBAAt(x, y).G > 90) != white {
				t.Fatalf("cut at %g: pixel %d, %d is %v", v.Cut, x, y, f.Image.RGBAAt(x, y))
			}
		})
	}
}

// TestCutNestedShells: a hole bored through shows no face.
func TestCutNestedShells(t *testing.T) {
	outer := solidtest.Box(100, 100, 100)
	inner := solidtest.Flip(solidtest.Moved(solidtest.Box(60, 60, 60), geom.Vec{X: 20, Y: 20, Z: 20}))
	m := solidtest.Join(outer, inner)
	v := upright(m, 17, 90, 600, 600) // askew, so that rows of pixels do not fall in or out all at once
	v.Cut = 50
	if got, want := kinds(rastered(t, m, v))[face], 100.0*100-60*60; math.Abs(got-want) > 0.01*want {
		t.Errorf("face of %.0f mm², want %.0f", got, want)
	}
}

// TestLiftedHeights looks at a lifted box from the side: layer k stands k gaps higher, and paper shows between.
func TestLiftedHeights(t *testing.T) {
	m := solidtest.Box(100, 100, 100)
	v := upright(m, 0, 0, 400, 400)
	v.Lift, v.Joints = 10, []float64{20, 40, 60, 80}
	r := rastered(t, m, v)
	x := r.lens.w / 2
	for y := range r.lens.h {
		z := r.lens.point(float64(x)+0.5, float64(y)+0.5, 0).Z // mm, as lifted
		k := math.Floor(z / 30)
		within := z > 0 && z < 140 && z-30*k < 20
		edge := math.Min(math.Mod(z+300, 30), math.Abs(math.Mod(z+300, 30)-20))
		if edge < 1/r.lens.scale {
			continue
		}
		hit, ok := r.Pick(x, y)
		if ok != within {
			t.Fatalf("row %d at %.2f mm: wood %v, want %v", y, z, ok, within)
		}
		if ok && math.Abs(hit.Point.Z-(z-10*k)) > 0.01 {
			t.Errorf("row %d at %.2f mm: shows %.2f, want %.2f", y, z, hit.Point.Z, z-10*k)
		}
	}
}

// TestLiftedFaces: seen steeply from above or below, each lifted layer of a box shows as much of its face as the gap lets the
// eye in, reckoned by hand, and nothing shows through.
func TestLiftedFaces(t *testing.T) {
	const deg = math.Pi / 180
	m := solidtest.Moved(solidtest.Box(100, 100, 100), geom.Vec{X: -50, Y: -50})
	for _, elevation := range []float64{30, -30} {
		const azimuth = 25
		v := upright(m, azimuth, elevation, 500, 500)
		v.Lift, v.Joints = 8, []float64{25, 50, 75}
		r := rastered(t, m, v)
		// Of a face the eye sees what the layer before it, moved by gap / tan(elevation), does not cover; foreshortened.
		s, c := math.Sincos(azimuth * deg)
		moved := 8 / math.Tan(30*deg)
		strip := (100*100 - (100-moved*s)*(100-moved*c)) * math.Sin(30*deg)
		if got, want := kinds(r)[face], 3*strip; math.Abs(got-want) > 0.01*want {
			t.Errorf("elevation %g: faces of %.0f mm², want %.0f", elevation, got, want)
		}
		// The outside of all layers shows in full, as none stands before another's side.
		want := 100*100*math.Sin(30*deg) + 100*(s+c)*100*math.Cos(30*deg)
		if got := kinds(r)[surface]; math.Abs(got-want) > 0.005*want {
			t.Errorf("elevation %g: outside of %.0f mm², want %.0f", elevation, got, want)
		}
	}
}

// ball is a Depth of its own: how deep a point lies in a ball, to the last digit.
type ball struct {
	centre geom.Vec
	radius float64
}

func (b ball) Depth(p geom.Vec) float64 { return b.radius - p.Sub(b.centre).Len() }

// TestHollowSphere: cut in half and seen from above, a hollow ball shows its rim as a ring and its inside as a bowl.
func TestHollowSphere(t *testing.T) {
	const radius, wall = 100.0, 22.0
	centre := geom.Vec{Z: radius}
	m := solidtest.Moved(solidtest.Sphere(radius, 200_000), centre)
	v := upright(m, 0, 90, 400, 400)
	v.Cut = radius
	v.Core = Core{Depth: ball{centre, radius}, Wall: wall, Bottom: 0, Top: 2 * radius}
	r := rastered(t, m, v)
	inner := radius - wall
	got := kinds(r)
	if want := math.Pi * (radius*radius - inner*inner); math.Abs(got[face]-want) > 0.01*want {
		t.Errorf("rim of %.0f mm², want %.0f", got[face], want)
	}
	if want := math.Pi * inner * inner; math.Abs(got[hollow]-want) > 0.01*want {
		t.Errorf("bowl of %.0f mm², want %.0f", got[hollow], want)
	}
	r.seen(func(x, y int, s *sample) {
		p := geom.Vec{X: float64(s.x), Y: float64(s.y), Z: float64(s.h)}.Sub(centre)
		if s.kind == hollow && math.Hypot(p.X, p.Y) < 0.98*inner && math.Abs(p.Len()-inner) > 0.1 {
			t.Fatalf("pixel %d, %d of the bowl is %.2f from the centre, want %.2f", x, y, p.Len(), inner)
		}
	})
}

// TestLookingThroughLayers: straight down through the lifted rings of a hollow ball one sees the cap that was left solid, or
// the bottom of the core.
func TestLookingThroughLayers(t *testing.T) {
	const radius = 100.0
	centre := geom.Vec{Z: radius}
	m := solidtest.Moved(solidtest.Sphere(radius, 100_000), centre)
	v := upright(m, 0, 90, 200, 200)
	v.Lift, v.Joints = 30, []float64{20, 40, 60, 80, 100, 120, 140, 160, 180}
	v.Cut = 150
	for _, tt := range []struct{ bottom, want float64 }{{40, 40}, {45, 45}, {0, 25}} {
		v.Core = Core{Depth: ball{centre, radius}, Wall: 25, Bottom: tt.bottom, Top: 300}
		hit, ok := rastered(t, m, v).Pick(100, 100)
		if !ok || math.Abs(hit.Point.Z-tt.want) > 0.2 || !hit.Face {
			t.Errorf("core from %g: the middle shows %v, want the face at %g", tt.bottom, hit, tt.want)
		}
	}
}

func TestPick(t *testing.T) {
	m := solidtest.Box(100, 80, 60)
	v := upright(m, 30, 40, 300, 300)
	r := rastered(t, m, v)
	n := 0
	r.seen(func(x, y int, _ *sample) {
		hit, ok := r.Pick(x, y)
		if !ok || hit.Face {
			t.Fatalf("pixel %d, %d: %v, %v", x, y, hit, ok)
		}
		a, b, c := m.Corners(hit.Facet)
		normal := b.Sub(a).Cross(c.Sub(a)).Unit()
		if off := math.Abs(hit.Point.Sub(a).Dot(normal)); off > 0.01 {
			t.Fatalf("pixel %d, %d: the point is %.3f mm off its facet", x, y, off)
		}
		if px, py, clear := r.Pixel(hit.Point); !clear || math.Abs(px-float64(x)-0.5) > 0.02 || math.Abs(py-float64(y)-0.5) > 0.02 {
			t.Fatalf("pixel %d, %d comes back as %.2f, %.2f, clear %v", x, y, px, py, clear)
		}
		n++
	})
	if n == 0 {
		t.Error("nothing was seen")
	}
	for _, p := range [][2]int{{-1, 0}, {0, -1}, {300, 5}, {5, 300}, {0, 0}} {
		if hit, ok := r.Pick(p[0], p[1]); ok {
			t.Errorf("pixel %v shows %v", p, hit)
		}
	}
	if _, _, clear := r.Pixel(geom.Vec{X: 50, Y: 40, Z: 0}); clear {
		t.Error("the middle of the underside is seen from above")
	}
}
