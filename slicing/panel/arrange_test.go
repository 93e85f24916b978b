package panel

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"runtime"
	"strings"
	"testing"
	"time"

	"grainstack/slicing/finding"
	own "grainstack/slicing/geom"
	"grainstack/slicing/stoptest"
)

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
	cores := runtime.GOMAXPROCS(1)
	alone := arrange(t, parts, held(), 600)
	runtime.GOMAXPROCS(cores)
	if !reflect.DeepEqual(first, alone) {
		t.Error("one core gave another layout")
	}
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

// Where the parts come from is of no account: moved, or turned together with panel and grain by half a turn.
func TestArrangeForgetsWherePartsStood(t *testing.T) {
	parts := statue(2, 8, 100)
	want := arrange(t, parts, usual(), 200)
	shifted := make([]Part, len(parts))
	for i, p := range parts {
		shifted[i] = Part{p.ID, turnRegion(p.Shadow, 0), p.Turned, p.Board}
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
		got[m.Part] = finding.Words{}.Sentence(m.Tell())
	}
	for id, words := range map[ID][]string{
		{2, 0}: {"ayer 2", "650 × 100", "580 × 580", "larger panel", "stand", "89 %", "joint line"},
		{3, 0}: {"ayer 3", "joint line"},
		{4, 0}: {"ayer 4", "clamps and register dowels"},
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
	l, err := b.Rearrange(context.Background(), Layout{}, 100, nil)
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
	again, err := b.Rearrange(context.Background(), l, 300, nil)
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
	if _, err := b.Rearrange(context.Background(), clash, 10, nil); err == nil {
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
		"too wide": func(r *Rules) { r.Margin = 601 },
		"clamp":    func(r *Rules) { r.Clamps = []ClampSpot{{Box2: own.EmptyBox2(), Number: 1}} },
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
	if _, err := b.Rearrange(ctx, Layout{}, 10, nil); err == nil {
		t.Error("a cancelled layout is no error")
	}
	ctx, stop = context.WithTimeout(context.Background(), 300*time.Millisecond)
	defer stop()
	begun := stoptest.CPU()
	l, err := b.Rearrange(ctx, Layout{}, 1<<30, nil)
	if err != nil || len(l.Panels) == 0 {
		t.Errorf("out of time: %v, %d panels", err, len(l.Panels))
	}
	if took := stoptest.CPU() - begun; took > 2*time.Second {
		t.Errorf("with 300 ms to search in, it took %v of processor time", took)
	}
	verify(t, l, statue(1, 10, 100), usual())
}

func ExampleBench_Rearrange() {
	parts := []Part{
		{ID: ID{Layer: 1}, Shadow: rect(400, 250)},
		{ID: ID{Layer: 2}, Shadow: rect(250, 400), Turned: true},
		{ID: ID{Layer: 3}, Shadow: rect(400, 250)},
	}
	b, _ := NewBench(context.Background(), parts, Rules{PanelX: 600, PanelY: 600, Margin: 8.35, Edge: 10, Seed: 1})
	l, _ := b.Rearrange(context.Background(), Layout{}, 100, nil)
	for _, p := range l.Panels {
		fmt.Printf("panel %d: %d parts, %.0f %% used\n", p.Number, len(p.Placed), p.UsedPercent)
	}
	// Output:
	// panel 1: 2 parts, 56 % used
	// panel 2: 1 parts, 28 % used
}
