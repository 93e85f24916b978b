package card

import (
	"strings"
	"testing"

	"grainstack/slicing/hours"
	"grainstack/slicing/unit"
)

// TestMachiningIsShown: the plan of the picked layer is there in the order of the work (drill, rough both sides, change the
// cutter, finish both), its minutes are those of the sides, and it follows the layer and the units.
func TestMachiningIsShown(t *testing.T) {
	c := newCarver(t)
	var m *machining
	for _, r := range c.card.rows {
		if one, ok := r.(*machining); ok {
			m = one
		}
	}
	c.state.Picked.Layer = 2
	c.show()
	text := ""
	for _, l := range m.lines {
		if l.Visible() {
			text += l.Text + "\n"
		}
	}
	at := -1
	for _, want := range []string{"Lay the panel on", "Drill the holes", "Upper side: skim in", "Upper side: rough in", "Turn the panel, lower side up", "Lower side: rough in",
		"Change to the ball nose", "Lower side: finish in rows along the grain", "Turn the panel, upper side up", "Upper side: finish in rows"} {
		next := strings.Index(text, want)
		if next <= at {
			t.Errorf("%q is missing or out of order in\n%s", want, text)
		}
		at = next
	}
	r := c.state.Carving.Reached
	router, hands := hours.Minutes(r.Machining(c.state.Figures, 2))
	want := 0.0
	for _, one := range r.Sides {
		if one.Layer == 2 {
			want += one.Time.RoughMin + one.Time.FinishMin
		}
	}
	if router < 0.999*want || router > 1.001*want || hands <= 0 {
		t.Errorf("the plan takes %g min at the router, the sides %g; by hand %g", router, want, hands)
	}
	if !strings.Contains(m.foot.Text, unit.Duration(router)) || !strings.Contains(m.foot.Text, "beyond each part") {
		t.Errorf("below it stands %q", m.foot.Text)
	}
	c.state.View.Units = unit.Inch
	c.show()
	if !strings.Contains(m.lines[3].Text, " in") {
		t.Errorf("in inches: %q", m.lines[3].Text)
	}
	c.state.Picked.Layer = 99
	if c.show(); m.box.Visible() {
		t.Error("a layer that is not there has a plan")
	}
}

// TestEveningIsAChoice: evenings are counted by the length that the maker sets.
func TestEveningIsAChoice(t *testing.T) {
	c := newCarver(t)
	usual := hourWords(c.state)
	c.state.Settings.Shop.EveningMin = 60
	if short := hourWords(c.state); !strings.Contains(usual, "evenings of 3 h") || !strings.Contains(short, "evenings of 1 h") {
		t.Errorf("usually %q, with an hour an evening %q", usual, short)
	}
}
