package look

import (
	"bytes"
	"context"
	"image"
	"math"
	"runtime"
	"testing"

	"grainstack/render/tone"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestStripesOnThePicture: every pixel of a wall, a cone and a sphere is white or black as the recipe has it at the height
// that the pixel's ray meets, except within one pixel of an edge between veneers.
func TestStripesOnThePicture(t *testing.T) {
	w := zebra(7)
	w.Bottom = -2
	for _, tt := range []struct {
		name      string
		m         *mesh.Mesh
		elevation float64
	}{
		{"wall", solidtest.Box(100, 100, 100), 0},
		{"wall from above", solidtest.Box(100, 100, 100), 30},
		{"cone", solidtest.Frustum(60, 20, 100, 400), 10},
		{"sphere", solidtest.Moved(solidtest.Sphere(60, 200_000), geom.Vec{Z: 60}), 20},
	} {
		r := rastered(t, tt.m, upright(tt.m, 25, tt.elevation, 500, 400))
		f, err := r.Shade(context.Background(), Dress{Wood: w, Paper: lightPaper})
		if err != nil {
			t.Fatal(err)
		}
		checked := 0
		r.seen(func(x, y int, s *sample) {
			fromEdge := math.Mod(float64(s.h)+2+70, 7)
			if fromEdge = min(fromEdge, 7-fromEdge); fromEdge < 1.01*float64(s.foot) || s.foot == 0 || math.Abs(float64(s.n[2])) > 0.99*packed {
				return
			}
			checked++
			white := int(math.Floor((float64(s.h)+2)/7))%2 == 0
			if c := f.Image.RGBAAt(x, y); (c.G > 90) != white {
				t.Fatalf("%s: pixel %d, %d at %.2f mm is %v, white %v", tt.name, x, y, s.h, c, white)
			}
		})
		if checked < 5000 {
			t.Errorf("%s: only %d pixels were checked", tt.name, checked)
		}
	}
}

// TestStripesTooFineToSee: a wall whose stripes are far below a pixel has the light of plain wood of the mean tone.
func TestStripesTooFineToSee(t *testing.T) {
	m := solidtest.Box(100, 100, 100)
	r := rastered(t, m, upright(m, 0, 0, 60, 60))
	w := zebra(0.11)
	white, black := w.Veneers[0].Long.Light(), w.Veneers[1].Long.Light()
	mean := white.Lerp(black, 0.5).Lab()
	got := meanLight(t, r, Dress{Wood: w, Paper: lightPaper})
	want := meanLight(t, r, Dress{Wood: plain(mean), Paper: lightPaper})
	if math.Abs(got/want-1) > 0.01 {
		t.Errorf("mean light %.4f, want %.4f within 1 %%", got, want)
	}
}

// TestNoMoire compares small pictures of finely striped domes with large ones looked at through a soft round pixel (a bell
// of half a pixel's width): what is left is what the eye would take for a pattern that is not there.
func TestNoMoire(t *testing.T) {
	const times = 10
	m := solidtest.Moved(solidtest.Sphere(100, 200_000), geom.Vec{Z: 100})
	w := zebra(1.36)
	for _, elevation := range []float64{0, 35, 80} {
		for _, size := range []int{30, 64, 110} {
			v := upright(m, 40, elevation, size, size)
			small := rastered(t, m, v)
			f, err := small.Shade(context.Background(), Dress{Wood: w})
			if err != nil {
				t.Fatal(err)
			}
			v.Size = image.Pt(size*times, size*times)
			large := picture(t, m, v, Dress{Wood: w})
			sum, n := 0.0, 0
			small.seen(func(x, y int, s *sample) {
				if facing(small, s) < 0.35 { // the rim is a matter of edges, not of stripes
					return
				}
				d := float64(tone.FromByte(f.Image.RGBAAt(x, y).G)) - softPixel(large, x, y, times)
				sum, n = sum+d*d, n+1
			})
			// White and black here are 0.87 and 0.01; in birch the contrast is a sixth of that. Unfiltered stripes are off by 0.3.
			if rms := math.Sqrt(sum / float64(n)); rms > 0.025 {
				t.Errorf("elevation %g, %d pixels: off by %.4f (root mean square), want at most 0.025", elevation, size, rms)
			}
		}
	}
}

// softPixel is the light of a picture that is so many times finer, weighed by a bell round the pixel's middle.
func softPixel(fine *image.RGBA, x, y, times int) float64 {
	sum, weight := 0.0, 0.0
	for j := -times; j < 2*times; j++ {
		for i := -times; i < 2*times; i++ {
			dx, dy := (float64(i)+0.5)/float64(times)-0.5, (float64(j)+0.5)/float64(times)-0.5
			w := math.Exp(-(dx*dx + dy*dy) / (2 * softness * softness))
			sum += w * float64(tone.FromByte(fine.RGBAAt(x*times+i, y*times+j).G))
			weight += w
		}
	}
	return sum / weight
}

func facing(r *Renderer, s *sample) float64 {
	n := geom.Vec{X: float64(s.n[0]), Y: float64(s.n[1]), Z: float64(s.n[2])}
	return -n.Unit().Dot(r.lens.ahead)
}

// TestEndGrainIsDarker looks at two sides of a box square on, so that the light is the same: the side that cuts the fibres is
// darker (Hirata, Hayashi & Ohta, J. Wood Sci. 66, 2020), and turning the panel swaps the sides.
func TestEndGrainIsDarker(t *testing.T) {
	m := solidtest.Box(100, 100, 100)
	side := func(azimuth float64, turned bool) float64 {
		w := Wood{Veneers: []Veneer{{2, true, tone.Lab{81.1, 7.2, 20}, tone.Lab{69, 9, 18.5}}}, Turned: turned}
		return meanLight(t, rastered(t, m, upright(m, azimuth, 0, 200, 200)), Dress{Wood: w, Paper: lightPaper})
	}
	end, long := side(0, false), side(90, false)
	if end > 0.85*long {
		t.Errorf("end grain %.3f, long grain %.3f", end, long)
	}
	if e, l := side(90, true), side(0, true); math.Abs(e-end) > 0.01*end || math.Abs(l-long) > 0.01*long {
		t.Errorf("turned: end grain %.3f, long grain %.3f; want %.3f, %.3f", e, l, end, long)
	}
}

// TestBrightnessStaysInBounds: no part of the wood, highlight included, is burnt out.
func TestBrightnessStaysInBounds(t *testing.T) {
	m := solidtest.Moved(solidtest.Sphere(100, 100_000), geom.Vec{Z: 100})
	for coat := range 2 {
		img := picture(t, m, upright(m, 0, 20, 200, 200), Dress{Wood: birch(float64(coat)), Paper: lightPaper})
		for i, c := range img.Pix {
			if i%4 == 0 && c == 255 {
				t.Fatalf("coat %d: pixel %d is burnt out", coat, i/4)
			}
		}
	}
}

// TestSamePicture: whatever was drawn before and however many cores there are, a view and a dress give the same bytes.
func TestSamePicture(t *testing.T) {
	m := solidtest.Bumpy(100, 40_000)
	pl, height := stand(m, 300)
	v := View{Camera: Camera{Azimuth: 1, Elevation: 0.3, Zoom: 1}, Placement: pl, Height: height, Size: image.Pt(200, 160)}
	lifted := v
	lifted.Lift, lifted.Joints = 5, joints(height, 16)
	d, ctx, body := Dress{Wood: birch(1), Paper: lightPaper}, context.Background(), NewBody(m)
	draw := func(r *Renderer, v View) []byte {
		if err := r.Raster(ctx, body, v); err != nil {
			t.Fatal(err)
		}
		f, err := r.Shade(ctx, d)
		if err != nil {
			t.Fatal(err)
		}
		return bytes.Clone(f.Image.Pix)
	}
	r := NewRenderer()
	plain, apart := draw(r, v), draw(r, lifted)
	if _, err := r.Fine(ctx, body, lifted, Dress{Wood: birch(0)}); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(plain, draw(r, v)) {
		t.Error("the same view gave another picture after others had been drawn")
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if !bytes.Equal(plain, draw(NewRenderer(), v)) || !bytes.Equal(apart, draw(NewRenderer(), lifted)) {
		t.Error("one core gives another picture than two")
	}
}

// TestShadeAfterFine: a plain picture after a settled one does not shift.
func TestShadeAfterFine(t *testing.T) {
	m := solidtest.Box(40, 60, 80)
	v, d, ctx := upright(m, 20, 20, 150, 150), Dress{Wood: birch(0), Paper: lightPaper}, context.Background()
	want := picture(t, m, v, d)
	r := NewRenderer()
	if _, err := r.Fine(ctx, NewBody(m), v, d); err != nil {
		t.Fatal(err)
	}
	f, err := r.Shade(ctx, d)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(f.Image.Pix, want.Pix) {
		t.Error("the picture differs from one drawn afresh")
	}
}

// TestFineEdges: the rim of a settled picture has shades between wood and paper.
func TestFineEdges(t *testing.T) {
	m := solidtest.Moved(solidtest.Sphere(100, 200_000), geom.Vec{Z: 100})
	v := upright(m, 0, 0, 80, 80)
	black := Paper{}
	f, err := NewRenderer().Fine(context.Background(), NewBody(m), v, Dress{Wood: plain(tone.Lab{90, 0, 0}), Paper: black})
	if err != nil {
		t.Fatal(err)
	}
	shades := map[uint8]bool{}
	for x := range 80 {
		shades[f.Image.RGBAAt(x, 8).G] = true
	}
	if len(shades) < 6 {
		t.Errorf("a row across the rim has only %d shades", len(shades))
	}
}

func TestShadowLiesOnTheFloor(t *testing.T) {
	m := solidtest.Box(60, 60, 60)
	d := Dress{Wood: birch(0), Paper: lightPaper}
	dark := func(elevation, strength float64) (n int) {
		d.Paper.Shadow = strength
		v := upright(m, 20, elevation, 200, 200)
		with := picture(t, m, v, d)
		d.Paper.Shadow = 0
		without := picture(t, m, v, d)
		for i := range with.Pix {
			if int(without.Pix[i])-int(with.Pix[i]) > 8 {
				n++
			}
		}
		return n
	}
	if n := dark(30, 1); n < 3000 {
		t.Errorf("%d bytes are darker by a shadow seen from above, want more", n)
	}
	if n := dark(-30, 1); n != 0 {
		t.Errorf("%d bytes are darker seen from below the floor", n)
	}
}
