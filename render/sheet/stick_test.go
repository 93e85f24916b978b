package sheet_test

import (
	"fmt"
	"image/color"
	"math"
	"strconv"
	"strings"
	"testing"

	"grainstack/render/draw"
	"grainstack/render/golden"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
)

var stickSizes = [][2]float64{{80, 300}, {80, 1400}, {110, 520}, {180, 700}, {260, 1400}, {260, 300}}

func TestStickUsesItsHeight(t *testing.T) {
	s := style(t, draw.LightInk())
	for _, size := range stickSizes {
		for _, n := range []int{3, 17, 80} {
			st := sheet.Stick(stack(n), s, size[0], size[1])
			if b := st.Body; b.Min.Y < 0 || b.Max.Y > size[1] || b.Size().Y < size[1]-45 || b.Min.X < 0 || b.Max.X > size[0] || b.Size().X < 20 {
				t.Errorf("%v, %d layers: the stick stands in %v", size, n, b)
			}
		}
	}
}

func TestHitTestUndoesDrawing(t *testing.T) {
	s := style(t, draw.LightInk())
	for _, n := range []int{3, 17, 80} {
		v := stack(n)
		st := sheet.Stick(v, s, 110, 600)
		for _, l := range v.Layers {
			for _, f := range []float64{0, 0.01, 0.5, 0.99} {
				z := l.Bottom + (l.Top-l.Bottom)*f
				if f == 0 {
					z += 1e-9
				}
				y := st.Y(z)
				if got, ok := st.LayerAt(y); !ok || got != l.Number {
					t.Errorf("%d layers: y %.2f is layer %d (%v), want %d", n, y, got, ok, l.Number)
				}
				if !near(st.Height(y), z, 1e-9) {
					t.Errorf("height %g comes back as %g", z, st.Height(y))
				}
			}
		}
		if got, ok := st.LayerAt(st.Y(-1)); ok {
			t.Errorf("below the floor is layer %d", got)
		}
		if got, ok := st.LayerAt(st.Y(v.Layers[n-1].Top + 0.01)); ok {
			t.Errorf("above the piece is layer %d", got)
		}
	}
}

func TestStickLettering(t *testing.T) {
	s := style(t, draw.LightInk())
	for _, size := range stickSizes {
		for n := 3; n <= 80; n += 7 {
			for _, text := range []float64{0, 14} {
				s.Text = text
				v := stack(n)
				st := sheet.Stick(v, s, size[0], size[1])
				name := fmt.Sprint(size, n, text)
				checkLettering(t, name, st.Drawing, s.Letters)
				r := recorded(st.Drawing)
				if !r.says(strconv.Itoa(v.Picked)) {
					t.Errorf("%s: the picked layer has no number", name)
				}
				if !r.says("0") {
					t.Errorf("%s: the floor has no height", name)
				}
			}
		}
	}
}

// Veneers that can be told apart show their own tones, at their own heights; turned layers show the other one.
func TestVeneersShowTheirTones(t *testing.T) {
	s := style(t, draw.LightInk())
	v := stack(3)
	v.Outline, v.Picked = nil, 0
	st := sheet.Stick(v, s, 200, 1000)
	img := draw.NewRaster(s.Letters).Picture(st.Drawing, 1)
	x := int((st.Body.Min.X + st.Body.Max.X) / 2)
	for _, l := range v.Layers {
		z := l.PanelBottom
		for i, n := range v.Veneers {
			z += n.Thickness
			if i == 0 || z > l.Top || n.Thickness*st.PerMM < 4 {
				continue
			}
			want := s.Ink.End
			if n.Along != l.Turned {
				want = s.Ink.Long
			}
			if got := img.RGBAAt(x, int(st.Y(z-n.Thickness/2))); !alike(got, want, 2) {
				t.Errorf("layer %d, veneer %d: %v, want %v", l.Number, i, got, want)
			}
		}
	}
}

// Veneers thinner than a picture point come out in their average, weighed by thickness: along the stick no row is far
// from it, so nothing shimmers.
func TestThinVeneersAverage(t *testing.T) {
	s := style(t, draw.LightInk())
	v := stack(80)
	v.Outline, v.Picked = nil, 0
	v.Veneers = nil
	for i := range 40 {
		v.Veneers = append(v.Veneers, sheet.Veneer{Thickness: thick / 40, Along: i%4 == 0})
	}
	for i := range v.Layers {
		v.Layers[i].Turned, v.Layers[i].Marks = false, 0
	}
	st := sheet.Stick(v, s, 200, 1400)
	r := recorded(st.Drawing)
	want := draw.Mix(s.Ink.End, s.Ink.Long, 0.25)
	total, off := 0.0, 0.0
	for _, f := range r.fills {
		if golden.Contrast(f.RGBA, s.Ink.Long) > 1.02 && golden.Contrast(f.RGBA, s.Ink.End) < 1.6 {
			total += f.Region.Area()
			if !alike(f.RGBA, want, 26) {
				off += f.Region.Area()
			}
		}
	}
	if total == 0 || off > 0.02*total {
		t.Errorf("%.0f of %.0f square units are far from the average", off, total)
	}
}

func alike(a, b color.RGBA, by int) bool {
	far := func(x, y uint8) bool { return math.Abs(float64(x)-float64(y)) > float64(by) }
	return !far(a.R, b.R) && !far(a.G, b.G) && !far(a.B, b.B)
}

func TestStickMarks(t *testing.T) {
	s := style(t, draw.LightInk())
	for _, w := range []float64{80, 200} {
		v := stack(17)
		st := sheet.Stick(v, s, w, 600)
		r := recorded(st.Drawing)
		var at []int
		for _, f := range r.fills {
			if f.RGBA == s.Ink.Accent {
				b := f.Region.Box()
				n, ok := st.LayerAt((b.Min.Y + b.Max.Y) / 2)
				if !ok || b.Max.X > w {
					t.Errorf("%g wide: a mark at %v", w, b)
				}
				at = append(at, n)
			}
		}
		if len(at) != 2 || at[0] != 12 || at[1] != 13 || !r.says("3") {
			t.Errorf("%g wide: marks at layers %v", w, at)
		}
	}
}

func TestSticksWithoutPiece(t *testing.T) {
	s := style(t, draw.LightInk())
	flat := stack(4)
	for i := range flat.Layers {
		flat.Layers[i].Bottom, flat.Layers[i].Top, flat.Layers[i].PanelBottom, flat.Layers[i].PanelTop = 0, 0, 0, 0
	}
	odd := stack(5)
	odd.Veneers = nil
	odd.Layers[0].PanelBottom = -6
	for _, v := range []sheet.StickView{{}, {Message: "No piece is open."}, flat, odd} {
		for _, size := range [][2]float64{{110, 500}, {1, 1}, {0, 0}, {20, 900}} {
			st := sheet.Stick(v, s, size[0], size[1])
			draw.NewRaster(s.Letters).Picture(st.Drawing, 1)
			st.LayerAt(10)
		}
	}
	if r := recorded(sheet.Stick(sheet.StickView{Message: "No piece is open."}, s, 260, 500).Drawing); !r.says("No piece is open.") {
		t.Errorf("said %q", r.words())
	}
}

func TestStickPictures(t *testing.T) {
	light, dark := style(t, draw.LightInk()), style(t, draw.DarkInk())
	r := draw.NewRaster(light.Letters)
	golden.Image(t, "stick", r.Picture(sheet.Stick(stack(17), light, 110, 520).Drawing, 1), close4)
	golden.Image(t, "stick-dark", r.Picture(sheet.Stick(stack(80), dark, 180, 700).Drawing, 1), close4)
}

func BenchmarkStick(b *testing.B) {
	s := style(b, draw.LightInk())
	r := draw.NewRaster(s.Letters)
	v := stack(17)
	for b.Loop() {
		r.Picture(sheet.Stick(v, s, 110, 600).Drawing, 1)
	}
}

// A ring has a hole: daylight shows in it in the tone of the wood that goes, and joints stop at it. A box under it is a
// second body.
func TestStickShowsDaylight(t *testing.T) {
	s := style(t, draw.LightInk())
	v := stack(10)
	v.Veneers, v.Picked = nil, 0
	for i := range v.Layers {
		v.Layers[i].Marks = 0
	}
	height := v.Layers[9].Top
	at := geom.Vec2{Y: height * 0.7}
	v.Outline = geom.Region{
		blob(at, 40, 40, 0, 90), reversed(blob(at, 20, 20, 0, 60)),
		{{X: -30}, {X: 30}, {X: 30, Y: height * 0.3}, {X: -30, Y: height * 0.3}},
	}
	st := sheet.Stick(v, s, 500, 600)
	img := draw.NewRaster(s.Letters).Picture(st.Drawing, 1)
	middle := (st.Body.Min.X + st.Body.Max.X) / 2
	daylight := draw.Mix(s.Ink.Paper, s.Ink.Long, 0.36)
	for _, tt := range []struct {
		x, z float64
		want color.RGBA
	}{
		{0, at.Y + 5, daylight}, {12, at.Y - 3, daylight}, {30, at.Y + 5, s.Ink.Long}, {-30, at.Y - 3, s.Ink.Long},
		{0, height*0.3 + 3, daylight}, {0, height*0.3 - 5, s.Ink.Long}, {-28, 5, s.Ink.Long},
	} {
		x, y := middle+tt.x*st.PerMM, st.Y(tt.z)
		if got := img.RGBAAt(int(x), int(y)); !alike(got, tt.want, 3) {
			t.Errorf("%g mm from the middle, %g mm up: %v, want %v", tt.x, tt.z, got, tt.want)
		}
	}
}

// A wide piece in a narrow pane keeps inside the stick, and the sheet says that it is squeezed where there is room.
func TestStickSaysHowMuchItIsSqueezed(t *testing.T) {
	s := style(t, draw.LightInk())
	v := stack(17)
	v.Veneers = nil
	height := v.Layers[16].Top
	v.Outline = geom.Region{{{X: -height / 2}, {X: height / 2}, {X: height / 2, Y: height}, {X: -height / 2, Y: height}}}
	for _, tt := range []struct {
		w    float64
		says string
	}{{1000, ""}, {300, "drawn narrowed to "}, {150, "narrowed to "}, {70, ""}} {
		st := sheet.Stick(v, s, tt.w, 600)
		checkLettering(t, fmt.Sprint(tt.w), st.Drawing, s.Letters)
		r := recorded(st.Drawing)
		said := ""
		for _, words := range r.words() {
			if strings.Contains(words, "narrowed") {
				said = words
			}
		}
		if (said == "") != (tt.says == "") || !strings.HasPrefix(said, tt.says) {
			t.Errorf("%g wide: %q, want %q…", tt.w, said, tt.says)
		}
		wide := 0.0
		for _, f := range r.fills {
			if b := f.Region.Box(); b.Min.X < st.Body.Min.X-1 && f.RGBA != s.Ink.Accent && f.RGBA != s.Ink.Paper || b.Max.X > tt.w {
				t.Errorf("%g wide: %v is outside the stick %v", tt.w, b, st.Body)
			} else if f.RGBA == s.Ink.Long || f.RGBA == s.Ink.End {
				wide = max(wide, b.Size().X)
			}
		}
		if want := height * st.PerMM; tt.says == "" && tt.w > 600 && !near(wide, want, 0.5) {
			t.Errorf("%g wide: the piece is %g across, want %g", tt.w, wide, want)
		} else if said != "" {
			share := 0
			if fmt.Sscanf(strings.TrimPrefix(said, tt.says), "%d", &share); !near(float64(share), 100*wide/want, 0.6) {
				t.Errorf("%g wide: %q, but the piece is drawn %g of %g", tt.w, said, wide, want)
			}
		}
	}
}
