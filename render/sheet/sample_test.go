package sheet_test

import (
	"math"
	"os"
	"testing"

	"grainstack/render/draw"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
)

// letters are the program's own.
func letters(t testing.TB) *draw.Letters {
	t.Helper()
	l, err := draw.LoadLetters(os.DirFS("../../assets"))
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func style(t testing.TB, ink draw.Ink) sheet.Style {
	return sheet.Style{Ink: ink, Letters: letters(t)}
}

// blob is a closed line about c whose radius swells and shrinks, n points, counter-clockwise.
func blob(c geom.Vec2, rx, ry, swell float64, n int) geom.Ring {
	r := make(geom.Ring, n)
	for i := range r {
		a := 2 * math.Pi * float64(i) / float64(n)
		f := 1 + swell*(math.Cos(2*a+0.4)+0.5*math.Sin(3*a)+0.2*math.Cos(7*a))
		r[i] = geom.Vec2{X: c.X + rx*f*math.Cos(a), Y: c.Y + ry*f*math.Sin(a)}
	}
	return r
}

func reversed(r geom.Ring) geom.Ring {
	out := make(geom.Ring, len(r))
	for i, p := range r {
		out[len(r)-1-i] = p
	}
	return out
}

const thick = 16.0

// plan is one layer of a made-up piece, n points a line: a body with a hole through it and, high up, a second part.
func plan(number, n int) sheet.LayerView {
	at := func(grow float64) geom.Region {
		f := 1 + grow
		r := geom.Region{blob(geom.Vec2{X: -8, Y: 3}, 118*f, 72*f, 0.12, n)}
		if number < 12 {
			return append(r, reversed(blob(geom.Vec2{X: 70, Y: 8}, 14/f, 11/f, 0.05, n/4)))
		}
		return append(r, blob(geom.Vec2{X: 165, Y: 20}, 22*f, 17*f, 0.1, n/4))
	}
	v := sheet.LayerView{
		Number: number, Count: 17, Bottom: float64(number-1) * thick, Top: float64(number) * thick, Turned: number%2 == 0,
		Widest: at(0), BottomOutline: at(-0.03), TopOutline: at(-0.06), Below: at(0.045),
		Core:  geom.Region{blob(geom.Vec2{X: -32, Y: 1}, 62, 44, 0.14, n)},
		Pins:  []sheet.Peg{{At: geom.Vec2{X: -108, Y: 8}}, {At: geom.Vec2{X: 94, Y: 28}, Lower: true}},
		Notes: []string{"joint below 121 cm², above 118 cm² · grain alternates at both", "rim 14.0 mm at the narrowest · 0.41 kg"},
	}
	for _, r := range v.Widest {
		if r.Area() > 0 {
			v.Parts = append(v.Parts, r.Box())
		}
	}
	return v
}

// stack is a stick of n layers of 13 veneers under a made-up silhouette.
func stack(n int) sheet.StickView {
	v := sheet.StickView{Picked: n/3 + 1}
	height := (float64(n) - 0.35) * thick
	for i := range n {
		z := float64(i) * thick
		l := sheet.StickLayer{Number: i + 1, Bottom: z, Top: min(z+thick, height), PanelBottom: z, PanelTop: z + thick, Turned: i%2 == 1}
		if i == n*2/3 {
			l.Marks = 1
		}
		if i == n*2/3+1 {
			l.Marks = 3
		}
		v.Layers = append(v.Layers, l)
	}
	for i := range 13 {
		t := 1.4
		if i == 0 || i == 12 {
			t = 0.3
		}
		v.Veneers = append(v.Veneers, sheet.Veneer{Thickness: t, Along: i%2 == 0})
	}
	v.Outline = ringOf(outline(height))
	return v
}

// outline is how wide the sample is at each height.
func outline(height float64) (spans []sheet.Span) {
	for i := range 201 {
		f := float64(i) / 200
		r := height * (0.22 + 0.3*math.Sin(math.Pi*f*0.9+0.3)*math.Abs(math.Cos(2.1*f)))
		c := 40 * math.Sin(4*f)
		spans = append(spans, sheet.Span{Z: f * height, Min: c - r, Max: c + 0.8*r})
	}
	return spans
}

// ringOf is the same as a ring: up its right side and down its left.
func ringOf(spans []sheet.Span) geom.Region {
	n := len(spans)
	r := make(geom.Ring, 2*n)
	for i, p := range spans {
		r[i] = geom.Vec2{X: p.Max, Y: p.Z}
		r[2*n-1-i] = geom.Vec2{X: p.Min, Y: p.Z}
	}
	return geom.Region{r}
}
