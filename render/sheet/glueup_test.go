package sheet_test

import (
	"math"
	"testing"

	"grainstack/render/draw"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/glue"
	"grainstack/slicing/stock"
)

// glueUp is the glue-up of a stack of n layers in the order that package glue gives it.
func glueUp(n int) sheet.GlueUpView {
	s := stack(n)
	v := sheet.GlueUpView{Outline: outline(s.Layers[len(s.Layers)-1].Top), Notes: []string{"Dry-fit every joint before the glue comes out."}}
	var layers []glue.Layer
	var contacts []glue.Contact
	for i, l := range s.Layers {
		v.Layers = append(v.Layers, sheet.GlueLayer{Number: l.Number, Bottom: l.Bottom, Top: l.Top, Turned: l.Turned})
		layers = append(layers, glue.Layer{Number: l.Number, Bottom: l.Bottom, Top: l.Top, MassG: 700, Size: geom.Vec2{X: 300, Y: 200}})
		if i > 0 {
			contacts = append(contacts, glue.Contact{Below: i, Above: i + 1, Area: 15000 + 100*float64(i%7), Density: 685})
		}
	}
	pva := stock.Glue{SpreadGM2: 110, Faces: 2, Solids: 0.5, OpenMin: 8, ClampMin: 45, SoftMPa: 0.85, HardMPa: 1.4}
	clamp := glue.Clamp{ForceN: 4000}
	for _, stage := range glue.Order(layers, glue.Join(contacts, pva, clamp), glue.Rules{Glue: pva, Clamp: clamp}).Stages {
		for _, p := range stage.Pressings {
			v.Pressings = append(v.Pressings, sheet.GluePressing{
				Number: p.Number, Stage: stage.Number, From: p.Lower.First, Upper: p.Upper.First, To: p.Upper.Last,
				GlueG: p.Joint.WetG, ForceN: p.Joint.ForceN, Clamps: p.Joint.Clamps, MassG: p.Result.MassG,
			})
		}
	}
	return v
}

func TestGlueUpSheet(t *testing.T) {
	for _, n := range []int{1, 2, 5, 15, 40, 120} {
		for _, size := range [][2]float64{{520, 640}, {260, 300}, {900, 500}} {
			v := glueUp(n)
			g := sheet.GlueUp(v, style(t, draw.LightInk()), size[0], size[1])
			inside(t, g.Drawing)
			if len(g.Rows) != n {
				t.Fatalf("%d layers: %d rows", n, len(g.Rows))
			}
			for i, row := range g.Rows {
				if row.Min.Y < g.Plan.Min.Y || row.Max.Y > g.Plan.Max.Y || i > 0 && row.Max.Y > g.Rows[i-1].Min.Y+1e-9 {
					t.Errorf("%d layers: row %d is %v", n, i, row)
				}
				if got, ok := g.LayerAt(v, (row.Min.Y+row.Max.Y)/2); !ok || got != i+1 {
					t.Errorf("%d layers: layer %d is found as %d", n, i+1, got)
				}
			}
		}
	}
}

// The gap at a joint is in proportion to its stage; the joints that are done have none.
func TestGlueUpGaps(t *testing.T) {
	v := glueUp(16)
	gap := func(g sheet.GlueUpSheet, upper int) float64 { return g.Rows[upper-2].Min.Y - g.Rows[upper-1].Max.Y }
	g := sheet.GlueUp(v, style(t, draw.LightInk()), 600, 700)
	one := gap(g, v.Pressings[0].Upper)
	for _, p := range v.Pressings {
		if got := gap(g, p.Upper); math.Abs(got-one*float64(p.Stage)) > 1e-9 {
			t.Errorf("pressing %d of stage %d: gap %g, one is %g", p.Number, p.Stage, got, one)
		}
	}
	v.Done = 8
	g = sheet.GlueUp(v, style(t, draw.LightInk()), 600, 700)
	for _, p := range v.Pressings {
		if got := gap(g, p.Upper); (got < 1e-6) != (p.Number <= 8) {
			t.Errorf("eight are done: pressing %d has a gap of %g", p.Number, got)
		}
	}
}

// Every pressing has its bracket: two level strokes and an upright between its two groups.
func TestGlueUpBrackets(t *testing.T) {
	v := glueUp(9)
	s := style(t, draw.LightInk())
	uprights := 0
	for _, seg := range recorded(sheet.GlueUp(v, s, 700, 700).Drawing).segs {
		if seg.Pen.Width == 1 && seg.Segment[0].X == seg.Segment[1].X && seg.Segment[0].Y != seg.Segment[1].Y {
			uprights++
		}
	}
	if uprights != 8 {
		t.Errorf("got %d brackets, want 8", uprights)
	}
}

func BenchmarkGlueUpSheet(b *testing.B) {
	v, s := glueUp(40), style(b, draw.LightInk())
	for b.Loop() {
		sheet.GlueUp(v, s, 640, 700)
	}
}
