package sheet_test

import (
	"strings"
	"testing"

	"grainstack/render/draw"
	"grainstack/render/golden"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
)

func square(x, y, half float64) geom.Region {
	return geom.Region{draw.BoxRing(geom.Box2{Min: geom.Vec2{X: x - half, Y: y - half}, Max: geom.Vec2{X: x + half, Y: y + half}})}
}

// withStays is a plan where wood stays for three reasons.
func withStays() sheet.LayerView {
	v := plan(6, 200)
	v.Stays = []sheet.Stays{
		{Kind: sheet.UnderOverhang, Most: 7.5, Steps: []sheet.StaysStep{{From: 0.2, Where: square(-80, 0, 9)}, {From: 1, Where: square(-80, 0, 5)}, {From: 4, Where: square(-80, 0, 2)}}},
		{Kind: sheet.OnTop, Most: 1.4, Steps: []sheet.StaysStep{{From: 0.5, Where: square(0, -40, 12)}, {From: 1, Where: square(0, -40, 6)}}},
		{Kind: sheet.OnUnderside, Most: 0.8, Steps: []sheet.StaysStep{{From: 0.5, Where: square(40, 20, 12)}}},
	}
	return v
}

// TestStays: every step lies where it was put, each deeper than the one before; strokes rise for the top side and fall for
// the underside; the scale names every figure and stands clear of the outline where the pane is tall enough.
func TestStays(t *testing.T) {
	s := style(t, draw.LightInk())
	v := withStays()
	l := sheet.Layer(v, s, 700, 700, sheet.Look{})
	r := recorded(l.Drawing)
	for _, one := range v.Stays {
		last := 21.0
		for _, st := range one.Steps {
			want := l.ToSheet(st.Where.Box().Min)
			found := false
			for _, f := range r.fills {
				if b := f.Region.Box(); near(b.Min.X, want.X, 1e-6) && near(b.Max.Y, want.Y, 1e-6) {
					c := golden.Contrast(f.RGBA, s.Ink.Accent)
					found = c < last
					last = c
				}
			}
			if !found {
				t.Errorf("kind %d: more than %g mm is not drawn, or not deeper", one.Kind, st.From)
			}
		}
	}
	rising, falling := 0, 0
	for _, g := range r.segs {
		if g.Color == s.Ink.Accent && g.Width == 0.9 {
			if d := g.Segment[1].Sub(g.Segment[0]); d.X*d.Y < 0 {
				rising++
			} else {
				falling++
			}
		}
	}
	if rising < 8 || falling < 8 {
		t.Errorf("%d strokes rise and %d fall", rising, falling)
	}
	words := ""
	for _, x := range r.texts {
		words += x.Words + "\n"
	}
	for _, want := range []string{"stays under overhangs from", "0.2\n", "1\n", "4\n", "to 7.5 mm", "on the top side from", "on the underside from", "to 0.8 mm"} {
		if !strings.Contains(words, want) {
			t.Errorf("the scale does not say %q:\n%s", want, words)
		}
	}
	bare := v
	bare.Stays = nil
	if top := l.ToSheet(v.Widest.Box().Max).Y; top-l.Plan.Min.Y < 3*s.Text+40 {
		t.Errorf("the outline begins %.0f below the plan's edge: under the scale", top-l.Plan.Min.Y)
	}
	if n := len(recorded(sheet.Layer(bare, s, 700, 700, sheet.Look{}).Drawing).fills); n >= len(r.fills) {
		t.Errorf("without anything that stays %d fills, with it %d", n, len(r.fills))
	}
	for _, size := range sizes { // nothing breaks in a narrow pane
		sheet.Layer(v, s, size[0], size[1], sheet.Look{Zoom: 30})
	}
}
