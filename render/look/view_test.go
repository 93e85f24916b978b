package look

import (
	"image/color"
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestTurnedPiece: turning the piece by its placement gives the picture of a piece whose points were turned, scaled and
// moved beforehand.
func TestTurnedPiece(t *testing.T) {
	m := solidtest.Bumpy(1, 50_000)
	turn := geom.TurnXYZ(20, -35, 50)
	stood := &mesh.Mesh{Triangles: m.Triangles}
	place := geom.Placement{Turn: turn, Scale: 90, Shift: geom.Vec{X: 5, Y: -8, Z: 140}}
	for _, p := range m.Points {
		q := place.Apply(p.Vec())
		stood.Points = append(stood.Points, mesh.PointOf(q))
	}
	v := upright(stood, 30, 20, 300, 300)
	want := rastered(t, stood, v)
	v.Placement = place
	got := rastered(t, m, v)
	// The box's middle, about which the picture is centred, is not the same after a turn; heights are compared, not pixels.
	far := 0
	got.seen(func(x, y int, s *sample) {
		p := geom.Vec{X: float64(s.x), Y: float64(s.y), Z: float64(s.h)}
		px, py := want.lens.pixel(p)
		hit, ok := want.Pick(int(px), int(py))
		if !ok || hit.Point.Sub(p).Len() > 4/want.lens.scale {
			far++
		}
	})
	if far > 400 {
		t.Errorf("%d pixels show another place than on the piece turned beforehand", far)
	}
}

// TestOrbitDoesNotPump: going round the piece changes neither the scale nor where the stand's axis is seen.
func TestOrbitDoesNotPump(t *testing.T) {
	b := NewBody(solidtest.Box(100, 60, 40))
	v := upright(solidtest.Box(100, 60, 40), 0, 20, 300, 200)
	first := newLens(b, &v, Strip{})
	for a := 0.0; a < 7; a += 0.3 {
		v.Azimuth = a
		l := newLens(b, &v, Strip{})
		x, y := l.pixel(l.target)
		if math.Abs(l.scale-first.scale) > 1e-9 || math.Abs(x-150) > 1e-9 || math.Abs(y-100) > 1e-9 {
			t.Errorf("azimuth %.1f: scale %g at %g, %g; want %g at 150, 100", a, l.scale, x, y, first.scale)
		}
	}
}

// TestWholePieceFits: at zoom 1 nothing of the piece, closed or lifted, lies outside the picture, from wherever it is seen.
func TestWholePieceFits(t *testing.T) {
	for _, size := range []geom.Vec{{X: 200, Y: 20, Z: 30}, {X: 20, Y: 30, Z: 300}, {X: 90, Y: 90, Z: 90}} {
		m := solidtest.Moved(solidtest.Box(size.X, size.Y, size.Z), geom.Vec{X: -size.X / 2, Y: -size.Y / 2})
		b := NewBody(m)
		for _, lift := range []float64{0, 15} {
			for e := -90.0; e <= 90; e += 15 {
				for a := 0.0; a < 180; a += 20 {
					v := upright(m, a, e, 320, 200)
					v.Lift, v.Joints = lift, joints(size.Z, 10)
					l := newLens(b, &v, Strip{})
					for _, p := range m.Points {
						q := p.Vec()
						if q.Z > 1 {
							q.Z = v.lifted()
						}
						if x, y := l.pixel(q); x < 0 || y < 0 || x > 320 || y > 200 {
							t.Fatalf("box %v, lift %g, azimuth %g, elevation %g: a corner is at %.0f, %.0f", size, lift, a, e, x, y)
						}
					}
				}
			}
		}
	}
}

// TestPickedLayer: ink stands at the picked layer's two edges and nowhere else.
func TestPickedLayer(t *testing.T) {
	m := solidtest.Box(100, 100, 100)
	v := upright(m, 20, 0, 300, 300)
	d := Dress{Wood: birch(0), Paper: lightPaper}
	plain := picture(t, m, v, d)
	d.Picked = Band{From: 40, To: 60}
	r := rastered(t, m, v)
	picked := picture(t, m, v, d)
	r.seen(func(x, y int, s *sample) {
		drop := int(plain.RGBAAt(x, y).R) - int(picked.RGBAAt(x, y).R)
		near := min(math.Abs(float64(s.h)-40), math.Abs(float64(s.h)-60)) * r.lens.scale
		switch {
		case near < 0.5 && drop < 40:
			t.Fatalf("pixel %d, %d at %.2f mm has no ink", x, y, s.h)
		case near > 1.5 && (s.h < 40 || s.h > 60) && drop != 0:
			t.Fatalf("pixel %d, %d at %.2f mm changed by %d", x, y, s.h, drop)
		}
	})
}

// TestMarks: a ring stands round the place, its middle is left clear, and one that is hidden is fainter.
func TestMarks(t *testing.T) {
	m := solidtest.Moved(solidtest.Box(100, 100, 100), geom.Vec{X: -50, Y: -50})
	v := upright(m, 0, 0, 300, 300)
	d := Dress{Wood: birch(0), Paper: lightPaper}
	d.Paper.Accent = color.RGBA{0, 0, 255, 255}
	plain := picture(t, m, v, d)
	ring := func(p geom.Vec) (at, middle int) {
		d.Marks = []Mark{{Point: p}}
		img := picture(t, m, v, d)
		diff := func(x, y int) int { return int(plain.RGBAAt(x, y).R) - int(img.RGBAAt(x, y).R) }
		return diff(150+ringRadius, 150), diff(150, 150)
	}
	front, middle := ring(geom.Vec{X: 50, Z: 50})
	behind, _ := ring(geom.Vec{X: -50, Z: 50})
	if front < 60 || middle != 0 || behind < 20 || behind > front*2/3 {
		t.Errorf("ring changes %d in front, %d behind, %d in its middle", front, behind, middle)
	}
}
