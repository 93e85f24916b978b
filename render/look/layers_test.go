package look

import (
	"context"
	"math"
	"testing"

	"grainstack/render/golden"
	"grainstack/render/tone"
	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

// walnut is a board of 9 thicker veneers; its tones are from memory (raw walnut, Lab 50, 8, 18).
func walnut(coat float64) Wood {
	w := Wood{GlueLine: 0.08, Joint: 0.15, Finish: varnish(coat), Seed: 7}
	for i := range 9 {
		w.Veneers = append(w.Veneers, Veneer{16.0 / 9, i%2 == 0, tone.Lab{50, 8, 18}, tone.Lab{40, 9, 16}})
	}
	return w
}

// layersOf are layers of a wood as it stacks by itself.
func layersOf(w Wood, height float64) (out []Layer) {
	for i := 0; ; i++ {
		l := Layer{Bottom: w.Bottom + w.panel()*float64(i), Turned: w.Turned != (w.Alternate && i%2 == 1)}
		if l.Bottom >= height {
			return out
		}
		out = append(out, l)
	}
}

// TestMixedOfOneWood: layers that all are of the dress's own wood draw what the wood draws without them, byte for byte.
func TestMixedOfOneWood(t *testing.T) {
	m := solidtest.Moved(solidtest.Sphere(100, 100_000), geom.Vec{Z: 100})
	v := upright(m, 30, 25, 400, 400)
	for _, bottom := range []float64{0, -5.3} {
		w := birch(0.6)
		w.Bottom = bottom
		want := picture(t, m, v, Dress{Wood: w, Paper: lightPaper})
		got := picture(t, m, v, Dress{Wood: w, Layers: layersOf(w, 200), Paper: lightPaper})
		if share, _ := golden.Compare(got, want, 0); share > 0 {
			t.Errorf("bottom %g: %.2f %% of the picture differs", bottom, 100*share)
		}
	}
}

// TestMixedLayersAtTheirHeights: on an upright wall each row of pixels that lies wholly in one veneer has that veneer's
// tone, whatever wood and turn its layer has, and the wood changes at the joints to the pixel.
func TestMixedLayersAtTheirHeights(t *testing.T) {
	white, black := tone.Lab{95, 0, 0}, tone.Lab{10, 0, 0}
	base := Wood{Veneers: []Veneer{{20, true, white, white}}}
	band := Wood{Veneers: []Veneer{{5, true, black, black}, {5, false, black, black}, {5, true, white, white}}}
	d := Dress{Wood: base, Woods: []Wood{band}, Paper: lightPaper, Layers: []Layer{{Bottom: -3}, {Bottom: 17, Wood: 1}, {Bottom: 32}, {Bottom: 52, Wood: 1, Turned: true}, {Bottom: 67}}}
	m := solidtest.Box(100, 100, 100)
	r := rastered(t, m, upright(m, 25, 0, 500, 400))
	f, err := r.Shade(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	edges := []float64{17, 27, 32, 52, 62, 67}
	checked := 0
	r.seen(func(x, y int, s *sample) {
		h, isBlack := float64(s.h), false
		for i, e := range edges {
			if math.Abs(h-e) < 1.01*float64(s.foot) {
				return
			}
			if h > e {
				isBlack = i%3 == 0
			}
		}
		checked++
		if c := f.Image.RGBAAt(x, y); (c.G < 90) != isBlack {
			t.Fatalf("pixel %d, %d at %.2f mm is %v, black %v", x, y, h, c, isBlack)
		}
	})
	if checked < 20_000 {
		t.Errorf("only %d pixels were checked", checked)
	}
}

// TestMixedTurn: a turned layer shows end grain where its neighbours show long grain.
func TestMixedTurn(t *testing.T) {
	w := Wood{Veneers: []Veneer{{20, true, tone.Lab{81.1, 7.2, 20}, tone.Lab{69, 9, 18.5}}}}
	d := Dress{Wood: w, Layers: []Layer{{}, {Bottom: 20, Turned: true}}}
	var s stripes
	s.build(&d, 400)
	r := s.reader()
	a, _, _ := r.at(10, 0)
	b, _, _ := r.at(30, 0)
	if a[cellX] >= 0 || a[cellY] != 0 || b[cellY] >= 0 || b[cellX] != 0 {
		t.Errorf("straight %v, turned %v", *a, *b)
	}
}

// TestMixedMean: a pixel that spans the whole stack shows the mean of its layers by height.
func TestMixedMean(t *testing.T) {
	white, black := tone.Lab{95, 0, 0}, tone.Lab{10, 0, 0}
	d := Dress{Wood: Wood{Veneers: []Veneer{{10, true, white, white}}}, Woods: []Wood{{Veneers: []Veneer{{10, true, black, black}}}}}
	for i := range 8 {
		d.Layers = append(d.Layers, Layer{Bottom: float64(10 * i), Wood: i % 2})
	}
	var s stripes
	s.build(&d, 400)
	r := s.reader()
	a, b, k := r.at(40, 40)
	got, want := a[0]+k*(b[0]-a[0]), (white.Light()[0]+black.Light()[0])/2
	if math.Abs(float64(got-want)) > 0.02 {
		t.Errorf("mean light %.3f, want %.3f", got, want)
	}
}

// TestStrangeLayers: layers in disorder, without number or naming no wood are drawn somehow and make no panic.
func TestStrangeLayers(t *testing.T) {
	for _, layers := range [][]Layer{
		{{Bottom: math.NaN()}},
		{{Bottom: 30}, {Bottom: 10, Wood: 9}, {Bottom: 10, Wood: -1}},
		{{Bottom: math.Inf(1)}, {Bottom: -1e300}},
		{{Bottom: 0}, {Bottom: 9e4}},
	} {
		for _, w := range []Wood{{}, birch(0), {Veneers: []Veneer{{Thickness: math.Inf(1)}}, Joint: 1e9}} {
			var s stripes
			s.build(&Dress{Wood: w, Layers: layers}, 400)
			r := s.reader()
			for _, h := range []float32{0, -5, 1e6, float32(math.NaN())} {
				r.at(h, 1)
				r.at(h, float32(math.Inf(1)))
			}
		}
	}
}

func BenchmarkMixedTable(b *testing.B) {
	d := Dress{Wood: birch(1), Woods: []Wood{walnut(1)}, Layers: layersOf(birch(1), 400)}
	d.Layers[10].Wood = 1
	var s stripes
	for b.Loop() {
		d.Wood.Bottom -= 0.01
		s.build(&d, 400)
	}
}
