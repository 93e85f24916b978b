package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"grainstack/app/card"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
)

// written is the field of the Panels card with a name.
func (r *rig) written(name string) *card.Field {
	r.t.Helper()
	for _, c := range r.cards.all {
		if c.Title != "Panels" {
			continue
		}
		if !c.Open() {
			c.Toggle()
		}
		if f, ok := c.Places()[name].(*card.Field); ok {
			return f
		}
	}
	r.t.Fatalf("the Panels card has no field %q", name)
	return nil
}

// TestClampsAreTypedAndKeepPartsOff: clamps are taken from the card as one step that can be taken back, words that say nothing
// change nothing, and a part held over a clamp is refused by the clamp's number, on the side that is turned over as well.
func TestClampsAreTypedAndKeepPartsOff(t *testing.T) {
	r := laidRig(t)
	before := r.laid("the layout")
	f := r.written("clamps")
	f.FocusGained()
	for _, text := range []string{"left", "left:", "left:300:60", "left:300, roof:4"} {
		f.SetText(text)
		if list := r.bench.Settings().Shop.PanelClamps.List(); len(list) > 0 {
			t.Fatalf("%q is taken for %v", text, list)
		}
		if words := r.margin.words.Text(); !strings.HasPrefix(words, "clamps: A clamp") && !strings.HasPrefix(words, "clamps: Clamp") {
			t.Errorf("%q: the margin says %q", text, words)
		}
	}
	f.SetText("left:300, front:150:80x45")
	f.FocusLost()
	v := r.laid("the layout between clamps")
	want := []job.PanelClamp{{Edge: job.Left, At: 300, Wide: 50, Deep: 30}, {Edge: job.Front, At: 150, Wide: 80, Deep: 45}}
	if got := v.For.Shop.PanelClamps.List(); len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
		t.Fatalf("the clamps are %+v, want %+v", got, want)
	}
	id := panel.ID{Layer: 1}
	for _, at := range []struct {
		words string
		x, y  float64
	}{{"clamp 1", 15, 300}, {"clamp 2", 150, 20}, {"clamp 2 once the panel is turned over", 150, v.For.PanelY - 20}} {
		r.pickPart(id)
		r.keyPanel(fyne.KeyReturn)
		part, _ := v.Part(id)
		b := part.Shadow.Box()
		r.nudge(geom.Vec2{X: at.x, Y: at.y}.Sub(r.panels.Hand.At.Apply(b.Min.Add(b.Max).Scale(0.5))))
		r.until("the picture with it in the hand", func() bool { return !r.panels.Busy() && len(r.queue) == 0 })
		if words := r.margin.words.Text(); !strings.Contains(words, "lies on "+at.words) {
			t.Errorf("over a clamp the margin says %q, want %q", words, at.words)
		}
		r.keyPanel(fyne.KeyEscape)
	}
	if got := r.bench.UndoName(); got != "clamps on the panel" {
		t.Errorf("undo is called %q", got)
	}
	r.run("undo")
	if v = r.laid("the layout without clamps"); v.For.Shop.PanelClamps != before.For.Shop.PanelClamps || f.Text != "" {
		t.Errorf("taken back, the clamps are %v and the field says %q", v.For.Shop.PanelClamps.List(), f.Text)
	}
}
