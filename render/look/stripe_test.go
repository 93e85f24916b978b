package look

import (
	"math"
	"testing"

	"grainstack/render/tone"
)

func readerOf(w Wood) reader {
	var s stripes
	s.build(&Dress{Wood: w}, 400)
	return s.reader()
}

func TestStripesAtEveryVeneersMiddle(t *testing.T) {
	w := birch(0)
	w.Bottom = -0.9
	r := readerOf(w)
	z := w.Bottom
	for panel := range 6 {
		for i, v := range w.Veneers {
			a, _, _ := r.at(float32(z+v.Thickness/2), 0.001)
			want := w.plyCell(panel, i, v.Along != (panel%2 == 1))
			for k := range 11 {
				if math.Abs(float64(a[k]-want[k])) > 0.004 {
					t.Fatalf("panel %d veneer %d: got %v, want %v", panel, i, *a, want)
				}
			}
			z += v.Thickness
		}
	}
}

func TestStripesChangeAtTheRecipesHeights(t *testing.T) {
	w := zebra(1.5)
	w.Bottom = -0.4
	r := readerOf(w)
	bin := 3.0 / finest
	for k := range 8 {
		edge := w.Bottom + 1.5*float64(k)
		below, _, _ := r.at(float32(edge-5*bin), 0)
		above, _, _ := r.at(float32(edge+5*bin), 0)
		if white := k%2 == 1; (below[0] > 0.5) != white || (above[0] > 0.5) == white {
			t.Errorf("edge at %.2f mm: %.3f below, %.3f above", edge, below[0], above[0])
		}
	}
}

// TestCoarseStripesAreTheMean checks that a pixel that spans far more than a period shows the mean of its veneers by
// thickness, reckoned by hand.
func TestCoarseStripesAreTheMean(t *testing.T) {
	w := birch(0)
	w.GlueLine, w.Joint, w.Seed = 0, 0, 0
	r := readerOf(w)
	var want cell
	sum := 0.0
	for panel := range 2 {
		for i, v := range w.Veneers {
			c := w.plyCell(panel, i, v.Along != (panel == 1))
			for k := range want {
				want[k] += float32(v.Thickness) * c[k]
			}
			sum += v.Thickness
		}
	}
	for _, foot := range []float32{200, 1e4, 1e9} {
		for h := float32(0); h < 40; h += 1.7 {
			a, b, k := r.at(h, foot)
			for i := range 11 {
				got := a[i] + k*(b[i]-a[i])
				if math.Abs(float64(got-want[i]/float32(sum))) > 0.001 {
					t.Fatalf("height %g, span %g, channel %d: got %g, want %g", h, foot, i, got, want[i]/float32(sum))
				}
			}
		}
	}
}

// TestEveryLevelKeepsTheMean: smoothing moves light about and neither makes nor loses any.
func TestEveryLevelKeepsTheMean(t *testing.T) {
	w := birch(1)
	var s stripes
	s.build(&Dress{Wood: w}, 400)
	want := s.cells[len(s.cells)-1]
	for i, l := range s.levels {
		got := meanCell(s.cells[l.first : l.first+l.count])
		for k := range 11 {
			if math.Abs(float64(got[k]-want[k])) > 1e-4 {
				t.Errorf("level %d channel %d: got %g, want %g", i, k, got[k], want[k])
			}
		}
	}
}

func TestTurnedPanelSwapsItsFibres(t *testing.T) {
	w := birch(0)
	w.Alternate = false
	straight := readerOf(w)
	w.Turned = true
	turned := readerOf(w)
	for h := float32(0.05); h < 16; h += 0.21 {
		a, _, _ := straight.at(h, 0)
		b, _, _ := turned.at(h, 0)
		for i := range 3 {
			if math.Abs(float64(a[cellX+i]-b[cellY+i])) > 1e-6 || math.Abs(float64(a[i]-b[i])) > 1e-6 {
				t.Fatalf("height %g: %v turned is %v", h, *a, *b)
			}
		}
	}
}

// TestCoatedGoesTheWayOfTheSource: lightness falls, chroma rises, dark wood darkens more than light wood (Tashiro &
// Nakamura, J. Soc. Mater. Sci. Japan 62(4), 2013).
func TestCoatedGoesTheWayOfTheSource(t *testing.T) {
	chroma := func(c tone.Lab) float64 { return math.Hypot(c[1], c[2]) }
	light, dark, f := tone.Lab{81.1, 7.2, 20}, tone.Lab{50, 8, 18}, varnish(1)
	for _, c := range []tone.Lab{light, dark} {
		if v := f.Coated(c); v[0] >= c[0] || chroma(v) <= chroma(c) {
			t.Errorf("%v varnished is %v", c, v)
		}
		if bare := varnish(0); bare.Coated(c) != c || (Finish{}).Coated(c) != c {
			t.Errorf("bare %v is %v", c, bare.Coated(c))
		}
	}
	if light[0]-f.Coated(light)[0] >= dark[0]-f.Coated(dark)[0] {
		t.Error("light wood darkens more than dark wood")
	}
}

// TestChanceStaysSmall: veneers of one tree differ by about 2 at most (Buchelt & Wagenführ 2011, doi
// 10.1007/s00107-011-0545-z), and the same seed gives the same tones.
func TestChanceStaysSmall(t *testing.T) {
	w := Wood{Seed: 3}
	mean := tone.Lab{81.1, 7.2, 20}
	differ := false
	for p := range 2 {
		for i := range 40 {
			c := w.chance(p, i, mean)
			if c.Difference(mean) > 2 {
				t.Errorf("veneer %d of panel %d is %.2f off", i, p, c.Difference(mean))
			}
			if c != w.chance(p, i, mean) {
				t.Error("the same veneer has two tones")
			}
			differ = differ || c.Difference(mean) > 0.5
		}
	}
	if !differ {
		t.Error("all veneers are alike")
	}
}

func TestStrangeWoodIsDrawnSomehow(t *testing.T) {
	for _, w := range []Wood{
		{},
		{Veneers: []Veneer{{Thickness: -1}}},
		{Veneers: []Veneer{{Thickness: math.Inf(1)}}},
		{Veneers: []Veneer{{Thickness: math.NaN()}}},
		{Veneers: []Veneer{{Thickness: 1e-9}}, GlueLine: 5, Joint: 1e9},
	} {
		r := readerOf(w)
		for _, h := range []float32{0, -5, 1e6, float32(math.NaN()), float32(math.Inf(-1))} {
			r.at(h, 1)
			r.at(h, float32(math.Inf(1)))
			r.at(h, float32(math.NaN()))
		}
	}
}
