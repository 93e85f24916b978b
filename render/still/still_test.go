package still

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"math"
	"testing"

	"grainstack/render/golden"
	"grainstack/render/look"
	"grainstack/render/tone"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

func paper() look.Paper {
	return look.Paper{Top: color.RGBA{0xf6, 0xf1, 0xe6, 255}, Bottom: color.RGBA{0xe4, 0xdf, 0xd4, 255}, Shadow: 1}
}

// birch is a board of 13 veneers skimmed to 16 mm, varnished.
func birch() look.Wood {
	w := look.Wood{Alternate: true, GlueLine: 0.08, Joint: 0.15, Finish: look.Finish{Shift: 5, EndShift: 9, Chroma: 1.18, Gloss: 0.35}, Seed: 7}
	for i := range 13 {
		w.Veneers = append(w.Veneers, look.Veneer{Thickness: 16.0 / 13, Along: i%2 == 0, Long: tone.Lab{81.1, 7.2, 20}, End: tone.Lab{69, 9, 18.5}})
	}
	return w
}

// scene is a mesh on the floor, longest mm at its longest.
func scene(m *mesh.Mesh, longest float64, w, h int) Scene {
	b := m.Box()
	s := b.Size()
	k := longest / max(s.X, s.Y, s.Z)
	c := b.Center().Scale(k)
	return Scene{
		Body: look.NewBody(m),
		View: look.View{
			Camera:    look.Camera{Azimuth: -1, Elevation: 0.3, Zoom: 1},
			Placement: geom.Placement{Turn: geom.NoTurn(), Scale: k, Shift: geom.Vec{X: -c.X, Y: -c.Y, Z: -b.Min.Z * k}},
			Height:    s.Z * k, Size: image.Pt(w, h),
		},
		Dress: look.Dress{Wood: birch(), Paper: paper()},
	}
}

// BenchmarkStill is a still of 3840 by 2160 of a piece of a million triangles. The aim is 20 s on two cores.
func BenchmarkStill(b *testing.B) {
	s := scene(solidtest.Bumpy(100, 1_000_000), 400, 3840, 2160)
	s.View.Ground = look.OnFloor
	for b.Loop() {
		if _, err := Draw(context.Background(), s, Usual(s.View.Size), nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(s.Body.Triangles()), "triangles")
}

var quick = Care{Looks: 3, Key: 6, Above: 6, Below: 3, Side: 256}

func bumpy(w, h int) Scene { return scene(solidtest.Bumpy(100, 20_000), 240, w, h) }

func TestStillIsTheSameTwice(t *testing.T) {
	s := bumpy(120, 90)
	a, err := Draw(context.Background(), s, quick, nil)
	if err != nil {
		t.Fatal(err)
	}
	b, err := Draw(context.Background(), s, quick, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Pix, b.Pix) {
		t.Error("the same scene gave two pictures")
	}
}

// TestStillTellsHowFarItIs: progress rises from above 0 to 1.
func TestStillTellsHowFarItIs(t *testing.T) {
	last, steps := 0.0, 0
	_, err := Draw(context.Background(), bumpy(40, 30), quick, func(done float64) {
		if done < last || done > 1 {
			t.Errorf("progress went from %g to %g", last, done)
		}
		last, steps = done, steps+1
	})
	if err != nil || math.Abs(last-1) > 1e-6 || steps < 20 {
		t.Errorf("error %v, last progress %g after %d steps", err, last, steps)
	}
}

func TestStillCanBeCalledOff(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	steps := 0
	_, err := Draw(ctx, bumpy(40, 30), quick, func(float64) {
		if steps++; steps == 5 {
			stop()
		}
	})
	if !errors.Is(err, context.Canceled) || steps > 6 {
		t.Errorf("error %v after %d steps", err, steps)
	}
}

func TestStillRefusesSizes(t *testing.T) {
	for _, size := range []image.Point{{0, 10}, {10, -1}, {Largest + 1, 10}, {10, 1 << 30}} {
		s := bumpy(10, 10)
		s.View.Size = size
		if _, err := Draw(context.Background(), s, quick, nil); err == nil {
			t.Errorf("%v was drawn", size)
		}
		if _, err := NewTurntable(s, 4); err == nil {
			t.Errorf("%v was turned", size)
		}
	}
}

// TestStillIsLitLikeTheWindow: the piece's mean light in a still is that of the settled picture within a quarter: a still has
// darker corners and deeper shadows, but must not look like another wood.
func TestStillIsLitLikeTheWindow(t *testing.T) {
	for _, light := range []look.Light{look.Daylight, look.Spot, look.Overcast} {
		s := bumpy(160, 120)
		s.Dress.Light = light
		s.Dress.Paper = look.Paper{}
		img, err := Draw(context.Background(), s, quick, nil)
		if err != nil {
			t.Fatal(err)
		}
		f, err := look.NewRenderer().Fine(context.Background(), s.Body, s.View, s.Dress)
		if err != nil {
			t.Fatal(err)
		}
		a, b := meanColour(img), meanColour(f.Image)
		if ratio := a.Luminance() / b.Luminance(); ratio < 0.8 || ratio > 1.25 {
			t.Errorf("light %d: still %.3f, window %.3f", light, a.Luminance(), b.Luminance())
		}
		if d := a.Lab(); math.Abs(math.Atan2(d[2], d[1])-math.Atan2(b.Lab()[2], b.Lab()[1])) > 0.12 {
			t.Errorf("light %d: still %v, window %v are of another hue", light, d, b.Lab())
		}
	}
}

// meanColour is the mean light of the picture.
func meanColour(img *image.RGBA) tone.Light {
	var sum [3]float64
	for i := 0; i < len(img.Pix); i += 4 {
		for k := range sum {
			sum[k] += float64(tone.FromByte(img.Pix[i+k]))
		}
	}
	n := float64(len(img.Pix) / 4)
	return tone.Light{float32(sum[0] / n), float32(sum[1] / n), float32(sum[2] / n)}
}

// TestStillGoldens keeps small stills. A pixel may be off by 4 of 255 and one in 100 by more: processors differ in how they
// round products that are added up.
func TestStillGoldens(t *testing.T) {
	for name, change := range map[string]func(*Scene){
		"window":   func(*Scene) {},
		"spot":     func(s *Scene) { s.View.Ground, s.Dress.Light = look.OnPlinth, look.Spot },
		"overcast": func(s *Scene) { s.View.Ground, s.Dress.Light = look.OnFloor, look.Overcast },
	} {
		s := scene(solidtest.Bumpy(100, 60_000), 240, 260, 200)
		change(&s)
		img, err := Draw(context.Background(), s, Care{Looks: 4, Key: 8, Above: 8, Below: 4, Side: 384}, nil)
		if err != nil {
			t.Fatal(err)
		}
		golden.Image(t, name, img, golden.Tolerance{Step: 4, Share: 0.01})
	}
}
