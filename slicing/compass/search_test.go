package compass

import (
	"context"
	"errors"
	"math"
	"reflect"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
)

// mushroom is a stem with a cap, standing on the stem: 60 mm high, the cap 120 mm across with a flat top.
func mushroom() *mesh.Mesh {
	return solidtest.Join(solidtest.Frustum(12, 12, 45, 90), solidtest.Moved(solidtest.Frustum(60, 50, 20, 90), geom.Vec{Z: 40}))
}

// TestKnownBest: pieces whose best direction is known are found within the spacing, however they lie in their file.
func TestKnownBest(t *testing.T) {
	const count = 60
	z := leant().Apply(geom.Vec{Z: 1})
	along := func(up geom.Vec) float64 { return between(up, z) }
	level := func(up geom.Vec) float64 { return math.Pi/2 - between(up, z) }
	upside := func(up geom.Vec) float64 { return math.Atan2(up.Cross(z).Len(), up.Dot(z)) }
	down := func(up geom.Vec) float64 { return upside(up.Scale(-1)) }
	type wish struct {
		what    string
		weights Weights
		off     func(up geom.Vec) float64
	}
	for _, tt := range []struct {
		name   string
		solid  *mesh.Mesh
		scale  float64
		wishes []wish
	}{
		// Square to the axis a cylinder has 60 mm, along it 200. Stripes ring it where it stands.
		{"cylinder", solidtest.Frustum(30, 30, 200, 60), 1, []wish{
			{"fewest layers", only(Layers), level}, {"rings", only(Rings), along}, {"stripes along", only(Along), level}}},
		// Upside down a mushroom stands on its cap; along its stem it is lowest.
		{"mushroom", mushroom(), 1, []wish{{"steadiest", only(Tip), down}, {"fewest layers", only(Layers), along}}},
		{"cone", solidtest.Frustum(40, 0, 90, 60), 1, []wish{{"steadiest", only(Tip), upside}}},
		// Nothing is trapped in a half-tube that opens up or along its length, and opening up it is the lower. A layer holds most of it.
		{"inclined half-tube", gutter(40, 30, 160), 0.3, []wish{{"trapped and layers", both(Trapped, 3, Layers, 1), along}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := piece(solidtest.Turned(tt.solid, leant()))
			if !p.Solid() {
				t.Fatalf("the test's piece is no solid: %+v", p.Findings)
			}
			s := solid(t).WithLayer(stocktest.Catalogue(t), 15)
			s.Scale = tt.scale
			m := searched(t, p, s, Options{Count: count})
			for _, w := range tt.wishes {
				best, _ := m.Best(w.weights)
				b := &m.Bearings[best]
				off := degrees(w.off(b.Up))
				t.Logf("%s: %.1f degrees off", w.what, off)
				if math.Abs(off) > degrees(Spacing(count)) {
					t.Errorf("%s: the best of %d is %.1f degrees off, the spacing is %.1f: %+v", w.what, len(m.Bearings), off, degrees(Spacing(count)), b)
				}
				if up := b.Turn.Apply(b.Up); up.Sub(geom.Vec{Z: 1}).Len() > 1e-9 {
					t.Errorf("%s: the turn carries the axis to %v", w.what, up)
				}
			}
		})
	}
}

func both(a Measure, wa float64, b Measure, wb float64) (w Weights) {
	w[a], w[b] = wa, wb
	return w
}

// TestTipKnown: a solid cone of radius r and height h falls over at atan(4r/h), a cube on its face at 45 degrees (mechanics;
// the cone's centre of mass lies at a quarter of its height).
func TestTipKnown(t *testing.T) {
	cone := weighed(t, piece(solidtest.Frustum(40, 0, 90, 360)), solid(t), geom.Vec{Z: 1}, true)
	near(t, "cone", cone.TipDeg, degrees(math.Atan(4*40.0/90)), 0.1)
	for _, up := range []geom.Vec{{Z: 1}, {X: 1}, {Y: -1}} {
		near(t, "cube", weighed(t, piece(solidtest.Box(80, 80, 80)), solid(t), up, false).TipDeg, 45, 0.1)
	}
}

// TestTurnedIsReloaded: a bearing of a piece as it lies in its file comes to the same as the present stand of the piece turned
// there and loaded again, and as exact columns of that.
func TestTurnedIsReloaded(t *testing.T) {
	m := solidtest.Stretch(solidtest.Bumpy(100, 12_000), 1, 0.7, 0.8)
	m = solidtest.Join(m, solidtest.Moved(solidtest.Turned(solidtest.Torus(40, 12, 60, 30), leant()), geom.Vec{X: 210}))
	s := solid(t).WithLayer(stocktest.Catalogue(t), 16)
	p := piece(m)
	for _, up := range even(5) {
		b := weighed(t, p, s, up, false)
		again := weighed(t, piece(solidtest.Turned(m, b.Turn)), s, geom.Vec{Z: 1}, true)
		near(t, "layers", float64(b.Layers), float64(again.Layers), 0)
		near(t, "trapped", b.Trapped, again.Trapped, 0.01*again.Trapped+20)
		near(t, "minutes", b.RouterMin, again.RouterMin, 0.002*again.RouterMin)
		near(t, "tip", b.TipDeg, again.TipDeg, 0.05)
		near(t, "stripes", b.StripeShare, again.StripeShare, 0.01)
		near(t, "rings", b.RingShare, again.RingShare, 0.05)
		if again.Trapped == 0 {
			t.Error("nothing is trapped: the test compares nothing")
		}
	}
}

// weighed is one bearing alone.
func weighed(t *testing.T, p *job.Piece, s job.Settings, up geom.Vec, present bool) Bearing {
	t.Helper()
	k, err := newScale(p, s, stocktest.Catalogue(t))
	if err != nil {
		t.Fatal(err)
	}
	if k.look, err = newLook(context.Background(), p, nil); err != nil {
		t.Fatal(err)
	}
	in, err := carefully(context.Background(), p, s.Wall/s.Scale)
	if err != nil {
		t.Fatal(err)
	}
	b, err := k.weigh(context.Background(), in, up, present)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestThinnedRanks: on the full surface the best ten come in much the same order: Spearman's rank correlation (The American
// Journal of Psychology 15(1), 1904) is at least 0.9.
func TestThinnedRanks(t *testing.T) {
	ctx := context.Background()
	s, c := solid(t), stocktest.Catalogue(t)
	s.Wall = 20
	m := solidtest.Bumpy(100, 25_000)
	p := piece(solidtest.Stretch(m, 1, 0.75, 0.62))
	thin := searched(t, p, s, Options{Count: 36})
	if thin.Moved <= 0 || thin.Moved > thinShare*410 {
		t.Errorf("the thinned surface is said to be %.2f mm off", thin.Moved)
	}
	k, err := newScale(p, s, c)
	if err != nil {
		t.Fatal(err)
	}
	if k.look, err = newLook(ctx, p, nil); err != nil {
		t.Fatal(err)
	}
	full, err := newStandIn(ctx, &standIn{piece: p}, s.Wall/s.Scale, fieldCells)
	if err != nil {
		t.Fatal(err)
	}
	w := UsualWeights()
	ten := thin.Peaks(w, 10, 0)
	exact := &Map{Bearings: slices.Clone(thin.Bearings)}
	for _, i := range ten {
		if exact.Bearings[i], err = k.weigh(ctx, full, thin.Bearings[i].Up, i == 0); err != nil {
			t.Fatal(err)
		}
	}
	a, b := thin.Score(w), exact.Score(w)
	var x, y []float64
	for _, i := range ten {
		x, y = append(x, a[i]), append(y, b[i])
		t.Logf("%.4f thinned, %.4f full", a[i], b[i])
	}
	if rho := stat.Correlation(ranks(x), ranks(y), nil); !(rho >= 0.9) {
		t.Errorf("the rank correlation of the best ten is %.3f, want 0.9", rho)
	} else {
		t.Logf("rank correlation %.3f, surface %.2f mm off", rho, thin.Moved)
	}
}

// ranks are the places of values in their order; like values share the mean place.
func ranks(v []float64) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		for k := range v {
			if v[k] < v[i] {
				out[i]++
			} else if v[k] == v[i] && k != i {
				out[i] += 0.5
			}
		}
	}
	return out
}

// TestAsItComes: the map grows, its answers are rough first and none at the end, and are the same on one core.
func TestAsItComes(t *testing.T) {
	p := piece(solidtest.Stretch(solidtest.Bumpy(80, 22_000), 1, 0.8, 0.7))
	s := solid(t)
	last, states, done := 0, 0, 0.0
	m, err := Search(context.Background(), p, s, stocktest.Catalogue(t), Options{Count: 12}, func(m *Map, share float64) {
		states++
		if len(m.Bearings) < last || share < done-1e-9 && !m.Rough {
			t.Errorf("state %d: %d bearings after %d, share %.2f after %.2f", states, len(m.Bearings), last, share, done)
		}
		last, done = len(m.Bearings), share
	})
	if err != nil {
		t.Fatal(err)
	}
	if m.Rough || last != len(m.Bearings) || done != 1 && done < 0.6 || states < last {
		t.Errorf("%d states to %d bearings, share %.2f, rough %v", states, len(m.Bearings), done, m.Rough)
	}
	if !m.Bearings[0].Now || m.Bearings[0].Turn != s.Turn || m.Bearings[0].Up != (geom.Vec{Z: 1}) {
		t.Errorf("the first is not the present stand: %+v", m.Bearings[0])
	}
	if len(m.Bearings) <= 12+4 {
		t.Errorf("%d bearings: nothing was looked at more closely", len(m.Bearings))
	}
	one := searched(t, p, s, Options{Count: 12, Cores: 1})
	if !reflect.DeepEqual(m, one) {
		t.Error("one core finds another map")
	}
}

func TestCalledOff(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	p := piece(solidtest.Bumpy(80, 22_000))
	m, err := Search(ctx, p, solid(t), stocktest.Catalogue(t), Options{Count: 200}, func(m *Map, _ float64) {
		if len(m.Bearings) == 5 {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) || m != nil {
		t.Errorf("called off: %v, %v", m, err)
	}
}

func TestRefused(t *testing.T) {
	c := stocktest.Catalogue(t)
	open := solidtest.Sphere(50, 1000)
	open = &mesh.Mesh{Points: open.Points, Triangles: open.Triangles[1:]}
	if _, err := Search(context.Background(), piece(open), solid(t), c, Options{}, nil); err == nil {
		t.Error("an open surface is taken")
	}
	ball := piece(solidtest.Sphere(50, 1000))
	far := solid(t)
	far.Scale = 1e6
	if _, err := Search(context.Background(), ball, far, c, Options{}, nil); err == nil {
		t.Error("a piece of a hundred kilometres is taken")
	}
}

// TestAgainstTheReport: the present stand's figures are those that the settled way gives for the same settings: layers and
// weight alike, trapped wood as far as the columns tell.
func TestAgainstTheReport(t *testing.T) {
	p := piece(solidtest.Turned(solidtest.Torus(60, 20, 90, 45), leant()))
	s := solid(t).WithLayer(stocktest.Catalogue(t), 16)
	b := weighed(t, p, s, geom.Vec{Z: 1}, true)
	placed, err := stack.Place(context.Background(), p.Mesh, s.Stand())
	if err != nil {
		t.Fatal(err)
	}
	want := math.Ceil(placed.Box.Size().Z / 16)
	near(t, "layers", float64(b.Layers), want, 0)
	board, _ := s.BoardIn(stocktest.Catalogue(t))
	wood := p.Mesh.Volume() * board.Density * 1e-9
	if b.WeightKg < wood || b.WeightKg > wood*1.1 {
		t.Errorf("%.3f kg with glue, the wood alone is %.3f", b.WeightKg, wood)
	}
}

// TestThinWall: whatever wall the figures of a stand tell is told for every direction, and a thinner one is refused alike.
func TestThinWall(t *testing.T) {
	ctx, c := context.Background(), stocktest.Catalogue(t)
	p := piece(solidtest.Frustum(60, 50, 400, 60))
	grid, err := p.Hollow(ctx, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, wall := range []float64{6.3, 2.01, 1.9} {
		s := solid(t)
		s.Wall = wall
		st, err := job.Stand(ctx, p, s.Stand())
		if err != nil {
			t.Fatal(err)
		}
		if st, err = st.WithField(ctx, grid); err != nil {
			t.Fatal(err)
		}
		f, err := job.Instant(ctx, st, s, c)
		if err != nil {
			t.Fatal(err)
		}
		said := ""
		if _, err := Search(ctx, p, s, c, Options{Count: 2}, nil); err != nil {
			said = err.Error()
		}
		if said != f.Withheld.String() || (said == "") != (wall > 2) {
			t.Errorf("a wall of %g mm: the stand is told %q, directions %q", wall, f.Withheld, said)
		}
	}
}
