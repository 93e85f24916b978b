package look

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

func TestSilhouetteOfASphere(t *testing.T) {
	const radius = 100
	m := solidtest.Moved(solidtest.Sphere(radius, 200_000), geom.Vec{Z: radius})
	for _, elevation := range []float64{-90, -30, 0, 20, 90} {
		r := rastered(t, m, upright(m, 33, elevation, 500, 400))
		n := 0
		r.seen(func(int, int, *sample) { n++ })
		got, want := float64(n)/(r.lens.scale*r.lens.scale), math.Pi*radius*radius
		if math.Abs(got/want-1) > 0.005 {
			t.Errorf("elevation %g: %.1f mm², want %.1f within 0.5 %%", elevation, got, want)
		}
	}
}

// TestHeightsOfASphere compares each pixel's place and normal with where its ray meets the true sphere.
func TestHeightsOfASphere(t *testing.T) {
	const radius = 100.0
	centre := geom.Vec{Z: radius}
	m := solidtest.Moved(solidtest.Sphere(radius, 400_000), centre)
	r := rastered(t, m, upright(m, -60, 25, 600, 600))
	r.seen(func(x, y int, s *sample) {
		o := r.lens.point(float64(x)+0.5, float64(y)+0.5, 0).Sub(centre)
		b := o.Dot(r.lens.ahead)
		in := b*b - o.Dot(o) + radius*radius
		if in < 0.04*radius*radius { // the rim, where a hair sideways is far along the ray
			return
		}
		want := o.Add(r.lens.ahead.Scale(-b - math.Sqrt(in)))
		got := geom.Vec{X: float64(s.x), Y: float64(s.y), Z: float64(s.h)}.Sub(centre)
		if got.Sub(want).Len() > 0.05 {
			t.Fatalf("pixel %d, %d: got %v, want %v", x, y, got, want)
		}
		n := geom.Vec{X: float64(s.n[0]), Y: float64(s.n[1]), Z: float64(s.n[2])}.Scale(1.0 / packed)
		if n.Sub(want.Unit()).Len() > 0.01 {
			t.Fatalf("pixel %d, %d: normal %v, want %v", x, y, n, want.Unit())
		}
	})
}

// TestFootIsTheHeightsDifference compares the span of height kept for a pixel with what its neighbours see.
func TestFootIsTheHeightsDifference(t *testing.T) {
	m := solidtest.Moved(solidtest.Sphere(100, 400_000), geom.Vec{Z: 100})
	r := rastered(t, m, upright(m, 10, 35, 500, 500))
	at := func(x, y int) float64 { return float64(r.samples[y*r.lens.w+x].h) }
	for y := 150; y < 350; y += 7 {
		for x := 150; x < 350; x += 7 {
			want := math.Hypot(at(x+1, y)-at(x-1, y), at(x, y+1)-at(x, y-1)) / 2
			if got := float64(r.samples[y*r.lens.w+x].foot); math.Abs(got-want) > 0.02*want+0.01 {
				t.Fatalf("pixel %d, %d: spans %.4f mm, neighbours say %.4f", x, y, got, want)
			}
		}
	}
}

func TestCreasesStaySharp(t *testing.T) {
	m := solidtest.Box(100, 80, 60)
	r := rastered(t, m, upright(m, 30, 30, 400, 300))
	r.seen(func(x, y int, s *sample) {
		largest := max(s.n[0], s.n[1], s.n[2])
		if largest < packed-2 {
			t.Fatalf("pixel %d, %d of a box has the normal %v", x, y, s.n)
		}
	})
}

// TestShuffledPiece: the picture does not hang on the order of triangles and points.
func TestShuffledPiece(t *testing.T) {
	m := solidtest.Bumpy(100, 60_000)
	pl, height := stand(m, 300)
	for _, v := range []View{
		{Placement: pl, Height: height},
		{Placement: pl, Height: height, Cut: height / 2},
		{Placement: pl, Height: height, Lift: 6, Joints: joints(height, 16)},
	} {
		v.Camera = Camera{Azimuth: 0.7, Elevation: 0.5, Zoom: 1}
		v.Size.X, v.Size.Y = 300, 300
		d := Dress{Wood: birch(1), Paper: lightPaper}
		a, b := picture(t, m, v, d), picture(t, solidtest.Shuffle(m, 5), v, d)
		differ := 0
		for i := range a.Pix {
			if dif := int(a.Pix[i]) - int(b.Pix[i]); dif < -2 || dif > 2 {
				differ++
			}
		}
		if differ > len(a.Pix)/20000 {
			t.Errorf("cut %g, lift %g: %d of %d bytes differ by more than 2", v.Cut, v.Lift, differ, len(a.Pix))
		}
	}
}

func TestOpenSurfaceShowsItsInside(t *testing.T) {
	m := solidtest.Box(100, 100, 100)
	open := &mesh.Mesh{Points: m.Points}
	for i, tri := range m.Triangles {
		if a, b, c := m.Corners(i); a.Z+b.Z+c.Z < 299 {
			open.Triangles = append(open.Triangles, tri)
		}
	}
	r := rastered(t, open, upright(open, 30, 60, 200, 200))
	inside := 0
	r.seen(func(_, _ int, s *sample) {
		if s.n[2] > packed-2 && s.h < 1 {
			inside++
		}
	})
	if inside < 1000 {
		t.Errorf("%d pixels show the floor inside an open box, want more", inside)
	}
}

func TestStrangeViewsDrawNothingOrSomething(t *testing.T) {
	box := solidtest.Box(10, 10, 10)
	nan, inf := math.NaN(), math.Inf(1)
	for i, m := range []*mesh.Mesh{{}, {Points: make([]mesh.Point, 3), Triangles: []mesh.Triangle{{0, 1, 2}}}, box} {
		for j, change := range []func(*View){
			func(*View) {},
			func(v *View) { v.Size.X, v.Size.Y = 0, -3 },
			func(v *View) { v.Zoom = 0 },
			func(v *View) { v.Zoom, v.PanX = 1e12, 1e12 },
			func(v *View) { v.Zoom, v.PanX, v.Azimuth = nan, nan, nan },
			func(v *View) { v.Placement.Scale = 0 },
			func(v *View) { v.Placement.Scale = inf },
			func(v *View) { v.Height = nan },
			func(v *View) { v.Lift, v.Joints = 5, []float64{3, 3, 2, nan, 8} },
			func(v *View) { v.Lift, v.Joints = inf, []float64{3} },
			func(v *View) { v.Elevation, v.Cut = 7, 5 },
			func(v *View) { v.Elevation, v.Cut = -7, 5 },
		} {
			v := upright(box, 20, 20, 60, 40)
			change(&v)
			r := NewRenderer()
			if err := r.Raster(context.Background(), NewBody(m), v); err != nil {
				t.Fatalf("mesh %d, change %d: %v", i, j, err)
			}
			f, err := r.Shade(context.Background(), Dress{Wood: birch(1), Paper: lightPaper, Marks: []Mark{{Point: geom.Vec{X: nan}}, {}}})
			if err != nil {
				t.Fatalf("mesh %d, change %d: %v", i, j, err)
			}
			f.Release()
		}
	}
}

func TestCalledOff(t *testing.T) {
	m := solidtest.Bumpy(100, 50_000)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	r := NewRenderer()
	v := upright(m, 0, 0, 100, 100)
	if err := r.Raster(ctx, NewBody(m), v); err != context.Canceled {
		t.Errorf("got %v, want %v", err, context.Canceled)
	}
	if _, err := r.Shade(context.Background(), Dress{}); err == nil {
		t.Error("a picture came out although nothing was drawn")
	}
}
