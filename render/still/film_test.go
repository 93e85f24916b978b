package still

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/draw"
	"image/gif"
	"math"
	"testing"

	"grainstack/render/tone"
)

// film draws a short turntable and gives its pictures as a viewer would see them.
func film(t *testing.T, s Scene, frames int, seconds float64) (shown []*image.RGBA, g *gif.GIF) {
	t.Helper()
	table, err := NewTurntable(s, frames)
	if err != nil {
		t.Fatal(err)
	}
	var buf bytes.Buffer
	last := 0.0
	if err := Film(context.Background(), &buf, table, seconds, func(done float64) { last = done }); err != nil {
		t.Fatal(err)
	}
	if last != 1 {
		t.Errorf("progress ends at %g", last)
	}
	if g, err = gif.DecodeAll(&buf); err != nil {
		t.Fatal(err)
	}
	canvas := image.NewRGBA(image.Rect(0, 0, g.Config.Width, g.Config.Height))
	for _, part := range g.Image {
		draw.Draw(canvas, part.Rect, part, part.Rect.Min, draw.Over)
		frame := image.NewRGBA(canvas.Rect)
		copy(frame.Pix, canvas.Pix)
		shown = append(shown, frame)
	}
	return shown, g
}

// TestFilmShowsThePictures: count, time and size are as asked for; each picture is near to what was drawn, in its mean tone
// within half a step of a byte, in its points within the palette's gaps.
func TestFilmShowsThePictures(t *testing.T) {
	s := bumpy(120, 100)
	shown, g := film(t, s, 7, 2.5)
	sum := 0
	for _, d := range g.Delay {
		sum += d
	}
	if len(shown) != 7 || sum != 250 || g.LoopCount != 0 || g.Config.Width != 120 {
		t.Errorf("%d pictures, %d hundredths of a second, loop %d, %d wide", len(shown), sum, g.LoopCount, g.Config.Width)
	}
	table, err := NewTurntable(s, 7)
	if err != nil {
		t.Fatal(err)
	}
	for i, got := range shown {
		want, err := table.Frame(context.Background(), i)
		if err != nil {
			t.Fatal(err)
		}
		mean, off := 0.0, 0.0
		for k, v := range want.Pix {
			d := float64(got.Pix[k]) - float64(v)
			mean, off = mean+d, off+d*d
		}
		n := float64(len(want.Pix)) * 3 / 4
		if math.Abs(mean/n) > 0.5 || math.Sqrt(off/n) > 5 {
			t.Errorf("picture %d is off by %.2f in its mean and %.2f in its points", i, mean/n, math.Sqrt(off/n))
		}
	}
}

// TestNothingCrawls: paper that the piece and its shadow never reach keeps its very colours in all pictures.
func TestNothingCrawls(t *testing.T) {
	s := bumpy(160, 100)
	s.View.Zoom = 0.6
	shown, _ := film(t, s, 5, 1)
	for i, f := range shown[1:] {
		for y := range 8 {
			for x := range 160 {
				if f.RGBAAt(x, y) != shown[0].RGBAAt(x, y) {
					t.Fatalf("picture %d: paper at %d, %d changes", i+1, x, y)
				}
			}
		}
	}
}

func TestTurntableComesRound(t *testing.T) {
	table, err := NewTurntable(bumpy(60, 60), 4)
	if err != nil {
		t.Fatal(err)
	}
	first, _ := table.Frame(context.Background(), 0)
	again, _ := table.Frame(context.Background(), 4)
	half, err := table.Frame(context.Background(), 2)
	if err != nil || !nearly(first, again) || nearly(first, half) {
		t.Errorf("error %v; round is the same: %v; half round is the same: %v", err, nearly(first, again), nearly(first, half))
	}
}

func nearly(a, b *image.RGBA) bool {
	off := 0
	for i := range a.Pix {
		if d := int(a.Pix[i]) - int(b.Pix[i]); d > 12 || d < -12 {
			off++
		}
	}
	return off < len(a.Pix)/50
}

func TestFilmRefusesTooMuch(t *testing.T) {
	s := bumpy(Largest, Largest)
	table, err := NewTurntable(s, 100)
	if err != nil {
		t.Fatal(err)
	}
	if err := Film(context.Background(), &bytes.Buffer{}, table, 8, nil); err == nil {
		t.Error("100 of the largest pictures were made into a film")
	}
	if _, err := NewTurntable(s, 0); err == nil {
		t.Error("a turntable of no pictures was made")
	}
}

// TestPaletteHoldsItsColours: few colours come back as they are; each of many comes back near.
func TestPaletteHoldsItsColours(t *testing.T) {
	few := image.NewRGBA(image.Rect(0, 0, 30, 1))
	for x := range 30 {
		few.SetRGBA(x, 0, color.RGBA{uint8(8 * x), uint8(200 - 6*x), 40, 255})
	}
	var c census
	c.add(few)
	p := c.palette()
	for x := range 30 {
		want := few.RGBAAt(x, 0)
		got := p.colours[p.nearest[cube(want.R, want.G, want.B)]]
		if got != want {
			t.Errorf("%v came back as %v", want, got)
		}
	}
	wood := image.NewRGBA(image.Rect(0, 0, 64, 64))
	for i := range 64 * 64 {
		l := tone.Lab{20 + float64(i%64), 6 + float64(i/64)/16, 20 + float64(i/64)/8}.Light().Bytes()
		wood.SetRGBA(i%64, i/64, color.RGBA{l[0], l[1], l[2], 255})
	}
	var many census
	many.add(wood)
	p = many.palette()
	for i := range 64 * 64 {
		want := wood.RGBAAt(i%64, i/64)
		got := p.colours[p.nearest[cube(want.R, want.G, want.B)]]
		for _, d := range []int{int(got.R) - int(want.R), int(got.G) - int(want.G), int(got.B) - int(want.B)} {
			if d > 6 || d < -6 {
				t.Fatalf("%v came back as %v", want, got)
			}
		}
	}
}
