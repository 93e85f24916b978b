package panel

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/peterstace/simplefeatures/geom"

	own "grainstack/slicing/geom"
)

// usual is a common panel, a 6.35 mm cutter with 2 mm clearance, clamps at two corners and dowels on the centre line.
func usual() Rules {
	return Rules{PanelX: 600, PanelY: 600, Margin: 8.35, Edge: 10, Seed: 1}
}

func held() Rules {
	r := usual()
	r.Clamps = []own.Box2{{Max: own.Vec2{X: 60, Y: 30}}, {Min: own.Vec2{X: 540, Y: 570}, Max: own.Vec2{X: 600, Y: 600}}}
	r.Dowels = []Dowel{{own.Vec2{X: 20, Y: 300}, 8}, {own.Vec2{X: 572, Y: 300}, 8}}
	return r
}

func newBench(t testing.TB, parts []Part, r Rules) *Bench {
	t.Helper()
	b, err := NewBench(context.Background(), parts, r)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func arrange(t testing.TB, parts []Part, r Rules, steps int) Layout {
	t.Helper()
	l, err := newBench(t, parts, r).Arrange(context.Background(), steps)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// foreign is a region for the independent library: the outline first, its holes after it.
func foreign(g own.Region) geom.Geometry {
	var rings []geom.LineString
	for _, r := range g {
		var xy []float64
		for i := range len(r) + 1 {
			xy = append(xy, r[i%len(r)].X, r[i%len(r)].Y)
		}
		rings = append(rings, geom.NewLineString(geom.NewSequence(xy, geom.DimXY)))
	}
	return geom.NewPolygon(rings).AsGeometry()
}

// verify measures a layout with the independent library: every part once, in its grain's turn, inside, and nowhere nearer
// to anything than allowed.
func verify(t testing.TB, l Layout, parts []Part, r Rules) {
	t.Helper()
	const tolerance = 1e-5
	left := map[ID]Part{}
	for _, p := range parts {
		left[p.ID] = p
	}
	for _, m := range l.TooLarge {
		delete(left, m.Part)
	}
	for _, panel := range l.Panels {
		var laid []geom.Geometry
		area := 0.0
		for _, q := range panel.Placed {
			p, ok := left[q.Part]
			if !ok {
				t.Fatalf("%v is laid twice or unknown", q.Part)
			}
			delete(left, q.Part)
			if p.Turned != (q.TurnDeg%180 == 90) {
				t.Errorf("%v is turned by %d", q.Part, q.TurnDeg)
			}
			g := make(own.Region, len(p.Shadow))
			sin, cos := math.Sincos(float64(q.TurnDeg) * math.Pi / 180)
			for i, ring := range p.Shadow {
				for _, v := range ring {
					g[i] = append(g[i], own.Vec2{X: cos*v.X - sin*v.Y + q.At.X, Y: sin*v.X + cos*v.Y + q.At.Y})
				}
			}
			box := g.Box()
			if edge := min(box.Min.X, box.Min.Y, r.PanelX-box.Max.X, r.PanelY-box.Max.Y); edge < r.Edge-tolerance {
				t.Errorf("%v is %g mm from the edge", q.Part, edge)
			}
			laid = append(laid, foreign(g))
			area += g.Area()
		}
		if got, want := panel.UsedPercent, 100*area/(r.PanelX*r.PanelY); math.Abs(got-want) > 1e-6 {
			t.Errorf("panel %d: used %g %%, want %g", panel.Number, got, want)
		}
		for i, a := range laid {
			for _, b := range laid[:i] {
				if d, ok := geom.Distance(a, b); !ok || d < r.Margin-tolerance {
					t.Errorf("panel %d: parts %g mm apart", panel.Number, d)
				}
			}
			for _, c := range r.Clamps {
				if d, _ := geom.Distance(a, foreign(boxOutline(c).region)); d < r.Margin-tolerance {
					t.Errorf("panel %d: %g mm from a clamp", panel.Number, d)
				}
			}
			for _, c := range r.Dowels {
				at := geom.XY{X: c.At.X, Y: c.At.Y}.AsPoint().AsGeometry()
				if d, _ := geom.Distance(a, at); d-c.Diameter/2 < r.Margin-tolerance {
					t.Errorf("panel %d: %g mm from a dowel", panel.Number, d-c.Diameter/2)
				}
			}
		}
	}
	for id := range left {
		t.Errorf("%v is nowhere", id)
	}
}

func TestArrangeKeepsDistances(t *testing.T) {
	for seed := range uint64(4) {
		parts := statue(seed, 8, 120)
		for _, r := range []Rules{usual(), held()} {
			r.Seed = seed
			for _, steps := range []int{0, 300} {
				verify(t, arrange(t, parts, r, steps), parts, r)
			}
		}
	}
}

func TestArrangeIsRepeatable(t *testing.T) {
	parts := statue(3, 10, 200)
	first := arrange(t, parts, held(), 600)
	if again := arrange(t, parts, held(), 600); !reflect.DeepEqual(first, again) {
		t.Error("the same seed and steps gave another layout")
	}
	t.Setenv("GOMAXPROCS", "1")
	other := held()
	other.Seed = 99
	if reflect.DeepEqual(first, arrange(t, parts, other, 600)) {
		t.Error("another seed gave the same layout: the seed is not used")
	}
}

// More steps never make the layout worse.
func TestMoreStepsAreNoWorse(t *testing.T) {
	parts := statue(5, 12, 200)
	for i := range parts {
		parts[i].Shadow = parts[i].Shadow[:1] // solid: several panels
	}
	first := len(arrange(t, parts, held(), 0).Panels)
	good := len(arrange(t, parts, held(), 2000).Panels)
	t.Logf("%d panels at first, %d after the search", first, good)
	if good > first {
		t.Errorf("%d panels after the search, %d before", good, first)
	}
}

// Rectangles that fill a panel to the last cell: the optimum is known.
func TestRectanglesThatExactlyFill(t *testing.T) {
	const margin = 8.0
	for _, tt := range []struct {
		name        string
		cols, rows  int
		x, y        float64
		panels, add int
	}{
		{"four halves of halves", 2, 2, 280, 280, 1, 0},
		{"nine", 3, 3, 180, 180, 1, 0},
		{"long ones", 2, 6, 280, 84, 1, 0},
		{"two panels", 3, 3, 180, 180, 2, 9},
		{"one too many", 3, 3, 180, 180, 2, 1},
	} {
		r := Rules{PanelX: float64(tt.cols)*(tt.x+margin) - margin, PanelY: float64(tt.rows)*(tt.y+margin) - margin, Margin: margin, Seed: 1}
		var parts []Part
		for i := range tt.cols*tt.rows + tt.add {
			parts = append(parts, Part{ID: ID{1, i}, Shadow: rect(tt.x, tt.y)})
		}
		l := arrange(t, parts, r, 200)
		verify(t, l, parts, r)
		if len(l.Panels) != tt.panels {
			t.Errorf("%s: %d panels, want %d", tt.name, len(l.Panels), tt.panels)
		}
	}
}

// A rectangle cut into unequal ones that fill it again with a saw's width between them: first fit, largest first, does not
// find it, the search has to.
func TestCutRectangleFillsAgain(t *testing.T) {
	solved := 0
	const cases = 10
	for seed := range uint64(cases) {
		rnd := rand.New(rand.NewPCG(seed, 7))
		var boxes []own.Vec2
		var cut func(x, y float64, n int)
		cut = func(x, y float64, n int) {
			if n == 1 {
				boxes = append(boxes, own.Vec2{X: x, Y: y})
				return
			}
			f := 0.3 + 0.4*rnd.Float64()
			if x > y {
				w := 2 * math.Round((x-8)*f/2)
				cut(w, y, n/2)
				cut(x-8-w, y, n-n/2)
				return
			}
			w := 2 * math.Round((y-8)*f/2)
			cut(x, w, n/2)
			cut(x, y-8-w, n-n/2)
		}
		cut(600, 600, 6)
		var parts []Part
		for i, b := range boxes {
			parts = append(parts, Part{ID: ID{1, i}, Shadow: rect(b.X, b.Y)})
		}
		r := Rules{PanelX: 600, PanelY: 600, Margin: 8, Seed: seed}
		l := arrange(t, parts, r, 1500)
		verify(t, l, parts, r)
		if len(l.Panels) == 1 {
			solved++
		}
	}
	t.Logf("%d of %d put together again", solved, cases)
	if solved < cases-1 {
		t.Errorf("only %d of %d put together again", solved, cases)
	}
}

// Hexagons in a honeycomb, the densest there is. The raster loses up to 4.1 mm a row, which the panel has to spare.
func TestHexagonsInAHoneycomb(t *testing.T) {
	const flat, margin = 112.0, 8.0 // across flats
	var hexagon own.Ring
	for k := range 6 {
		sin, cos := math.Sincos(math.Pi/6 + float64(k)*math.Pi/3)
		hexagon = append(hexagon, own.Vec2{X: cos, Y: sin}.Scale(flat/math.Sqrt(3)))
	}
	pitch := flat + margin
	r := Rules{PanelX: 4.5*pitch - margin + 2, PanelY: 2*flat/math.Sqrt(3) + 3*pitch*math.Sqrt(3)/2 + 3*4.5, Margin: margin, Seed: 2}
	var parts []Part
	for i := range 16 {
		parts = append(parts, Part{ID: ID{1, i}, Shadow: own.Region{hexagon}})
	}
	l := arrange(t, parts, r, 500)
	verify(t, l, parts, r)
	if len(l.Panels) != 1 {
		t.Errorf("%d panels, want 1: a honeycomb of four rows of four", len(l.Panels))
	}
}

// Rings that just take one another with the cutter between them lie inside one another.
func TestPartsInHollows(t *testing.T) {
	const margin = 8
	var parts []Part
	side := 500.0
	for i := range 6 {
		outer := rect(side, side)[0]
		inner := backwards(rect(side-40, side-40)[0])
		for k := range inner {
			inner[k] = inner[k].Add(own.Vec2{X: 20, Y: 20})
		}
		parts = append(parts, Part{ID: ID{i + 1, 0}, Shadow: own.Region{outer, inner}, Turned: i%2 == 1})
		side -= 40 + 2*margin
	}
	r := Rules{PanelX: 500, PanelY: 500, Margin: margin, Seed: 1}
	l := arrange(t, parts, r, 0)
	verify(t, l, parts, r)
	if len(l.Panels) != 1 {
		t.Errorf("%d panels, want 1: each ring fits the one before", len(l.Panels))
	}
	r.Margin = margin + 1
	l = arrange(t, parts, r, 300)
	verify(t, l, parts, r)
	if len(l.Panels) < 2 {
		t.Error("the rings lie inside one another although the cutter is too thick")
	}
}

// Where the parts come from is of no account: moved, or turned together with panel and grain by half a turn.
func TestArrangeForgetsWherePartsStood(t *testing.T) {
	parts := statue(2, 8, 100)
	want := arrange(t, parts, usual(), 200)
	shifted := make([]Part, len(parts))
	for i, p := range parts {
		shifted[i] = Part{p.ID, turnRegion(p.Shadow, 0), p.Turned}
		for _, ring := range shifted[i].Shadow {
			for k := range ring {
				ring[k] = ring[k].Add(own.Vec2{X: 256, Y: -128})
			}
		}
	}
	got := arrange(t, shifted, usual(), 200)
	if len(got.Panels) != len(want.Panels) {
		t.Errorf("%d panels, moved %d", len(want.Panels), len(got.Panels))
	}
	verify(t, got, shifted, usual())
}

func TestTooLarge(t *testing.T) {
	parts := []Part{
		{ID: ID{1, 0}, Shadow: rect(300, 100)},
		{ID: ID{2, 0}, Shadow: rect(650, 100)},
		{ID: ID{3, 0}, Shadow: rect(100, 590), Turned: true},
		{ID: ID{4, 0}, Shadow: rect(575, 575)},
	}
	l := arrange(t, parts, held(), 50)
	verify(t, l, parts, held())
	got := map[ID]string{}
	for _, m := range l.TooLarge {
		got[m.Part] = m.Reason
	}
	for id, words := range map[ID][]string{
		{2, 0}: {"layer 2", "650 × 100", "580 × 580", "larger panel", "stand", "89 %", "joint line"},
		{3, 0}: {"layer 3", "joint line"},
		{4, 0}: {"layer 4", "clamps and register dowels"},
	} {
		for _, w := range words {
			if !strings.Contains(got[id], w) {
				t.Errorf("%v: %q does not say %q", id, got[id], w)
			}
		}
	}
	if len(got) != 3 {
		t.Errorf("%d parts too large, want 3: %v", len(got), got)
	}
}

// A part that fits a panel exactly lies on it although no cell boundary does.
func TestPartBetweenCells(t *testing.T) {
	r := Rules{PanelX: 333.3, PanelY: 211.1, Margin: 7.7, Edge: 3.3, Seed: 1, Dowels: []Dowel{{own.Vec2{X: 3, Y: 3}, 6}}}
	notched := own.Region{{{X: 10.4, Y: 0}, {X: 326.7, Y: 0}, {X: 326.7, Y: 204.5}, {X: 0, Y: 204.5}, {X: 0, Y: 10.4}, {X: 10.4, Y: 10.4}}}
	parts := []Part{{ID: ID{1, 0}, Shadow: notched}}
	l := arrange(t, parts, r, 10)
	verify(t, l, parts, r)
	if len(l.Panels) != 1 {
		t.Errorf("laid on %d panels: %v", len(l.Panels), l.TooLarge)
	}
}

func TestLockedPartsStay(t *testing.T) {
	parts := statue(4, 10, 150)
	b := newBench(t, parts, held())
	l, err := b.Arrange(context.Background(), 100)
	if err != nil {
		t.Fatal(err)
	}
	var want []Placed
	for i := range l.Panels {
		l.Panels[i].Number += i // leave a number out
		q := &l.Panels[i].Placed[0]
		q.Locked = true
		if nudged := (Placed{q.Part, q.At.Add(own.Vec2{X: 0.37, Y: 0.21}), q.TurnDeg, true}); i == 0 {
			if ok, _ := b.Fits(l, l.Panels[i].Number, nudged); ok {
				*q = nudged
			}
		}
		want = append(want, *q)
	}
	again, err := b.Rearrange(context.Background(), l, 300)
	if err != nil {
		t.Fatal(err)
	}
	verify(t, again, parts, held())
	for i, q := range want {
		number, got, ok := again.Find(q.Part)
		if !ok || got != q || number != l.Panels[i].Number {
			t.Errorf("%v was locked at %v on panel %d, is at %v on panel %d", q.Part, q, l.Panels[i].Number, got, number)
		}
	}
	clash := Layout{Panels: []Panel{{Number: 1, Placed: []Placed{want[0], want[0]}}}}
	clash.Panels[0].Placed[1].Part = parts[2].ID
	clash.Panels[0].Placed[1].TurnDeg = parts[2].turns()[0]
	if _, err := b.Rearrange(context.Background(), clash, 10); err == nil {
		t.Error("locked parts on one another are taken")
	}
}

func TestBadInput(t *testing.T) {
	ctx := context.Background()
	good := Part{ID: ID{1, 0}, Shadow: rect(10, 10)}
	for name, parts := range map[string][]Part{
		"twice":     {good, good},
		"nowhere":   {{ID: ID{1, 0}, Shadow: own.Region{{{X: math.NaN()}, {X: 1}, {X: 1, Y: 1}}}}},
		"clockwise": {{ID: ID{1, 0}, Shadow: own.Region{backwards(rect(10, 10)[0])}}},
		"empty":     {{ID: ID{1, 0}}},
	} {
		if _, err := NewBench(ctx, parts, usual()); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
	for name, change := range map[string]func(*Rules){
		"NaN":      func(r *Rules) { r.PanelX = math.NaN() },
		"infinite": func(r *Rules) { r.PanelY = math.Inf(1) },
		"negative": func(r *Rules) { r.Edge = -1 },
		"no room":  func(r *Rules) { r.Margin = 0 },
		"dowel":    func(r *Rules) { r.Dowels = []Dowel{{own.Vec2{X: math.NaN()}, 3}} },
		"clamp":    func(r *Rules) { r.Clamps = []own.Box2{own.EmptyBox2()} },
	} {
		r := usual()
		change(&r)
		if _, err := NewBench(ctx, []Part{good}, r); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
	r := usual()
	r.Edge = 400
	if l := arrange(t, []Part{good}, r, 10); len(l.TooLarge) != 1 {
		t.Errorf("a panel that is all edge holds %v", l)
	}
	if l := arrange(t, nil, usual(), 10); len(l.Panels) != 0 {
		t.Errorf("no parts, %d panels", len(l.Panels))
	}
	if ok, _ := newBench(t, []Part{good}, usual()).Fits(Layout{}, 1, Placed{Part: good.ID, At: own.Vec2{X: math.NaN()}}); ok {
		t.Error("a part fits nowhere")
	}
}

func TestCancel(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	b := newBench(t, statue(1, 10, 100), usual())
	stop()
	if _, err := b.Arrange(ctx, 10); err == nil {
		t.Error("a cancelled layout is no error")
	}
	ctx, stop = context.WithTimeout(context.Background(), 300*time.Millisecond)
	defer stop()
	start := time.Now()
	l, err := b.Arrange(ctx, 1<<30)
	if err != nil || len(l.Panels) == 0 {
		t.Errorf("out of time: %v, %d panels", err, len(l.Panels))
	}
	if took := time.Since(start); took > 2*time.Second {
		t.Errorf("stopped after %v", took)
	}
	verify(t, l, statue(1, 10, 100), usual())
}

func ExampleBench_Arrange() {
	parts := []Part{
		{ID: ID{Layer: 1}, Shadow: rect(400, 250)},
		{ID: ID{Layer: 2}, Shadow: rect(250, 400), Turned: true},
		{ID: ID{Layer: 3}, Shadow: rect(400, 250)},
	}
	b, _ := NewBench(context.Background(), parts, Rules{PanelX: 600, PanelY: 600, Margin: 8.35, Edge: 10, Seed: 1})
	l, _ := b.Arrange(context.Background(), 100)
	for _, p := range l.Panels {
		fmt.Printf("panel %d: %d parts, %.0f %% used\n", p.Number, len(p.Placed), p.UsedPercent)
	}
	// Output:
	// panel 1: 2 parts, 56 % used
	// panel 2: 1 parts, 28 % used
}

// The four shapes of the open instance "shapes1" (ESICUP, after Oliveira, Gomes & Ferreira, 2000: 43 parts of area 1596 in
// a strip 40 high, turned by 0 or 180), a unit as a centimetre and a hair of margin. The best density in the literature is
// 76.7 % (Elkeran, 2013, from memory), without margin and after minutes of search.
func TestOpenInstance(t *testing.T) {
	shapes := []struct {
		demand int
		ring   []float64
	}{
		{15, []float64{0, 0, 2, 0, 2, 3, 12, 3, 12, 0, 14, 0, 14, 5, 0, 5}},
		{7, []float64{0, 0, 6, -6, 12, 0, 6, 6}},
		{9, []float64{0, 0, 6, 0, 6, -2, 7, -2, 11, 2, 11, 4, 8, 4, 8, 1, 2, 1, 2, 4, 0, 4}},
		{12, []float64{0, 0, 2, 0, 2, -2, 4, -2, 4, 0, 6, 0, 6, 2, 4, 2, 4, 4, 2, 4, 2, 2, 0, 2}},
	}
	var parts []Part
	area := 0.0
	for i, s := range shapes {
		var ring own.Ring
		for k := 0; k < len(s.ring); k += 2 {
			ring = append(ring, own.Vec2{X: 10 * s.ring[k], Y: 10 * s.ring[k+1]})
		}
		if ring.Area() < 0 {
			ring = backwards(ring)
		}
		for n := range s.demand {
			parts = append(parts, Part{ID: ID{i + 1, n}, Shadow: own.Region{ring}})
			area += ring.Area() / 100
		}
	}
	if area != 1596 || len(parts) != 43 {
		t.Fatalf("area %g of %d parts: the instance is not as published", area, len(parts))
	}
	best := 0
	for _, percent := range []int{56, 60, 64} {
		r := Rules{PanelX: 159600 / 400 * 100 / float64(percent), PanelY: 400.2, Margin: 0.1, Seed: 1}
		l := arrange(t, parts, r, 3000)
		verify(t, l, parts, r)
		if len(l.Panels) == 1 {
			best = percent
		}
	}
	t.Logf("fits at %d %% density", best)
	if best < 60 {
		t.Errorf("fits at %d %% density, wants 60 %%", best)
	}
}
