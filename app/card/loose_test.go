package card

import (
	"image/color"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"grainstack/app/session"
	"grainstack/slicing/carve"
	"grainstack/slicing/finding"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// card is a card by its title.
func (d *desk) card(title string) *Card {
	for _, c := range d.cards {
		if c.Title == title {
			return c
		}
	}
	return nil
}

// rowOf is a row of a card, by the name that is written on it.
func rowOf[R row](t *testing.T, c *Card, is func(R) bool) (found R) {
	t.Helper()
	for _, r := range c.rows {
		if one, ok := r.(R); ok && is(one) {
			return one
		}
	}
	t.Fatalf("the card %s has no such row", c.Title)
	return found
}

// TestARefusedValueIsForgottenOnceAGoodOneIsTyped, under the field and in the margin, and when the arrow keys go on from it.
func TestARefusedValueIsForgottenOnceAGoodOneIsTyped(t *testing.T) {
	d := newDesk(t)
	wall := d.card("Wall")
	m := rowOf(t, wall, func(m *measure) bool { return m.call == "wall" })
	m.field.FocusGained()
	faulty := func() bool { return strings.Contains(d.hint, "furlong") || strings.Contains(m.under.Text(), "furlong") }
	m.field.SetText("12 furlong")
	if !faulty() {
		t.Fatalf("a refused unit is not told of: %q, %q", d.hint, m.under.Text())
	}
	if m.field.SetText("12"); faulty() || !strings.Contains(d.hint, "Sensible") || d.state.Settings.Wall != 12 {
		t.Errorf("after a good value the margin says %q, the field %q, the wall is %v", d.hint, m.under.Text(), d.state.Settings.Wall)
	}
	m.field.SetText("12 furlong")
	if m.field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp}); faulty() {
		t.Errorf("after an arrow key the margin says %q, the field %q", d.hint, m.under.Text())
	}
}

// TestTheBoardsEdgeIsToldInInches where those are chosen.
func TestTheBoardsEdgeIsToldInInches(t *testing.T) {
	d := newDesk(t)
	e := rowOf(t, d.card("Board"), func(*edge) bool { return true })
	if text := e.label.Text(); !strings.HasSuffix(text, " mm") {
		t.Fatalf("in millimetres: %q", text)
	}
	d.Look(func(v *session.View) { v.Units = unit.Inch })
	if text := e.label.Text(); strings.Contains(text, "mm") || strings.Count(text, " in") != 2 {
		t.Errorf("in inches: %q", text)
	}
}

// TestEveningsSayWhyTheyAreMore than the hours alone come to.
func TestEveningsSayWhyTheyAreMore(t *testing.T) {
	if text := eveningWords(19, 180); !strings.HasPrefix(text, "19 evenings of 3 h, as each pass over a side") {
		t.Errorf("%q", text)
	}
	if text := eveningWords(1, 180); !strings.HasPrefix(text, "1 evening of") {
		t.Errorf("%q", text)
	}
}

// TestTotalAndNamedPlacesAreToldApart: what can't be reached in all is more than the places that are named come to.
func TestTotalAndNamedPlacesAreToldApart(t *testing.T) {
	r := &job.Reached{}
	r.Trapped = 4600
	r.Findings = []carve.Finding{{Kind: finding.Undercut, Size: 4000}, {Kind: finding.Undercut, Size: 490}}
	if text := crumbs(r, unit.Metric); !strings.Contains(text, "4.49 cm³") {
		t.Errorf("%q", text)
	}
	if r.Trapped = 4491; crumbs(r, unit.Metric) != "" {
		t.Error("what is too small to be told is told")
	}
}

// TestFieldsHaveNoBox: the toolkit draws none round a field, however often and however late that is drawn anew.
func TestFieldsHaveNoBox(t *testing.T) {
	test.NewTempApp(t)
	f := newField()
	w := test.NewWindow(underlined(f))
	defer w.Close()
	seen := func() (n int) {
		r := test.WidgetRenderer(f)
		boxes := 0
		for _, o := range r.Objects() {
			box, ok := o.(*canvas.Rectangle)
			if !ok {
				continue
			}
			boxes++
			for _, c := range []color.Color{box.FillColor, box.StrokeColor} {
				if _, _, _, a := c.RGBA(); a > 0 {
					n++
				}
			}
		}
		if boxes == 0 {
			t.Error("the toolkit draws no box at all: the test looks at nothing")
		}
		return n
	}
	for _, when := range []func(){func() {}, f.Refresh, func() { w.Canvas().Focus(f) }, func() { f.Put("12", true) }, func() { w.Canvas().Unfocus() }} {
		if when(); seen() > 0 {
			t.Errorf("%d parts of the box are seen", seen())
		}
	}
}
