package picture

import (
	"image"
	"math"
	"testing"

	"grainstack/render/look"
	"grainstack/slicing/geom"
	"grainstack/slicing/mend"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
)

func TestFacingIsOutwards(t *testing.T) {
	m := solidtest.Sphere(50, 5000)
	for _, want := range []geom.Vec{{X: 1}, {Y: -1}, {X: 0.6, Z: -0.8}} {
		n, ok := Facing(m, want.Scale(50))
		if !ok || n.Dot(want) < 0.999 {
			t.Errorf("at %v the ball faces %v", want, n)
		}
	}
	// Away from every facet, away from the middle counts.
	if n, ok := Facing(m, geom.Vec{X: 90}); !ok || n.X < 0.999 {
		t.Errorf("outside: %v", n)
	}
}

// Whatever the view, the place comes to the middle, and From goes to where the direction points.
func TestTheViewGoesThere(t *testing.T) {
	m := solidtest.Ellipsoid(30, 50, 20, 3000)
	b := look.NewBody(m)
	at := SetDown(m, stack.Stand{Turn: geom.TurnXYZ(10, 20, 30), Scale: 2})
	p := at.Placement.Apply(geom.Vec{X: 30})
	n := at.Placement.Turn.Apply(geom.Vec{X: 1})
	v := look.View{Camera: From(look.Camera{Zoom: 3, PanX: 0.4}, n), Placement: at.Placement, Height: at.Height, Size: image.Pt(201, 151)}
	v.Camera = v.Centred(b, p)
	r := look.NewRenderer()
	if err := r.Raster(t.Context(), b, v); err != nil {
		t.Fatal(err)
	}
	x, y, clear := r.Pixel(p)
	if math.Abs(x-100.5) > 0.01 || math.Abs(y-75.5) > 0.01 || !clear {
		t.Errorf("seen at %v, %v, clear %v", x, y, clear)
	}
	if c := From(look.Camera{Azimuth: 1}, geom.Vec{Z: 2}); c.Azimuth != 1 || math.Abs(c.Elevation-math.Pi/2) > 1e-9 {
		t.Errorf("from above: %+v", c)
	}
}

func TestSawnOffShowsOnlyLevelSaws(t *testing.T) {
	m := solidtest.Box(100, 80, 60)
	at := SetDown(m, stack.Stand{Turn: geom.NoTurn(), Scale: 2})
	for _, tt := range []struct {
		saw  mend.Plane
		want float64 // 0 for none
	}{
		{mend.Plane{Normal: geom.Vec{Z: 1}, D: 10, On: true}, 20},
		{mend.Plane{Normal: geom.Vec{Z: 4}, D: 40, On: true}, 20},
		{mend.Plane{Normal: geom.Vec{Z: 1}, D: 10}, 0},
		{mend.Plane{Normal: geom.Vec{X: 1}, D: 10, On: true}, 0},
		{mend.Plane{Normal: geom.Vec{Z: -1}, D: -10, On: true}, 0},
		{mend.Plane{}, 0},
	} {
		b, ok := SawnOff(at, tt.saw)
		if ok != (tt.want > 0) || ok && math.Abs(b.To-tt.want) > 1e-6 {
			t.Errorf("%+v: %v %v, want %v", tt.saw, b, ok, tt.want)
		}
	}
}
