package card

import (
	"strings"
	"testing"

	"grainstack/slicing/stock"
)

// form is the form of the desk's cutters card.
func form(t *testing.T, d *desk) *own {
	t.Helper()
	for _, c := range d.cards {
		for _, r := range c.rows {
			if o, ok := r.(*own); ok {
				return o
			}
		}
	}
	t.Fatal("there is no form")
	return nil
}

// type puts a text into one of the form's fields.
func (o *own) typeIn(name, text string) {
	for _, f := range o.each {
		if f.name == name {
			f.field.Put(text, true)
		}
	}
}

// TestOwnCutters: a cutter is added with the form, can be chosen for a pass, is changed and taken out again; faults are said
// in the form's words and keep nothing.
func TestOwnCutters(t *testing.T) {
	d := newDesk(t)
	o := form(t, d)
	o.toggle()
	before := len(d.state.Catalogue.Cutters)
	for _, tt := range []struct{ name, field, text, want string }{
		{"", "", "", "Give it a name."},
		{d.state.Catalogue.Cutters[0].Name, "", "", "Another cutter has this name already."},
		{"Shed ball", "diameter", "wide", "diameter: "},
		{"Shed ball", "diameter", "-2", "diameter is -2, wants"},
		{"Shed ball", "flutes", "0", "flutes is 0, wants"},
		{"Shed ball", "stepover", "0", "stepover is 0, wants"},
	} {
		o.fill()
		o.name.Put(tt.name, true)
		o.typeIn(tt.field, tt.text)
		if o.keeps(); !strings.HasPrefix(o.fault.Text, tt.want) || !o.fault.Visible() {
			t.Errorf("%+v: said %q", tt, o.fault.Text)
		}
	}
	if len(d.state.Catalogue.Cutters) != before {
		t.Fatal("a cutter with a fault was kept")
	}
	o.fill()
	o.name.Put("Shed bull", true)
	o.shape.SetSelectedIndex(int(stock.Bull))
	o.typeIn("diameter", "1/4 in")
	o.typeIn("corner radius", "1,5")
	if o.keeps(); o.fault.Text != "" {
		t.Fatalf("refused: %s", o.fault.Text)
	}
	k, ok := d.state.Catalogue.Cutter("own-shed-bull")
	if !ok || k.Shape != stock.Bull || k.Diameter != 6.35 || k.CornerRadius != 1.5 || k.TaperDeg != 0 {
		t.Fatalf("kept: %+v", k)
	}
	found := false
	for _, c := range d.cards {
		for _, r := range c.rows {
			if ch, ok := r.(*choice); ok && ch.Name == "finish" {
				ch.sel.SetSelected("Shed bull · yours")
				found = true
			}
		}
	}
	if !found || d.state.Settings.Fine.Key != "own-shed-bull" {
		t.Errorf("it can't be chosen: %q", d.state.Settings.Fine.Key)
	}
	if o.which.Selected != "Shed bull" || o.drop.Disabled() {
		t.Errorf("after keeping the form shows %q", o.which.Selected)
	}
	o.typeIn("flutes", "3")
	o.keeps()
	if k, _ := d.state.Catalogue.Cutter("own-shed-bull"); k.Flutes != 3 || len(d.state.Catalogue.Cutters) != before+1 {
		t.Errorf("changed: %d flutes, %d cutters of %d", k.Flutes, len(d.state.Catalogue.Cutters), before)
	}
	d.state.Settings.Fine.Key = "ball-6.35"
	if o.drops(); len(d.state.Catalogue.Cutters) != before || o.which.Selected != "a new one" {
		t.Errorf("taken out: %d cutters of %d, the form shows %q", len(d.state.Catalogue.Cutters), before, o.which.Selected)
	}
}

// TestCuspIsSaid: the card names the ridge that the handbook formula gives (0.00986 mm: radius 3.175, rows 0.5 mm apart).
func TestCuspIsSaid(t *testing.T) {
	d := newDesk(t)
	d.state.Settings.Fine.Stepover = 0.5
	if got := cuspWords(d.state); !strings.Contains(got, "ridges of 0.010 mm") {
		t.Errorf("said: %q", got)
	}
	d.state.Settings.Fine.Key = "end-6.35"
	if got := cuspWords(d.state); !strings.Contains(got, "no ridges") {
		t.Errorf("of a flat end: %q", got)
	}
	d.state.Settings.Fine.Stepover = 7
	if got := cuspWords(d.state); !strings.Contains(got, "stays between") {
		t.Errorf("too far apart: %q", got)
	}
}
