package sheet_test

import (
	"bytes"
	"fmt"
	"image/color"
	"math"
	"strings"
	"testing"

	"grainstack/render/draw"
	"grainstack/render/golden"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

var sizes = [][2]float64{{250, 380}, {350, 520}, {700, 900}, {1000, 420}, {200, 200}}

// grain gives the grain lines: the segments in the shades of Grain on Wood.
func grain(r *record, k draw.Ink) []draw.Segment {
	var out []draw.Segment
	for _, s := range r.segs {
		for _, t := range []float64{0.5, 0.75, 1} {
			if s.Color == draw.Mix(k.Wood, k.Grain, t) && s.Width < 1.1 && s.Width != 0.8 {
				out = append(out, s.Segment)
			}
		}
	}
	return out
}

func TestGrainRunsTheLayersWay(t *testing.T) {
	s := style(t, draw.LightInk())
	for _, number := range []int{6, 7} {
		v := plan(number, 400)
		l := sheet.Layer(v, s, 350, 520, sheet.Look{})
		lines := grain(recorded(l.Drawing), s.Ink)
		if len(lines) < 35 {
			t.Fatalf("layer %d: %d grain lines", number, len(lines))
		}
		for _, g := range lines {
			along, across := g[1].X-g[0].X, g[1].Y-g[0].Y
			at := g[0].Y - l.ToSheet(geom.Vec2{}).Y
			if v.Turned {
				along, across = across, along
				at = g[0].X - l.ToSheet(geom.Vec2{}).X
			}
			if math.Abs(across) > 1e-9 || along == 0 {
				t.Fatalf("layer %d: a grain line runs %v", number, g)
			}
			if rows := at / 3.5; !near(rows, math.Round(rows), 1e-6) {
				t.Fatalf("layer %d: a grain line lies between rows: %g", number, rows)
			}
			for _, f := range []float64{0.01, 0.5, 0.99} {
				p := g[0].Add(g[1].Sub(g[0]).Scale(f))
				mm, ok := l.ToMM(p.X, p.Y)
				if !ok || !v.Widest.Contains(mm) || v.Core.Contains(mm) {
					t.Fatalf("layer %d: grain at %v is not in the rim", number, mm)
				}
			}
		}
	}
}

func TestPlanFitsItsPane(t *testing.T) {
	s := style(t, draw.LightInk())
	for _, size := range sizes {
		for _, number := range []int{1, 6, 14} {
			v := plan(number, 300)
			l := sheet.Layer(v, s, size[0], size[1], sheet.Look{})
			b := v.Widest.Box().Union(v.Below.Box())
			lo, hi := l.ToSheet(b.Min), l.ToSheet(b.Max)
			in := l.Plan
			if lo.X < in.Min.X || hi.X > in.Max.X || hi.Y < in.Min.Y || lo.Y > in.Max.Y {
				t.Errorf("%v, layer %d: outline from %v to %v leaves the plan %v", size, number, lo, hi, in)
			}
			wide, tall := (hi.X-lo.X)/in.Size().X, (lo.Y-hi.Y)/in.Size().Y
			if size[0] >= 250 && max(wide, tall) < 0.7 {
				t.Errorf("%v, layer %d: the outline takes %.2f × %.2f of its plan only", size, number, wide, tall)
			}
			if back, ok := l.ToMM(lo.X, lo.Y); !ok || back.Sub(b.Min).Len() > 1e-9 {
				t.Errorf("%v: %v comes back as %v", size, b.Min, back)
			}
		}
	}
}

func TestZoomAndPan(t *testing.T) {
	s := style(t, draw.LightInk())
	v := plan(6, 300)
	one := sheet.Layer(v, s, 350, 520, sheet.Look{})
	three := sheet.Layer(v, s, 350, 520, sheet.Look{Zoom: 3, PanX: 40, PanY: -25})
	if !near(three.PerMM, 3*one.PerMM, 1e-9) {
		t.Errorf("zoom 3 is %g times as near", three.PerMM/one.PerMM)
	}
	mid := one.ToSheet(v.Widest.Box().Union(v.Below.Box()).Min.Add(v.Widest.Box().Union(v.Below.Box()).Max).Scale(0.5))
	c, _ := one.ToMM(mid.X, mid.Y)
	if got := three.ToSheet(c).Sub(mid); got.Sub(geom.Vec2{X: 40, Y: -25}).Len() > 1e-9 {
		t.Errorf("the plan's middle moved by %v", got)
	}
	r := recorded(three.Drawing)
	for _, f := range r.fills {
		if f.RGBA == s.Ink.Wood {
			b := f.Region.Box()
			if b.Min.X < three.Plan.Min.X-1e-9 || b.Max.Y > three.Plan.Max.Y+1e-9 {
				t.Errorf("wood leaves the plan: %v", b)
			}
		}
	}
	if _, ok := three.ToMM(2, 2); ok {
		t.Error("a place outside the plan has millimetres")
	}
}

// The bar must be as long as it says, in both systems and at any scale, and 1, 2 or 5 times a power of ten.
func TestScaleBarIsTrue(t *testing.T) {
	s := style(t, draw.LightInk())
	for _, system := range []unit.System{unit.Metric, unit.Inch} {
		s.Units = system
		one := 1.0
		if system == unit.Inch {
			one = 25.4
		}
		for perMM := 0.01; perMM < 300; perMM *= 1.37 {
			d := draw.New(400, 60, s.Ink.Paper)
			mm := sheet.ScaleBar(d, s, geom.Vec2{X: 10, Y: 50}, 120, perMM)
			r := recorded(d)
			drawn := 0.0
			for _, l := range r.lines {
				drawn = max(drawn, geom.Ring(l.Points).Box().Size().X)
			}
			if !near(drawn, mm*perMM, 1e-9) || drawn > 120+1e-6 || drawn < 120/2.6 {
				t.Errorf("%g per mm: a bar of %g units for %g mm in 120", perMM, drawn, mm)
			}
			said, err := unit.ParseLength(r.texts[1].Words, unit.MM)
			if err != nil || !near(said, mm, 1e-9*mm) {
				t.Errorf("%g per mm: the bar says %q, is %g mm (%v)", perMM, r.texts[1].Words, mm, err)
			}
			lead := mm / one / math.Pow(10, math.Floor(math.Log10(mm/one)+1e-9))
			if fraction := strings.Contains(r.texts[1].Words, "/"); !fraction && !near(lead, 1, 1e-6) && !near(lead, 2, 1e-6) && !near(lead, 5, 1e-6) {
				t.Errorf("%g per mm: %q is no round length", perMM, r.texts[1].Words)
			}
		}
	}
}

func TestSizesAreTold(t *testing.T) {
	s := style(t, draw.LightInk())
	v := plan(6, 3000)
	size := v.Widest.Box().Size()
	r := recorded(sheet.Layer(v, s, 350, 520, sheet.Look{}).Drawing)
	for _, want := range []string{unit.Length(size.X, unit.Metric), unit.Length(size.Y, unit.Metric), "Layer 6 of 17", "80 to 96 mm · turned 90°", "grain, this layer"} {
		if !r.says(want) {
			t.Errorf("nothing says %q among %q", want, r.words())
		}
	}
}

func TestLayerLettering(t *testing.T) {
	for _, inches := range []unit.System{unit.Metric, unit.Inch} {
		s := style(t, draw.LightInk())
		s.Units = inches
		for _, size := range sizes {
			for _, look := range []sheet.Look{{}, {Zoom: 2.5, PanX: 60}, {Zoom: 0.3}} {
				for _, number := range []int{6, 7, 14} {
					for _, text := range []float64{0, 14} {
						s.Text = text
						l := sheet.Layer(plan(number, 200), s, size[0], size[1], look)
						checkLettering(t, fmt.Sprint(size, look, number, text), l.Drawing, s.Letters)
					}
				}
			}
		}
	}
}

func TestEmptyLayersSayWhy(t *testing.T) {
	s := style(t, draw.DarkInk())
	for _, v := range []sheet.LayerView{
		{Number: 3, Count: 9, Message: "The piece is not closed."},
		{Number: 3, Count: 9},
		{},
		{Widest: geom.Region{{}}, Number: 1, Count: 1},
		{Widest: geom.Region{{{X: 1, Y: 1}, {X: 1, Y: 1}, {X: 1, Y: 1}}}},
	} {
		for _, size := range [][2]float64{{350, 400}, {1, 1}, {0, 0}, {30, 900}} {
			l := sheet.Layer(v, s, size[0], size[1], sheet.Look{})
			draw.NewRaster(s.Letters).Picture(l.Drawing, 1)
			if size[0] == 350 && len(v.Widest) == 0 && len(recorded(l.Drawing).texts) == 0 {
				t.Errorf("%+v says nothing", v)
			}
		}
	}
}

func TestSameSheetSamePicture(t *testing.T) {
	s := style(t, draw.LightInk())
	a := draw.NewRaster(s.Letters).Picture(sheet.Layer(plan(7, 800), s, 350, 520, sheet.Look{}).Drawing, 1)
	b := draw.NewRaster(s.Letters).Picture(sheet.Layer(plan(7, 800), s, 350, 520, sheet.Look{}).Drawing, 1)
	if !bytes.Equal(a.Pix, b.Pix) {
		t.Error("pictures differ")
	}
}

// The section drawn is the section given: wood-coloured points, counted, make its area.
func TestRimIsWoodColoured(t *testing.T) {
	s := style(t, draw.LightInk())
	v := plan(6, 2000)
	l := sheet.Layer(v, s, 700, 900, sheet.Look{})
	img := draw.NewRaster(s.Letters).Picture(l.Drawing, 1)
	paper, bad := 0, 0
	for y := l.Plan.Min.Y; y < l.Plan.Max.Y; y += 3 {
		for x := l.Plan.Min.X; x < l.Plan.Max.X; x += 3 {
			mm, _ := l.ToMM(x+0.5, y+0.5)
			if v.Core.Contains(mm) {
				continue
			}
			is := img.RGBAAt(int(x), int(y)) == color.RGBA(s.Ink.Paper)
			if is {
				paper++
			}
			if is && v.Widest.Contains(mm) {
				bad++
			}
		}
	}
	if paper == 0 || bad > 3 {
		t.Errorf("%d points of the rim are bare paper, of %d that are", bad, paper)
	}
}

var close4 = golden.Tolerance{Step: 24, Share: 0.004}

func TestLayerPictures(t *testing.T) {
	light, dark := style(t, draw.LightInk()), style(t, draw.DarkInk())
	r := draw.NewRaster(light.Letters)
	golden.Image(t, "layer-turned", r.Picture(sheet.Layer(plan(6, 600), light, 350, 520, sheet.Look{}).Drawing, 1), close4)
	golden.Image(t, "layer-dark", r.Picture(sheet.Layer(plan(13, 600), dark, 250, 380, sheet.Look{}).Drawing, 1), close4)
}

func BenchmarkLayerSheet(b *testing.B) {
	s := style(b, draw.LightInk())
	r := draw.NewRaster(s.Letters)
	v := plan(6, 3000)
	for b.Loop() {
		r.Picture(sheet.Layer(v, s, 350, 520, sheet.Look{}).Drawing, 1)
	}
}
