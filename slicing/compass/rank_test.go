package compass

import (
	"math"
	"slices"
	"testing"

	"grainstack/slicing/geom"
)

// TestWeights: words change the weights that they name.
func TestWeights(t *testing.T) {
	w, err := UsualWeights().With("layers=3, trapped=0,rings=0.5")
	if err != nil || w[Layers] != 3 || w[Trapped] != 0 || w[Rings] != 0.5 || w[Panels] != UsualWeights()[Panels] {
		t.Errorf("%v, %v", w, err)
	}
	for _, bad := range []string{"", "layers", "layers=-1", "layers=NaN", "layers=Inf", "beauty=1", "layers=1;trapped=2"} {
		if _, err := w.With(bad); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
	seen := map[string]bool{}
	for m := range Measures {
		if seen[m.Key()] || m.Key() == "" || m.Words() == "" {
			t.Errorf("measure %d is called %q, %q", m, m.Key(), m.Words())
		}
		seen[m.Key()] = true
	}
}

// field is a map of five bearings in two measures: the first three stand on the front, the fourth is beaten by the second
// and the fifth is as good as the second but for less than a grain.
func fiveBearings() *Map {
	m := &Map{}
	for i, f := range [][2]float64{{10, 9000}, {12, 4000}, {20, 1000}, {12, 5000}, {12, 4050}} {
		m.Bearings = append(m.Bearings, Bearing{Up: even(5)[i], Layers: int(f[0]), Trapped: f[1]})
	}
	return m
}

func TestUnbeaten(t *testing.T) {
	m := fiveBearings()
	var w Weights
	w[Layers], w[Trapped] = 1, 1
	if got, want := m.Unbeaten(w), []bool{true, true, true, false, true}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if got, want := m.Unbeaten(only(Layers)), []bool{true, false, false, false, false}; !slices.Equal(got, want) {
		t.Errorf("layers alone: got %v, want %v", got, want)
	}
	if got := m.Unbeaten(Weights{}); slices.Contains(got, false) {
		t.Errorf("without weights something is beaten: %v", got)
	}
}

// TestScore: with layers from 10 to 20 and trapped from 1000 to 9000, the second costs (0.2 + 3·0.375)/4.
func TestScore(t *testing.T) {
	m := fiveBearings()
	var w Weights
	w[Layers], w[Trapped] = 1, 3
	got := m.Score(w)
	for i, want := range []float64{3.0 / 4, (0.2 + 3*0.375) / 4, 1.0 / 4, (0.2 + 3*0.5) / 4, (0.2 + 3*0.38125) / 4} {
		near(t, "score", got[i], want, 1e-12)
	}
	if best, ok := m.Best(w); !ok || best != 2 {
		t.Errorf("best is %d", best)
	}
	if best, _ := m.Best(only(Layers)); best != 0 {
		t.Errorf("best by layers is %d", best)
	}
	if _, ok := (&Map{}).Best(w); ok {
		t.Error("an empty map has a best")
	}
	if got := m.Peaks(w, 3, 0.01); !slices.Equal(got, []int{2, 1, 4}) {
		t.Errorf("peaks %v", got)
	}
	if got := m.Peaks(w, 3, math.Pi); !slices.Equal(got, []int{2}) {
		t.Errorf("peaks far apart %v", got)
	}
}

// TestSmallDifferences: 250 mm³ of trapped wood more is half a grain, a tenth of what counts in full.
func TestSmallDifferences(t *testing.T) {
	m := &Map{Bearings: []Bearing{{Trapped: 500}, {Trapped: 750}}}
	got := m.Score(only(Trapped))
	near(t, "best", got[0], 0, 0)
	near(t, "worst", got[1], 0.1, 1e-12)
}

// TestMoreIsBetter: a measure of which more is wanted is turned over.
func TestMoreIsBetter(t *testing.T) {
	m := &Map{Bearings: []Bearing{
		{Up: geom.Vec{Z: 1}, TipDeg: 10, Joints: 1, JointMin: 500}, {Up: geom.Vec{X: 1}, TipDeg: 40, Joints: 0, widest: 900},
	}}
	for _, k := range []Measure{Tip, Joint} {
		if best, _ := m.Best(only(k)); best != 1 {
			t.Errorf("%s: best is %d", k.Words(), best)
		}
		if got := m.Unbeaten(only(k)); got[0] || !got[1] {
			t.Errorf("%s: unbeaten %v", k.Words(), got)
		}
	}
}

// TestWhatFallsOverIsNeverBest while the tilt that it stands counts, unless it falls over on all; without that weight it may be.
func TestWhatFallsOverIsNeverBest(t *testing.T) {
	m := &Map{Bearings: []Bearing{
		{Up: geom.Vec{Z: 1}, Layers: 2}, {Up: geom.Vec{X: 1}, Layers: 9, TipDeg: 12}, {Up: geom.Vec{Y: 1}, Layers: 7, TipDeg: 3}, {Up: geom.Vec{Z: -1}, Layers: 1},
	}}
	var w Weights
	w[Layers], w[Tip] = 1, 0.01
	if best, ok := m.Best(w); !ok || best != 2 {
		t.Errorf("best is %d", best)
	}
	if got := m.Peaks(w, 4, 0); !slices.Equal(got, []int{2, 1}) {
		t.Errorf("offered are %v", got)
	}
	w[Tip] = 0
	if got := m.Peaks(w, 4, 0); !slices.Equal(got, []int{3, 0, 2, 1}) {
		t.Errorf("where nobody minds, offered are %v", got)
	}
	w[Tip] = 1
	m.Bearings[1].TipDeg, m.Bearings[2].TipDeg = 0, 0
	if got := m.Peaks(w, 1, 0); !slices.Equal(got, []int{3}) {
		t.Errorf("where it falls over on all, offered are %v", got)
	}
}
