package look

import (
	"context"
	"testing"

	"grainstack/render/tone"
	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

// upper marks what faces up above a height.
type upper float64

func (u upper) At(p geom.Vec, up float64) float64 {
	if p.Z > float64(u) && up > 0 {
		return 1
	}
	return 0
}

// TestStain: exactly the marked pixels change, all of them towards the accent's red, and the lit side stays lighter.
func TestStain(t *testing.T) {
	m := solidtest.Moved(solidtest.Sphere(50, 40_000), geom.Vec{Z: 50})
	r := rastered(t, m, upright(m, 25, 20, 300, 300))
	d := Dress{Wood: plain(tone.Lab{81, 7, 20}), Paper: lightPaper}
	bare, err := r.Shade(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	d.Stain = upper(60)
	marked, err := r.Shade(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	changed, dark, light := 0, uint8(255), uint8(0)
	r.seen(func(x, y int, s *sample) {
		a, b := bare.Image.RGBAAt(x, y), marked.Image.RGBAAt(x, y)
		if want := s.kind == surface && s.h > 60 && s.n[2] > 0; (a != b) != want {
			t.Fatalf("pixel %d, %d at %.1f mm: %v became %v", x, y, s.h, a, b)
		}
		if a == b {
			return
		}
		changed++
		if int(b.R)-int(b.G) <= int(a.R)-int(a.G) {
			t.Fatalf("pixel %d, %d did not turn redder: %v became %v", x, y, a, b)
		}
		dark, light = min(dark, b.R), max(light, b.R)
	})
	if changed < 3000 || light < dark+20 {
		t.Errorf("%d pixels were marked, their red from %d to %d", changed, dark, light)
	}
}
