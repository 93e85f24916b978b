package card

import (
	"context"
	"reflect"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"grainstack/slicing/job"
	"grainstack/slicing/unit"
	"grainstack/slicing/wayout"
)

// carver is a carving card with what was asked of it.
type carver struct {
	*desk
	card   *Card
	sought int
	taken  []wayout.Way
	took   [][3]float64
}

func newCarver(t *testing.T) *carver {
	t.Helper()
	c := &carver{desk: newDesk(t)}
	c.card = NewCarving(c.desk, Carver{
		Seek: func() { c.sought++ },
		Take: func(o wayout.Way) { c.taken = append(c.taken, o) },
		Took: func(layer int, down bool, minutes float64) {
			side := 0.0
			if down {
				side = 1
			}
			c.took = append(c.took, [3]float64{float64(layer), side, minutes})
		},
	})
	c.cards = append(c.cards, c.card)
	c.state.Settings.Wall = 0
	f, err := job.Settle(context.Background(), c.state.Standing, c.state.Settings, c.state.Catalogue)
	if err != nil {
		t.Fatal(err)
	}
	r, err := job.Reach(context.Background(), c.state.Standing, f, 1, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	c.show()
	if got := carvingLine(c.state); got != "being worked out …" {
		t.Errorf("before anything is known: %q", got)
	}
	c.state.Carving.Reached = r
	c.show()
	c.card.Toggle()
	return c
}

func TestCarvingSaysWhatIsReached(t *testing.T) {
	c := newCarver(t)
	if got := hourWords(c.state); !strings.Contains(got, "rough") || !strings.Contains(got, "estimate was") || !strings.Contains(got, "Layer 1: upper side") {
		t.Errorf("hours: %q", got)
	}
	if got := reachWords(c.state); !strings.Contains(got, "reached from above or below") {
		t.Errorf("reach: %q", got)
	}
	if got := carvingLine(c.state); !strings.Contains(got, "out of reach") || !strings.Contains(got, "simulated") {
		t.Errorf("folded: %q", got)
	}
}

func TestWaysOutAreTaken(t *testing.T) {
	c := newCarver(t)
	test.Tap(c.card.Places()["Look for ways out"].(fyne.Tappable))
	if c.sought != 1 {
		t.Errorf("sought %d times", c.sought)
	}
	way := wayout.Way{Text: unit.Say("Tilt 9° forward"), RouterMin: 90, WeightKg: -0.25, Layers: 2, Settings: c.state.Settings}
	c.state.Carving.Ways, c.state.Carving.Sought = []wayout.Way{way}, true
	c.show()
	line, ok := c.card.Places()["→ Tilt 9° forward · +1.5 h, −250 g, +2 layers"]
	if !ok {
		t.Fatalf("the way out is not on the card: %v", c.card.Places())
	}
	test.Tap(line.(fyne.Tappable))
	if len(c.taken) != 1 || !reflect.DeepEqual(c.taken[0], way) {
		t.Errorf("taken: %v", c.taken)
	}
}

// TestWaysOutByHand: one more joint in a layer is told with its price and the reason why a click doesn't take it, and nothing
// can be clicked; in inches its joint is, too.
func TestWaysOutByHand(t *testing.T) {
	c := newCarver(t)
	way := wayout.Way{Text: unit.Say("Make layer 2 of two boards"), RouterMin: 132, Layers: 1, Panels: 1, Settings: c.state.Settings,
		Parting: wayout.Parting{Layer: 2, Joint: 24000, GlueG: 5.28}}
	c.state.Carving.Ways, c.state.Carving.Sought = []wayout.Way{way}, true
	c.show()
	var w *ways
	for _, r := range c.card.rows {
		if one, ok := r.(*ways); ok {
			w = one
		}
	}
	if len(w.lines) != 0 || len(w.hand) != 1 || len(w.box.Objects) != 2 || !w.box.Visible() {
		t.Fatalf("%d ways to click, %d to read in %d objects", len(w.lines), len(w.hand), len(w.box.Objects))
	}
	if got := w.box.Objects[0].(*widget.Label).Text; !strings.Contains(got, "All layers have one thickness") {
		t.Errorf("the reason: %q", got)
	}
	if got := w.hand[0].Text; got != "Make layer 2 of two boards · +2.2 h, +1 layer, +1 panel, 240 cm² more to glue with 5.3 g of glue" {
		t.Errorf("got %q", got)
	}
	c.state.View.Units = unit.Inch
	c.show()
	if got := w.hand[0].Text; !strings.Contains(got, "in²") {
		t.Errorf("in inches: %q", got)
	}
}

func TestMinutesByTheWatch(t *testing.T) {
	c := newCarver(t)
	var w *watch
	for _, r := range c.card.rows {
		if one, ok := r.(*watch); ok {
			w = one
		}
	}
	for _, tt := range []struct {
		typed string
		kept  bool
	}{{"95", true}, {"12,5", true}, {"soon", false}, {"-4", false}, {"", false}} {
		c.took = nil
		w.each[1].SetText(tt.typed)
		w.each[1].Rested()
		if (len(c.took) == 1) != tt.kept {
			t.Errorf("%q: kept %v", tt.typed, c.took)
		}
		if said := w.fault.Text() != ""; said == tt.kept && tt.typed != "" {
			t.Errorf("%q: says %q", tt.typed, w.fault.Text())
		}
	}
	w.each[1].SetText("95")
	w.each[1].Rested()
	if got := c.took[len(c.took)-1]; got != [3]float64{1, 1, 95} {
		t.Errorf("kept %v", got)
	}
}

// The saving is told in the units shown, by the minutes as they are known.
func TestCoarserRowsAreTold(t *testing.T) {
	d := newDesk(t)
	d.state.Settings.Wall = 0
	f, err := job.Settle(context.Background(), d.state.Standing, d.state.Settings, d.state.Catalogue)
	if err != nil {
		t.Fatal(err)
	}
	d.state.Figures, d.state.Stale = f, false
	k, ok := f.Coarser()
	if !ok {
		t.Fatal("the first finishing cutter is a ball in finer rows")
	}
	for u, ridges := range map[unit.System]string{unit.Metric: "0.010 mm", unit.Inch: "0.0004 in"} {
		d.state.View.Units = u
		if got := coarserWords(d.state); !strings.Contains(got, unit.Duration(k.SavesMin)) || !strings.Contains(got, ridges) {
			t.Errorf("%q", got)
		}
	}
}
