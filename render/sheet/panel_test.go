package sheet_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"grainstack/render/draw"
	"grainstack/render/golden"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
)

// shop is a panel of 600 × 600 mm with four parts, one of them with a hollow and one that clashes.
func shop() sheet.PanelView {
	part := func(name string, x, y, rx, ry, swell float64) sheet.PanelPart {
		c := geom.Vec2{X: x, Y: y}
		p := sheet.PanelPart{
			Name: name, Outline: geom.Region{blob(c, rx, ry, swell, 200)}, Boundary: geom.Region{blob(c, rx+14, ry+14, swell, 200)},
			Pins: []sheet.Peg{{At: geom.Vec2{X: x - rx*0.7, Y: y}, Diameter: 8}, {At: geom.Vec2{X: x + rx*0.7, Y: y + 8}, Diameter: 8}},
		}
		for i := range 4 {
			k := p.Outline[0][i*50+20]
			out := k.Sub(c)
			p.Tabs = append(p.Tabs, sheet.PanelTab{At: k, Out: out.Scale(1 / out.Len()), Width: 10, Length: 16})
		}
		return p
	}
	v := sheet.PanelView{
		Number: 3, Count: 10, Size: geom.Vec2{X: 600, Y: 600}, Edge: 12, UsedPercent: 47,
		Dowels: []sheet.Peg{{At: geom.Vec2{X: 20, Y: 300}, Diameter: 10}, {At: geom.Vec2{X: 570, Y: 300}, Diameter: 10}},
		Clamps: []sheet.PanelClamp{{Box2: geom.Box2{Min: geom.Vec2{X: 270}, Max: geom.Vec2{X: 330, Y: 22}}, Number: 1}},
		Notes:  []string{"Drill the register dowels first, through the panel and 12 mm into the bed."},
		Parts: []sheet.PanelPart{
			part("4", 170, 440, 110, 80, 0.1), part("7", 400, 150, 130, 80, 0.08),
			part("12.1", 430, 450, 75, 75, 0.1), part("12.2", 130, 150, 60, 80, 0.1),
		},
	}
	v.Parts[1].Core = geom.Region{blob(geom.Vec2{X: 400, Y: 150}, 70, 40, 0.1, 120)}
	v.Parts[2].Locked = true
	v.Parts[3].Clash = true
	return v
}

func TestPanelSheetThereAndBack(t *testing.T) {
	for _, flip := range []sheet.Flip{sheet.AboutX, sheet.AboutY} {
		for _, back := range []bool{false, true} {
			v := shop()
			v.SideB, v.Flip = back, flip
			p := sheet.Panel(v, style(t, draw.LightInk()), 520, 560, sheet.Look{})
			for _, want := range []geom.Vec2{{X: 20, Y: 300}, {X: 5, Y: 590}, {X: 333.3, Y: 41}} {
				at := p.ToSheet(want)
				got, ok := p.ToMM(at.X, at.Y)
				if !ok || got.Sub(want).Len() > 1e-9 {
					t.Errorf("side B %v, flip %v: %v comes back as %v", back, flip, want, got)
				}
			}
			a, b := p.ToSheet(geom.Vec2{}), p.ToSheet(geom.Vec2{X: 600, Y: 600})
			if got := math.Abs(b.X - a.X); math.Abs(got-600*p.PerMM) > 1e-9 {
				t.Errorf("the panel is %g wide, want %g", got, 600*p.PerMM)
			}
		}
	}
}

// On side B a panel turned about X shows what was at the top at the bottom, and left stays left: turned about Y the other
// way about.
func TestPanelSheetSideB(t *testing.T) {
	v := shop()
	at := func(flip sheet.Flip, back bool) geom.Vec2 {
		v.Flip, v.SideB = flip, back
		return sheet.Panel(v, style(t, draw.LightInk()), 520, 560, sheet.Look{}).ToSheet(geom.Vec2{X: 100, Y: 100})
	}
	a, x, y := at(sheet.AboutX, false), at(sheet.AboutX, true), at(sheet.AboutY, true)
	if a.X != x.X || a.Y <= x.Y || a.Y != y.Y || a.X >= y.X {
		t.Errorf("side A %v, about X %v, about Y %v", a, x, y)
	}
}

// The grain is drawn on both sides: regions stay positive when they are mirrored.
func TestPanelSheetGrainOnBothSides(t *testing.T) {
	v := shop()
	count := func() int {
		return len(recorded(sheet.Panel(v, style(t, draw.LightInk()), 520, 560, sheet.Look{}).Drawing).segs)
	}
	a := count()
	v.SideB = true
	if b := count(); math.Abs(float64(a-b)) > 0.03*float64(a) || a < 150 {
		t.Errorf("side A has %d strokes, side B %d", a, b)
	}
}

func TestPanelSheetWords(t *testing.T) {
	for _, size := range [][2]float64{{520, 560}, {300, 260}, {900, 640}} {
		p := sheet.Panel(shop(), style(t, draw.LightInk()), size[0], size[1], sheet.Look{})
		inside(t, p.Drawing)
		words := recorded(p.Drawing).words()
		for _, want := range []string{"Panel 3 of 10, side A", "4", "7", "12.1", "12.2"} {
			if !slices.Contains(words, want) {
				t.Errorf("%v: no %q in %q", size, want, words)
			}
		}
	}
	empty := sheet.Panel(sheet.PanelView{}, style(t, draw.LightInk()), 300, 300, sheet.Look{})
	if _, ok := empty.ToMM(150, 150); ok || !strings.Contains(strings.Join(recorded(empty.Drawing).words(), " "), "no panel yet") {
		t.Error("an empty view is not said to be empty")
	}
}

// inside fails where lettering leaves the sheet.
func inside(t *testing.T, d *draw.Drawing) {
	t.Helper()
	l := letters(t)
	for _, x := range recorded(d).texts {
		if b := l.Box(x); b.Min.X < 0 || b.Min.Y < 0 || b.Max.X > d.W || b.Max.Y > d.H {
			t.Errorf("%q at %v leaves the sheet of %g × %g", x.Words, b, d.W, d.H)
		}
	}
}

func BenchmarkPanelSheet(b *testing.B) {
	v, s := shop(), style(b, draw.LightInk())
	for b.Loop() {
		sheet.Panel(v, s, 640, 700, sheet.Look{})
	}
}

// twoByFour is a board of 2440 × 1220 mm sawn into eight panels.
func twoByFour() sheet.SawView {
	v := sheet.SawView{Number: 1, Count: 2, Name: "birch plywood 18 mm", Size: geom.Vec2{X: 2440, Y: 1220}, First: 9}
	for i := range 8 {
		at := geom.Vec2{X: 603 * float64(i%4), Y: 603 * float64(i/4)}
		v.Panels = append(v.Panels, geom.Box2{Min: at, Max: at.Add(geom.Vec2{X: 600, Y: 600})})
	}
	v.Cuts = [][2]geom.Vec2{{{Y: 601.5}, {X: 2440, Y: 601.5}}, {{X: 601.5}, {X: 601.5, Y: 600}}}
	v.Offcuts = []geom.Box2{{Min: geom.Vec2{X: 2412}, Max: geom.Vec2{X: 2440, Y: 600}}}
	return v
}

func TestSawSheet(t *testing.T) {
	for _, size := range [][2]float64{{640, 380}, {260, 200}} {
		d := sheet.Saw(twoByFour(), style(t, draw.LightInk()), size[0], size[1])
		inside(t, d)
		words := recorded(d).words()
		for _, want := range []string{"Board 1 of 2", "9", "16", "1", "2", "2440 mm", "1220 mm"} {
			if !slices.Contains(words, want) {
				t.Errorf("%v: no %q in %q", size, want, words)
			}
		}
	}
	inside(t, sheet.Saw(sheet.SawView{}, style(t, draw.LightInk()), 300, 200))
}

func TestPanelGoldens(t *testing.T) {
	r := draw.NewRaster(letters(t))
	light, dark := style(t, draw.LightInk()), style(t, draw.DarkInk())
	v := shop()
	golden.Image(t, "panel", r.Picture(sheet.Panel(v, light, 420, 470, sheet.Look{}).Drawing, 1), close4)
	v.SideB = true
	golden.Image(t, "panel-b-dark", r.Picture(sheet.Panel(v, dark, 320, 360, sheet.Look{}).Drawing, 1), close4)
	golden.Image(t, "saw", r.Picture(sheet.Saw(twoByFour(), light, 420, 250), 1), close4)
	golden.Image(t, "glueup", r.Picture(sheet.GlueUp(glueUp(15), light, 420, 420).Drawing, 1), close4)
}
