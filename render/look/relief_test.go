package look

import (
	"context"
	"image"
	"image/color"
	"math"
	"testing"

	"grainstack/render/golden"
	"grainstack/render/tone"
	"grainstack/slicing/geom"
)

// bowlField is a board of 60 by 40 mm with a round bowl, a slope, a step and a hole right through.
func bowlField(step, thick float64) *Field {
	f := &Field{W: int(60/step) + 1, H: int(40/step) + 1, StepX: step, StepY: step, Count: 0.01}
	f.Top, f.Floor = make([]int16, f.W*f.H), make([]int16, f.W*f.H)
	for n := range f.Top {
		x, y := float64(n%f.W)*step, float64(n/f.W)*step
		z := thick
		if d := math.Hypot(x-18, y-20); d < 14 {
			z = thick - math.Sqrt(16*16-d*d) + math.Sqrt(16*16-14*14)
		}
		switch {
		case x > 36 && y > 22:
			z = min(z, thick-(x-36)*0.6)
		case x > 36 && y < 18 && x < 48:
			z = thick - 6
		case math.Hypot(x-54, y-9) < 4:
			z = 0
		}
		f.Top[n] = int16(math.Round(z * 100))
	}
	return f
}

func reliefDress(wood Wood) Dress {
	return Dress{Wood: wood, Paper: Paper{Top: color.RGBA{40, 60, 80, 255}, Bottom: color.RGBA{40, 60, 80, 255}, Ink: lightPaper.Ink, Accent: lightPaper.Accent}}
}

// A carved board: the rings of its veneers in the bowl, lines on the slope, the face as it was, and the bed through the hole.
func TestReliefPicture(t *testing.T) {
	w := birch(0)
	w.Alternate = false
	img := relief(t, bowlField(0.4, 16), Above{Size: image.Pt(480, 320), PerMM: 8, Thick: 16, Fine: true}, reliefDress(w))
	golden.Image(t, "relief", img, golden.Tolerance{Step: 6, Share: 0.002})
}

func relief(t *testing.T, f *Field, v Above, d Dress) *image.RGBA {
	t.Helper()
	got, err := NewRenderer().Relief(context.Background(), f, v, d)
	if err != nil {
		t.Fatal(err)
	}
	return got.Image
}

// Each pixel shows the veneer at its height: on a slope of white and black veneers, each as thick as it is; and where nothing is
// left, the paper.
func TestReliefShowsTheVeneers(t *testing.T) {
	const thick, step = 16.0, 0.5
	f := &Field{W: 161, H: 41, StepX: step, StepY: step, Count: 0.01}
	f.Top, f.Floor = make([]int16, f.W*f.H), make([]int16, f.W*f.H)
	for n := range f.Top {
		f.Top[n] = int16(math.Round(100 * (thick - float64(n%f.W)*step/5))) // falls to nothing at the right
	}
	img := relief(t, f, Above{Size: image.Pt(800, 200), PerMM: 10, Thick: thick}, reliefDress(zebra(4)))
	for x := 20; x < 780; x += 20 {
		z := thick - float64(x)/10/5
		within := math.Mod(z, 4)
		if within < 0.5 || within > 3.5 {
			continue
		}
		c := img.RGBAAt(x, 100)
		if white := int(z/4)%2 == 0; white != (c.G > 110) {
			t.Errorf("%g mm up it is %v; white %v", z, c, white)
		}
	}
}

// What is looked at lies where it ought to: the hole is the paper and nothing else is, zoomed in as well.
func TestReliefLies(t *testing.T) {
	f := bowlField(0.4, 16)
	for _, v := range []Above{
		{Size: image.Pt(300, 200), PerMM: 5, Thick: 16},
		{Size: image.Pt(240, 200), Low: geom.Vec2{X: 48, Y: 4}, PerMM: 20, Thick: 16},
	} {
		img := relief(t, f, v, reliefDress(birch(0)))
		for y := 0; y < v.Size.Y; y += 3 {
			for x := 0; x < v.Size.X; x += 3 {
				at := geom.Vec2{X: v.Low.X + (float64(x)+0.5)/v.PerMM, Y: v.Low.Y + (float64(v.Size.Y-y)-0.5)/v.PerMM}
				d := math.Hypot(at.X-54, at.Y-9)
				beside := at.X > 60 || at.Y > 40
				if math.Abs(d-4) < 0.5 {
					continue
				}
				c := img.RGBAAt(x, y)
				blue := c.B > c.R
				if want := d < 4 || beside; blue != want {
					t.Fatalf("%v mm is %v, want paper %v", at, c, want)
				}
			}
		}
	}
}

// A face that looks to the window is brighter than one that looks away.
func TestReliefIsLit(t *testing.T) {
	grey := tone.Lab{60, 0, 0}
	w := Wood{Veneers: []Veneer{{16, true, grey, grey}}}
	f := bowlField(0.4, 16)
	img := relief(t, f, Above{Size: image.Pt(480, 320), PerMM: 8, Thick: 16}, reliefDress(w))
	to, away := img.RGBAAt(26*8, 320-12*8), img.RGBAAt(10*8, 320-28*8) // of the bowl, at the lower right and the upper left
	if to.G <= away.G+10 {
		t.Errorf("towards the window it is %v, away from it %v", to, away)
	}
}

func BenchmarkRelief(b *testing.B) {
	f := bowlField(0.08, 16)
	r := NewRenderer()
	for b.Loop() {
		got, err := r.Relief(context.Background(), f, Above{Size: image.Pt(900, 600), PerMM: 15, Thick: 16}, reliefDress(birch(0)))
		if err != nil {
			b.Fatal(err)
		}
		got.Release()
	}
}
