package sheet_test

import (
	"math"
	"slices"
	"testing"

	"grainstack/render/draw"
	"grainstack/render/golden"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
)

// atWork is a moment on a panel of 600 × 400 mm: rows that were cut, a rapid between them, and two faults.
func atWork() sheet.ProgramView {
	v := sheet.ProgramView{
		Size:   geom.Vec2{X: 600, Y: 400},
		Cutter: sheet.CutterMark{At: geom.Vec2{X: 300, Y: 200}, Diameter: 12},
		Dowels: []sheet.Peg{{At: geom.Vec2{X: 20, Y: 200}, Diameter: 10}, {At: geom.Vec2{X: 570, Y: 200}, Diameter: 10}},
		Clamps: []sheet.PanelClamp{{Box2: geom.Box2{Min: geom.Vec2{X: 270}, Max: geom.Vec2{X: 330, Y: 22}}, Number: 1}},
		Faults: []sheet.FaultMark{{At: geom.Vec2{X: 450, Y: 300}, Number: 1, Picked: true}, {At: geom.Vec2{X: 150, Y: 90}, Number: 2}},
	}
	at := geom.Vec2{X: 120, Y: 260}
	move := func(all *[]sheet.Stroke, x, y float64, rapid bool) {
		to := geom.Vec2{X: x, Y: y}
		*all = append(*all, sheet.Stroke{From: at, To: to, Rapid: rapid})
		at = to
	}
	move(&v.Gone, 300, 260, false)
	move(&v.Gone, 120, 200, true)
	move(&v.Gone, 300, 200, false)
	move(&v.Coming, 480, 200, false)
	move(&v.Coming, 120, 140, true)
	move(&v.Coming, 300, 140, false)
	return v
}

func TestProgramPicture(t *testing.T) {
	for name, s := range map[string]sheet.Style{"program": style(t, draw.LightInk()), "program-dark": style(t, draw.DarkInk())} {
		s.Bare = true
		d := sheet.Program(atWork(), s, 420, 420, sheet.Look{})
		golden.Image(t, name, draw.NewRaster(s.Letters).Picture(d.Drawing, 1), golden.Tolerance{Step: 24, Share: 0.004})
	}
}

// What is fast is dashed and what cuts is not; the cutter is as large as it is; everything lies where it is.
func TestProgramSheetTellsByLine(t *testing.T) {
	s := style(t, draw.LightInk())
	s.Bare = true
	v := atWork()
	d := sheet.Program(v, s, 420, 420, sheet.Look{})
	r := recorded(d.Drawing)
	has := func(a, b geom.Vec2, dashed bool) bool {
		return slices.ContainsFunc(r.lines, func(l lined) bool {
			for i := 1; i < len(l.Points); i++ {
				if l.Points[i-1].Sub(d.ToSheet(a)).Len() < 1e-6 && l.Points[i].Sub(d.ToSheet(b)).Len() < 1e-6 {
					return (len(l.Dash) > 0) == dashed
				}
			}
			return false
		})
	}
	for _, one := range append(slices.Clone(v.Gone), v.Coming...) {
		if !has(one.From, one.To, one.Rapid) {
			t.Errorf("the stroke from %v to %v, fast %v, is not drawn so", one.From, one.To, one.Rapid)
		}
	}
	ring := func() (radius float64, dashed bool) {
		for _, l := range recorded(d.Drawing).lines {
			if b := (geom.Region{l.Points}).Box(); l.Closed && l.Width == 1.6 && b.Min.Add(b.Max).Scale(0.5).Sub(d.ToSheet(v.Cutter.At)).Len() < 0.1 {
				return b.Size().X / 2, len(l.Dash) > 0
			}
		}
		return 0, false
	}
	if radius, dashed := ring(); math.Abs(radius-6*d.PerMM) > 0.02 || dashed {
		t.Errorf("the cutter's ring is %g in radius, dashed %v, want %g", radius, dashed, 6*d.PerMM)
	}
	v.Cutter.Rapid = true
	d = sheet.Program(v, s, 420, 420, sheet.Look{})
	if _, dashed := ring(); !dashed {
		t.Error("the cutter cuts nothing, and its ring is whole")
	}
	if got, ok := d.ToMM(d.ToSheet(v.Cutter.At).X, d.ToSheet(v.Cutter.At).Y); !ok || got.Sub(v.Cutter.At).Len() > 1e-9 {
		t.Errorf("there and back %v is %v", v.Cutter.At, got)
	}
}

// Without programs the sheet says why.
func TestProgramSheetSaysWhy(t *testing.T) {
	s := style(t, draw.LightInk())
	d := sheet.Program(sheet.ProgramView{Message: "Nothing yet."}, s, 300, 200, sheet.Look{})
	if words := recorded(d.Drawing).words(); !slices.Contains(words, "Nothing yet.") || d.PerMM != 0 {
		t.Errorf("it says %q at %g a millimetre", words, d.PerMM)
	}
}
