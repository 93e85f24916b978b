package sheet_test

import (
	"image/color"
	"math"
	"strings"
	"testing"

	"grainstack/render/draw"
	"grainstack/render/golden"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
)

// northern are even directions over the half sphere, each with the figure that of gives.
func northern(n int, of func(geom.Vec) float64) (out []sheet.CompassPoint) {
	for i := range n {
		z := 1 - (float64(i)+0.5)/float64(n)
		s, c := math.Sincos(2.399963 * float64(i))
		r := math.Sqrt(1 - z*z)
		d := geom.Vec{X: r * c, Y: r * s, Z: z}
		out = append(out, sheet.CompassPoint{Axis: d, Value: of(d), Unbeaten: i%17 == 3, Rough: i%23 == 5})
	}
	return out
}

// hill is a map whose figure is the angle from a direction's axis, degrees.
func hill(from geom.Vec) sheet.CompassView {
	v := sheet.CompassView{Title: "Trapped, cm³ · less is better", Spacing: 0.15, Now: geom.Vec{Y: -0.6, Z: 0.8}, Notes: []string{"1: 14 layers · 3 panels"}}
	v.Points = northern(300, func(d geom.Vec) float64 {
		return math.Atan2(d.Cross(from).Len(), math.Abs(d.Dot(from))) * 180 / math.Pi
	})
	best := 0
	for i, p := range v.Points {
		if p.Value < v.Points[best].Value {
			best = i
		}
	}
	v.Best = []int{best, 40, 120}
	return v
}

// TestCompassPlaces: a direction is found again at its place, the other end of an axis at the same; equal areas of the sphere
// have equal areas on the sheet: of n even directions the share within a circle is that of its area.
func TestCompassPlaces(t *testing.T) {
	c := sheet.Compass(hill(geom.Vec{Z: 1}), style(t, draw.LightInk()), 400, 440)
	rim := c.Spot(geom.Vec{X: 1}).X - c.Spot(geom.Vec{Z: 1}).X
	inside := 0
	points := northern(2000, func(geom.Vec) float64 { return 0 })
	for _, p := range points {
		at := c.Spot(p.Axis)
		back, ok := c.DirectionAt(at.X, at.Y)
		if !ok || back.Sub(p.Axis).Len() > 1e-9 {
			t.Fatalf("%v comes back as %v, %v", p.Axis, back, ok)
		}
		if other := c.Spot(p.Axis.Scale(-1)); other.Sub(at).Len() > 1e-9 {
			t.Fatalf("the other end of %v lies %g away", p.Axis, other.Sub(at).Len())
		}
		if at.Sub(c.Spot(geom.Vec{Z: 1})).Len() < rim/2 {
			inside++
		}
	}
	if share := float64(inside) / float64(len(points)); math.Abs(share-0.25) > 0.005 {
		t.Errorf("%.3f of the directions lie in a quarter of the disc", share)
	}
	if lean := math.Sqrt2 * math.Sin(math.Pi/6) * rim; math.Abs(c.Spot(geom.Vec{X: math.Sin(math.Pi / 3), Z: 0.5}).X-c.Spot(geom.Vec{Z: 1}).X-lean) > 1e-9 {
		t.Error("60 degrees from the middle is not at √2 sin 30° of the rim (Snyder 1987)")
	}
	if _, ok := c.DirectionAt(2, 2); ok {
		t.Error("the sheet's corner is a direction")
	}
}

// brightness of the tone at a direction, 0 to 255.
func brightness(img interface{ At(x, y int) color.Color }, at geom.Vec2) float64 {
	r, g, b, _ := img.At(int(math.Round(at.X)), int(math.Round(at.Y))).RGBA()
	return float64(r+g+b) / 3 / 257
}

// TestCompassTones: the wash grows darker from the best to the worst, whichever way better is, and goes on across the rim.
func TestCompassTones(t *testing.T) {
	from := geom.Vec{X: 1, Y: 0.4, Z: 0.15}.Unit()
	s := style(t, draw.LightInk())
	for _, more := range []bool{false, true} {
		v := hill(from)
		v.More, v.Best, v.Now = more, nil, geom.Vec{}
		for i := range v.Points {
			v.Points[i].Unbeaten, v.Points[i].Rough = false, false
		}
		c := sheet.Compass(v, s, 400, 440)
		img := draw.NewRaster(s.Letters).Picture(c.Drawing, 1)
		tones := []float64{
			brightness(img, c.Spot(from)), brightness(img, c.Spot(geom.Vec{X: 0.85, Y: 0.3, Z: 0.5})), brightness(img, c.Spot(geom.Vec{X: 0.2, Y: -0.5, Z: 0.8})),
		}
		across := brightness(img, c.Spot(geom.Vec{X: -1, Y: -0.4, Z: 0.05})) // beyond the rim from there: 11 degrees away
		if more {
			tones[0], tones[2] = tones[2], tones[0]
		}
		if !(tones[0] > tones[1]+5 && tones[1] > tones[2]+5) {
			t.Errorf("more is better %v: tones %v from the best to the worst", more, tones)
		}
		if first := map[bool]float64{false: tones[0], true: tones[2]}[more]; math.Abs(across-first) > 40 {
			t.Errorf("across the rim the tone is %.0f, beside it %.0f", across, first)
		}
	}
}

// TestCompassMarks: each kind of mark is there, and the figures between the tones are round.
func TestCompassMarks(t *testing.T) {
	v := hill(geom.Vec{X: 1})
	var r record
	sheet.Compass(v, style(t, draw.LightInk()), 500, 560).Play(&r)
	said := map[string]bool{}
	for _, text := range r.texts {
		said[text.Words] = true
	}
	for _, w := range []string{v.Title, "X", "−X", "Y", "−Y", "1", "2", "3", "20", "40", "60", "80", "as it stands", "nothing beats it", v.Notes[0]} {
		if !said[w] {
			t.Errorf("the map doesn't say %q", w)
		}
	}
	v.Whole = true
	for i := range v.Points {
		v.Points[i].Value = float64(4 + i%3)
	}
	r = record{}
	sheet.Compass(v, style(t, draw.LightInk()), 500, 560).Play(&r)
	counts := ""
	for _, text := range r.texts {
		if text.Words >= "4" && text.Words <= "6" {
			counts += text.Words
		}
	}
	if counts != "456" {
		t.Errorf("whole figures from 4 to 6 are marked %q", counts)
	}
}

// TestCompassEmpty: nothing yet, all alike, and no room.
func TestCompassEmpty(t *testing.T) {
	s := style(t, draw.LightInk())
	var r record
	sheet.Compass(sheet.CompassView{Message: "Nothing looked at yet."}, s, 300, 300).Play(&r)
	if len(r.texts) != 1 || !strings.HasPrefix(r.texts[0].Words, "Nothing") {
		t.Errorf("the message reads %v", r.texts)
	}
	v := hill(geom.Vec{Z: 1})
	for i := range v.Points {
		v.Points[i].Value = 7
	}
	r = record{}
	sheet.Compass(v, s, 300, 340).Play(&r)
	found := false
	for _, text := range r.texts {
		found = found || text.Words == "the same everywhere: 7"
	}
	if !found {
		t.Error("a measure that is the same everywhere isn't said to be")
	}
	for _, size := range []float64{1, 20, 60} {
		sheet.Compass(hill(geom.Vec{Z: 1}), s, size, size)
	}
	if _, ok := (sheet.CompassSheet{}).DirectionAt(5, 5); ok {
		t.Error("an empty sheet has a direction")
	}
}

func TestCompassGolden(t *testing.T) {
	light, dark := style(t, draw.LightInk()), style(t, draw.DarkInk())
	r := draw.NewRaster(light.Letters)
	v := hill(geom.Vec{X: 0.5, Y: 0.5, Z: 0.7}.Unit())
	golden.Image(t, "compass", r.Picture(sheet.Compass(v, light, 340, 400).Drawing, 1), close4)
	v.More, v.Pointed = true, geom.Vec{X: -0.4, Z: 0.9}
	golden.Image(t, "compass-dark", r.Picture(sheet.Compass(v, dark, 300, 330).Drawing, 1), close4)
}
