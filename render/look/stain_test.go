package look

import (
	"context"
	"image/color"
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

// TestStain: exactly the marked pixels change, towards the accent's red or, on a stroke of the hatching, to a paler tone, and
// the lit side stays lighter.
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
		if (x+y)%hatchEvery < hatchWide {
			if min(b.R, b.G, b.B) <= min(a.R, a.G, a.B) {
				t.Fatalf("pixel %d, %d is on a stroke and did not turn paler: %v became %v", x, y, a, b)
			}
			return
		}
		if int(b.R)-int(b.G) <= int(a.R)-int(a.G) {
			t.Fatalf("pixel %d, %d did not turn redder: %v became %v", x, y, a, b)
		}
		dark, light = min(dark, b.R), max(light, b.R)
	})
	if changed < 3000 || light < dark+20 {
		t.Errorf("%d pixels were marked, their red from %d to %d", changed, dark, light)
	}
}

// What is marked can be told from the wood without red: seen by an eye that lacks the long-wave cones, a mark's red or its
// hatching is far from the bare wood's tone. The simulation is the matrix of Machado, Oliveira and Fernandes, "A
// physiologically-based model for simulation of color vision deficiency", IEEE TVCG 15(6), 2009, table 1, for linear light.
func TestMarksWithoutRed(t *testing.T) {
	protan := func(c tone.Light) tone.Lab {
		r, g, b := c[0], c[1], c[2]
		return tone.Light{
			0.152286*r + 1.052583*g - 0.204868*b,
			0.114503*r + 0.786281*g + 0.099216*b,
			-0.003882*r - 0.048116*g + 1.051998*b,
		}.Lab()
	}
	for name, wood := range map[string]tone.Lab{"birch": {81, 7, 20}, "beech": {70, 12, 22}, "walnut": {38, 10, 16}, "walnut, varnished": {28, 11, 15}} {
		for _, strength := range []float64{0.33, 0.82} {
			for _, paper := range []Paper{lightPaper, {Accent: color.RGBA{0xf0, 0x80, 0x6a, 0xff}}} {
				d := Dress{Paper: paper, Stain: evenly(strength)}
				bare := wood.Light()
				plain, stroke := d.stained(bare, &sample{kind: surface}, false), d.stained(bare, &sample{kind: surface}, true)
				apart := max(protan(bare).Difference(protan(plain)), protan(plain).Difference(protan(stroke)))
				if apart < 10 {
					t.Errorf("%s marked by %.2f differs by %.1f", name, strength, apart)
				}
			}
		}
	}
}

// evenly marks everything alike.
type evenly float64

func (e evenly) At(geom.Vec, float64) float64 { return float64(e) }
