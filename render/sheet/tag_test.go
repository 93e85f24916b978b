package sheet_test

import (
	"fmt"
	"slices"
	"testing"

	"grainstack/render/draw"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
)

// TestTinyPartsAreNumbered: however small they are and however near to one another, every part has its number on the panel's
// sheet and on the layer's, and no number lies over another.
func TestTinyPartsAreNumbered(t *testing.T) {
	s := style(t, draw.LightInk())
	v := shop()
	l := plan(6, 200)
	l.Parts = nil
	var names, numbers []string
	for k := range 40 {
		at := geom.Vec2{X: 30 + 12*float64(k%8), Y: 280 + 9*float64(k/8)}
		tiny := geom.Region{blob(at, 1.5, 1+float64(k%3), 0.1, 24)}
		names, numbers = append(names, fmt.Sprintf("9.%d", k+1)), append(numbers, fmt.Sprint(k+1))
		v.Parts = append(v.Parts, sheet.PanelPart{Name: names[k], Outline: tiny})
		l.Parts = append(l.Parts, geom.Region{blob(at.Sub(geom.Vec2{X: 60, Y: 300}), 1.5, 1, 0.1, 24)}.Box())
	}
	for _, v := range v.Parts {
		names = append(names, v.Name)
	}
	for what, r := range map[string]struct {
		drawn *draw.Drawing
		want  []string
	}{"panel": {sheet.Panel(v, s, 700, 760, sheet.Look{}).Drawing, names}, "layer": {sheet.Layer(l, s, 700, 760, sheet.Look{}).Drawing, numbers}} {
		texts := recorded(r.drawn).texts
		for _, want := range r.want {
			if !slices.ContainsFunc(texts, func(x draw.Text) bool { return x.Words == want && x.Bold }) {
				t.Errorf("%s: part %s has no number", what, want)
			}
		}
		for i, a := range texts {
			for _, b := range texts[:i] {
				p, q := s.Letters.Box(a), s.Letters.Box(b)
				if p.Min.X+1 < q.Max.X && q.Min.X+1 < p.Max.X && p.Min.Y+1 < q.Max.Y && q.Min.Y+1 < p.Max.Y {
					t.Errorf("%s: %q lies over %q", what, a.Words, b.Words)
				}
			}
		}
	}
}

// TestNumbersLieOffTheParts: a small part in the bay of a large one, whose boxes lie over one another, has its number in the free wood
// of the bay, not on the large part and not far off.
func TestNumbersLieOffTheParts(t *testing.T) {
	s := style(t, draw.LightInk())
	v := shop()
	at := func(x, y float64) geom.Vec2 { return geom.Vec2{X: x, Y: y} }
	bay := geom.Ring{at(200, 140), at(400, 140), at(400, 460), at(360, 460), at(360, 180), at(240, 180), at(240, 460), at(200, 460)}
	v.Parts = []sheet.PanelPart{{Name: "7", Outline: geom.Region{bay}}, {Name: "8.2", Outline: geom.Region{blob(at(300, 260), 3, 2, 0.1, 24)}}}
	drawn := sheet.Panel(v, s, 700, 760, sheet.Look{})
	for _, x := range recorded(drawn.Drawing).texts {
		if x.Words != "8.2" {
			continue
		}
		b := s.Letters.Box(x)
		own := drawn.ToSheet(at(300, 260))
		if far := b.Min.Add(b.Max).Scale(0.5).Sub(own).Len(); far > 60 {
			t.Errorf("the number stands %.0f from its part", far)
		}
		on := make(geom.Ring, len(bay))
		for i, p := range bay {
			on[i] = drawn.ToSheet(p)
		}
		for k := range 11 * 11 {
			p := b.Min.Add(geom.Vec2{X: b.Size().X * float64(k%11) / 10, Y: b.Size().Y * float64(k/11) / 10})
			if on.Winding(p) != 0 {
				t.Fatalf("the number at %v lies on the large part at %v", b, p)
			}
		}
		return
	}
	t.Error("the part has no number")
}

// TestNumbersStayNear: where no wood is free nearby a number lies on its surroundings rather than far off across the panel.
func TestNumbersStayNear(t *testing.T) {
	thing := geom.Box2{Min: geom.Vec2{X: 100, Y: 100}, Max: geom.Vec2{X: 104, Y: 104}}
	half := geom.Vec2{X: 12, Y: 7}
	free := func(geom.Box2) bool { return true }
	for _, tt := range []struct{ clearFrom, most float64 }{{20, 60}, {40, 90}, {150, 40}} {
		at, ok := sheet.Beside(thing, half, 4, 4, free, func(b geom.Box2) bool { return b.Min.X > 102+tt.clearFrom })
		if far := at.Sub(geom.Vec2{X: 102, Y: 102}).Len(); !ok || far > tt.most {
			t.Errorf("with free wood %.0f away the number stands %.0f off", tt.clearFrom, far)
		}
	}
}
