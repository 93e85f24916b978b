package edit

import (
	"context"
	"strings"
	"sync"
	"testing"

	"grainstack/assets"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stock"
	"grainstack/slicing/workshop"
)

// shop is the workshop of a small frustum, laid out once for all tests.
var shop = sync.OnceValues(func() (*workshop.Workshop, error) {
	c, err := stock.Load(assets.FS, "stock.json")
	if err != nil {
		return nil, err
	}
	ctx, s := context.Background(), job.Default(c)
	st, err := job.Stand(ctx, job.NewPiece("frustum", solidtest.Frustum(60, 30, 64, 90), mesh.Raw{}), s.Stand())
	if err != nil {
		return nil, err
	}
	f, err := job.Settle(ctx, st, s, c)
	if err != nil {
		return nil, err
	}
	return workshop.New(ctx, st, f, job.Places{}, c, workshop.Watch{})
})

func laid(t *testing.T) *workshop.Workshop {
	t.Helper()
	v, err := shop()
	if err != nil {
		t.Fatal(err)
	}
	if on := PlacedOn(v, 1); len(on) < 2 {
		t.Fatalf("%d parts lie on the first panel", len(on))
	}
	return v
}

// TestWhatLiesUnderTheHand: each part by its number, each tab and each pin by its place, and nothing beside the panel.
func TestWhatLiesUnderTheHand(t *testing.T) {
	v := laid(t)
	const perMM = 4
	tabs, pins := 0, 0
	for _, q := range PlacedOn(v, 1) {
		of, _ := v.Part(q.Part)
		if h, ok := Under(v, 1, q.Apply(middle(of)), perMM); !ok || h.Part != q.Part || h.Place() != h.At.At && h.What == Part {
			t.Errorf("in the middle of %v lies %+v", q.Part, h)
		}
		for i, tab := range of.Tabs {
			h, ok := Under(v, 1, q.Apply(tab.At.Add(tab.Out.Scale(v.Margin/2))), perMM)
			if !ok || h.What != Tab || h.Part != q.Part || h.Item != i {
				t.Errorf("on tab %d of %v lies %+v", i, q.Part, h)
			}
			tabs++
		}
		for i, j := range v.Joints {
			for k, pin := range j.Pins {
				if j.Above != of.Layer || !of.Shadow.Contains(pin.At) || pin.At.Sub(middle(of)).Len()*perMM < discOf {
					continue
				}
				if h, ok := Under(v, 1, q.Apply(pin.At), perMM); !ok || h.What != Pin || h.Joint != i || h.Item != k {
					t.Errorf("on pin %d of joint %d lies %+v", k, i, h)
				}
				pins++
			}
		}
	}
	if tabs == 0 || pins == 0 {
		t.Errorf("%d tabs and %d pins were tried", tabs, pins)
	}
	if h, ok := Under(v, 1, geom.Vec2{X: -50, Y: -50}, perMM); ok {
		t.Errorf("beside the panel lies %+v", h)
	}
}

func middle(p *workshop.Part) geom.Vec2 {
	b := p.Shadow.Box()
	return b.Min.Add(b.Max).Scale(0.5)
}

// TestAPartOntoAnotherGoesBack, or to where it was last free; a free place is kept.
func TestAPartOntoAnotherGoesBack(t *testing.T) {
	v := laid(t)
	on := PlacedOn(v, 1)
	mine, _ := v.Part(on[0].Part)
	other, _ := v.Part(on[1].Part)
	from, _ := Laid(v, on[0].Part)
	grip := from.Place().Add(geom.Vec2{X: 7, Y: 3})
	h := Take(v, from, grip)
	if c, ok := h.Put(); ok {
		t.Errorf("put where it was, it is %+v", c)
	}
	h.Carry(grip.Add(on[1].Apply(middle(other)).Sub(on[0].Apply(middle(mine)))))
	c, ok := h.Put()
	if ok || c.Hits == 0 || !strings.HasSuffix(c.Words.String(), backAgain) || !strings.Contains(c.Words.String(), on[1].Part.String()) {
		t.Errorf("put onto another: %v, %q, %d hits", ok, c.Words, c.Hits)
	}
	free, found := from, false
	for x := 0.0; x < v.For.PanelX && !found; x += 10 {
		for y := 0.0; y < v.For.PanelY && !found; y += 10 {
			free = from.To(geom.Vec2{X: x, Y: y})
			fits, _ := v.Fits(1, free.At)
			found = fits && free != from
		}
	}
	if !found {
		t.Fatal("there is no free place")
	}
	if held := (Held{OK: true}); h.Saw(free, held) || h.Good != free {
		t.Error("the last free place is not kept, or passes for that of the hand")
	}
	if c, ok = h.Put(); !ok || c.Hold != free || !strings.HasSuffix(c.Words.String(), lastFree) {
		t.Errorf("put onto another after a free place: %v at %v, %q", ok, c.Hold.At, c.Words)
	}
	h.Hold = free
	c, ok = h.Put()
	if !ok || c.Hits > 0 || len(c.Places.Parts) != len(v.Parts) {
		t.Fatalf("put at a free place: %v, %+v", ok, c)
	}
	for _, p := range c.Places.Parts {
		if p.Part == from.Part && p.Placed != free.At {
			t.Errorf("it is kept at %v, want %v", p.Placed, free.At)
		}
	}
}

// TestTurnedTwiceItLiesAsBefore: half a turn about the middle moves no middle, and two make none.
func TestTurnedTwiceItLiesAsBefore(t *testing.T) {
	v := laid(t)
	from, _ := Laid(v, v.Parts[0].ID)
	h := TakeByKey(v, from)
	at := from.At.Apply(middle(&v.Parts[0]))
	h.Turn()
	if h.At.TurnDeg == from.At.TurnDeg || h.At.Apply(middle(&v.Parts[0])).Sub(at).Len() > 1e-9 {
		t.Errorf("turned it lies at %v, before at %v", h.At, from.At)
	}
	h.Turn()
	if h.At.TurnDeg != from.At.TurnDeg || h.At.At.Sub(from.At.At).Len() > 1e-9 {
		t.Errorf("turned twice it lies at %v, before at %v", h.At, from.At)
	}
}

// TestThingsOfAPartInTurn: each tab and pin once, then the part again.
func TestThingsOfAPartInTurn(t *testing.T) {
	v := laid(t)
	from, _ := Laid(v, v.Parts[0].ID)
	h := TakeByKey(v, from)
	seen := map[Hold]bool{}
	for !seen[h.Hold] {
		seen[h.Hold] = true
		next, ok := h.Next()
		if !ok {
			t.Fatal("there is no next")
		}
		h = TakeByKey(v, next)
	}
	count := map[Kind]int{}
	for one := range seen {
		count[one.What]++
	}
	if h.Hold != from || count[Part] != 1 || count[Tab] != len(v.Parts[0].Tabs) {
		t.Errorf("it comes back to %+v after %v of %d tabs", h.Hold, count, len(v.Parts[0].Tabs))
	}
}

// TestTabsAndPinsAreAddedAndTakenAway; the last of either stays.
func TestTabsAndPinsAreAddedAndTakenAway(t *testing.T) {
	v := laid(t)
	q := PlacedOn(v, 1)[0]
	of, _ := v.Part(q.Part)
	tab := of.Tabs[0]
	c, ok := Add(v, Tab, 1, q.Apply(tab.At.Add(tab.Out.Scale(1))))
	if !ok || c.Name != "another tab" || len(c.Places.Tabs) != 1 || len(c.Places.Tabs[0].At) != len(of.Tabs)+1 {
		t.Errorf("another tab: %v, %+v", ok, c)
	}
	if _, ok := Add(v, Tab, 1, geom.Vec2{X: -100}); ok {
		t.Error("a tab was added beside the panel")
	}
	h := TakeByKey(v, Hold{What: Tab, Part: q.Part, Number: 1, At: q, Spot: tab.At})
	c, ok = h.Remove()
	if want := len(of.Tabs) > 1; ok != want || ok && len(c.Places.Tabs[0].At) != len(of.Tabs)-1 {
		t.Errorf("of %d tabs one is taken away: %v, %+v", len(of.Tabs), ok, c.Places.Tabs)
	}
	for i := range v.Joints {
		j := &v.Joints[i]
		if len(j.Pins) == 0 {
			continue
		}
		number, at, _ := v.Layout.Find(v.Parts[i].ID)
		h := TakeByKey(v, Hold{What: Pin, Part: v.Parts[i].ID, Number: number, At: at, Joint: i, Spot: j.Pins[0].At})
		if h.Hold = h.To(at.Apply(geom.Vec2{X: 500})); true {
			if c, ok := h.Put(); ok || !strings.HasSuffix(c.Words.String(), backAgain) {
				t.Errorf("a pin in the air is put: %v, %q", ok, c.Words)
			}
		}
		if _, ok := h.Remove(); ok != (len(j.Pins) > 1) {
			t.Errorf("of %d pins one is taken away: %v", len(j.Pins), ok)
		}
		return
	}
	t.Error("there are no pins")
}

// TestLockedAndUnlocked: a part is locked where it lies, and that is a change of its own.
func TestLockedAndUnlocked(t *testing.T) {
	v := laid(t)
	id := v.Parts[0].ID
	from, _ := Laid(v, id)
	c, ok := Lock(v, id)
	if !ok || c.Name != "lock" || !c.Hold.At.Locked || c.Hold.At.At != from.At.At {
		t.Errorf("locked: %v, %+v", ok, c.Hold)
	}
}

// TestAPartGoesToThePanelOfANumber: let go over the number of an empty panel it lies there where there is room; let go before that is
// known it waits; where there is no room it goes back and says so, and back over its own panel nothing has changed.
func TestAPartGoesToThePanelOfANumber(t *testing.T) {
	v := laid(t)
	from, _ := Laid(v, PlacedOn(v, 1)[0].Part)
	empty := v.Panels() + 1
	h := Take(v, from, from.Place())
	h.Over(empty)
	if !h.Waits() {
		t.Error("it is not known yet where there is room, and it doesn't wait")
	}
	at, ok := Free(v, empty, h.At)
	if fits, _ := v.Fits(empty, at); !ok || !fits {
		t.Fatalf("on an empty panel there is no room: %v", at)
	}
	h.Saw(h.Hold, Held{OK: true, Free: at})
	c, ok := h.Put()
	if number, lies, there := c.Places.PlacesOf(v.Layout), c.Hold.At, ok; !there || c.Hold.Number != empty || lies != at || len(number.Parts) == 0 {
		t.Errorf("let go over number %d it lies at %v on %d: %q", empty, lies, c.Hold.Number, c.Words)
	}
	h = Take(v, from, from.Place())
	h.Over(empty)
	h.Saw(h.Hold, Held{})
	if c, ok := h.Put(); ok || !strings.Contains(c.Words.String(), "no room") || !strings.HasSuffix(c.Words.String(), backAgain) {
		t.Errorf("without room: %v, %q", ok, c.Words)
	}
	if h.Over(1); h.Any || h.Waits() {
		t.Error("over its own number it would go elsewhere")
	}
}
