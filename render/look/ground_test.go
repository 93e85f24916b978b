package look

import (
	"context"
	"math"
	"testing"

	"grainstack/render/golden"
	"grainstack/render/tone"
	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

// TestFineIsAsLightAsQuick: when the settled picture lands the piece gets neither lighter nor darker, within half a percent.
func TestFineIsAsLightAsQuick(t *testing.T) {
	m := solidtest.Moved(solidtest.Sphere(100, 100_000), geom.Vec{Z: 100})
	for _, zoom := range []float64{1, 6} {
		v := upright(m, 30, 20, 300, 300)
		v.Zoom = zoom
		d := Dress{Wood: birch(1), Paper: lightPaper}
		r := rastered(t, m, v)
		quick := meanLight(t, r, d)
		f, err := NewRenderer().Fine(context.Background(), NewBody(m), v, d)
		if err != nil {
			t.Fatal(err)
		}
		sum, n := 0.0, 0
		r.seen(func(x, y int, _ *sample) {
			c := f.Image.RGBAAt(x, y)
			l := tone.FromBytes(c.R, c.G, c.B)
			sum, n = sum+float64(l.Luminance()), n+1
		})
		if fine := sum / float64(n); math.Abs(fine/quick-1) > 0.005 {
			t.Errorf("zoom %g: quick %.4f, fine %.4f", zoom, quick, fine)
		}
	}
}

// TestLightsDiffer: a spot models a ball strongly, an overcast sky hardly: lightest over darkest tenth.
func TestLightsDiffer(t *testing.T) {
	m := solidtest.Moved(solidtest.Sphere(100, 100_000), geom.Vec{Z: 100})
	contrast := func(l Light) float64 {
		r := rastered(t, m, upright(m, 30, 20, 120, 120))
		f, err := r.Shade(context.Background(), Dress{Wood: plain(tone.Lab{80, 0, 0}), Paper: lightPaper, Light: l})
		if err != nil {
			t.Fatal(err)
		}
		var counts [256]int
		n := 0
		r.seen(func(x, y int, _ *sample) { counts[f.Image.RGBAAt(x, y).G]++; n++ })
		tenth := func(step, from int) float64 {
			left := n / 10
			for i := from; ; i += step {
				if left -= counts[i]; left <= 0 {
					return float64(tone.FromByte(uint8(i)))
				}
			}
		}
		return tenth(-1, 255) / tenth(1, 0)
	}
	spot, window, sky := contrast(Spot), contrast(Daylight), contrast(Overcast)
	if !(spot > window && window > 1.3*sky) || sky < 1.1 {
		t.Errorf("contrast: spot %.2f, window %.2f, overcast %.2f", spot, window, sky)
	}
}

// TestFloorLeavesThePieceAlone: what it stands on changes no pixel of the piece.
func TestFloorLeavesThePieceAlone(t *testing.T) {
	m := solidtest.Box(60, 60, 60)
	v := upright(m, 20, 20, 200, 200)
	d := Dress{Wood: birch(0), Paper: lightPaper}
	paper := picture(t, m, v, d)
	v.Ground = OnFloor
	floor := picture(t, m, v, d)
	r := rastered(t, m, v)
	seen := 0
	r.seen(func(x, y int, _ *sample) {
		seen++
		if paper.RGBAAt(x, y) != floor.RGBAAt(x, y) {
			t.Fatalf("pixel %d, %d: %v on paper, %v on the floor", x, y, paper.RGBAAt(x, y), floor.RGBAAt(x, y))
		}
	})
	if share, _ := golden.Compare(paper, floor, 0); seen == 0 || share < 0.3 {
		t.Errorf("the floor shows in %.0f %% of the picture", 100*share)
	}
}

// TestPlinthIsABlock: rays meet the plinth's faces where a slow walk along the ray says.
func TestPlinthIsABlock(t *testing.T) {
	m := solidtest.Moved(solidtest.Box(60, 40, 60), geom.Vec{X: -30, Y: -20})
	for _, azimuth := range []float64{0, 33, 90, 200} {
		for _, elevation := range []float64{3, 30, 90} {
			v := upright(m, azimuth, elevation, 120, 100)
			v.Ground = OnPlinth
			b := NewBody(m)
			r := rastered(t, m, v)
			box, ok := v.Plinth(b)
			if !ok || box.Min.X > -30 || box.Max.Y < 20 || box.Max.Z != 0 {
				t.Fatalf("the plinth is %v, %v", box, ok)
			}
			for y := 0; y < 100; y += 7 {
				for x := 0; x < 120; x += 7 {
					checkPlinth(t, r, box, float64(x)+0.5, float64(y)+0.5)
				}
			}
		}
	}
}

func checkPlinth(t *testing.T, r *Renderer, box geom.Box, x, y float64) {
	t.Helper()
	got := r.footing.meet(&r.lens, x, y)
	p := r.lens.point(x, y, 0)
	p = p.Add(r.lens.ahead.Scale((1 - p.Z) / r.lens.ahead.Z)) // just above the plinth
	const step = 0.01
	inside := func(q geom.Vec) bool {
		return q.Z <= 0 && q.X >= box.Min.X && q.X <= box.Max.X && q.Y >= box.Min.Y && q.Y <= box.Max.Y
	}
	for !inside(p) && p.Z > box.Min.Z {
		p = p.Add(r.lens.ahead.Scale(step))
	}
	if d := got.p.Sub(p).Len(); d > 0.05 {
		t.Errorf("pixel %.0f, %.0f: meets %v (part %d), a slow walk %v", x, y, got.p, got.part, p)
	}
}

// TestFromBelowThereIsOnlyPaper: who looks up through the floor sees neither floor nor plinth.
func TestFromBelowThereIsOnlyPaper(t *testing.T) {
	m := solidtest.Box(60, 60, 60)
	v := upright(m, 20, -30, 100, 100)
	d := Dress{Wood: birch(0), Paper: lightPaper}
	want := picture(t, m, v, d)
	v.Ground = OnFloor
	if share, _ := golden.Compare(want, picture(t, m, v, d), 0); share > 0 {
		t.Errorf("the floor shows from below in %.1f %% of the picture", 100*share)
	}
}

// TestGatheredInStrips: a picture gathered in strips adds up to the one gathered in one go, and the light asked for is what
// colours it.
func TestGatheredInStrips(t *testing.T) {
	m := solidtest.Bumpy(100, 20_000)
	pl, height := stand(m, 200)
	v := upright(m, 30, 20, 90, 64)
	v.Placement, v.Height, v.Ground = pl, height, OnPlinth
	b, d := NewBody(m), Dress{Wood: birch(0), Paper: lightPaper}
	even := func(places []Place, out []Lit) {
		for i, p := range places {
			l := 0.5 + 0.3*p.NZ
			out[i] = Lit{Red: l, Green: l, Blue: l, Sky: 1}
		}
	}
	draw := func(rows int) []float32 {
		sum := make([]float32, 3*90*64)
		r := NewRenderer()
		for y := 0; y < 64; y += rows {
			n := min(rows, 64-y)
			if err := r.Gathered(context.Background(), b, v, d, Strip{Y: y, Rows: n, DX: 0.2}, even, sum[3*90*y:3*90*(y+n)]); err != nil {
				t.Fatal(err)
			}
		}
		return sum
	}
	whole, strips := draw(64), draw(13)
	off, light := 0, 0.0
	for i := range whole {
		light += float64(whole[i])
		if math.Abs(float64(whole[i]-strips[i])) > 0.02 {
			off++
		}
	}
	// A strip's upper bound moves the pixel grid's rounding: single pixels at edges of facets may fall to the neighbour.
	if off > len(whole)/200 || light == 0 {
		t.Errorf("%d of %d values differ; light %.1f", off, len(whole), light)
	}
}

// TestDepthsHideWhatLiesBehind: from straight above, the floor under a table's top is hidden and beside it is not, and the top
// does not hide itself.
func TestDepthsHideWhatLiesBehind(t *testing.T) {
	m := solidtest.Moved(solidtest.Box(60, 40, 5), geom.Vec{X: -30, Y: -20, Z: 30})
	v := View{Placement: geom.Placement{Turn: geom.NoTurn(), Scale: 1}, Height: 35}
	up := geom.Vec{Z: 1}
	depths, err := NewRenderer().Depths(context.Background(), NewBody(m), v, up, 256, nil)
	if err != nil {
		t.Fatal(err)
	}
	places := []Place{{Z: 0, NZ: 1}, {X: 29, Y: 19, NZ: 1}, {X: 31.5, NZ: 1}, {Y: 500, NZ: 1}, {X: 10, Y: 5, Z: 35, NZ: 1}, {Z: 30, NZ: -1}}
	out := make([]float32, len(places))
	depths.Weigh(places, up, depths.Cell(), out)
	for i, want := range []float32{-1, -1, 1, 1, 1, 0} {
		if math.Abs(float64(out[i]-want)) > 1e-3 {
			t.Errorf("place %v: %g, want %g", places[i], out[i], want)
		}
	}
}

// TestGoldens keeps small pictures of the look. A pixel may be off by 4 of 255 and one in 200 by more: processors differ in
// how they round products that are added up.
func TestGoldens(t *testing.T) {
	m := solidtest.Bumpy(100, 60_000)
	pl, height := stand(m, 240)
	view := func(change func(*View, *Dress)) (View, Dress) {
		v := View{Camera: Camera{Azimuth: -1, Elevation: 0.35, Zoom: 1}, Placement: pl, Height: height}
		v.Size.X, v.Size.Y = 260, 200
		d := Dress{Wood: birch(0), Paper: lightPaper}
		change(&v, &d)
		return v, d
	}
	band := func(d *Dress) {
		d.Woods, d.Layers = []Wood{walnut(1)}, layersOf(d.Wood, height)
		d.Layers[4].Wood, d.Layers[7].Wood = 1, 1
	}
	for name, change := range map[string]func(*View, *Dress){
		"bare":     func(*View, *Dress) {},
		"varnish":  func(_ *View, d *Dress) { d.Wood = birch(1) },
		"spot":     func(v *View, d *Dress) { v.Ground, d.Light, d.Wood = OnPlinth, Spot, birch(1) },
		"overcast": func(v *View, d *Dress) { v.Ground, d.Light = OnFloor, Overcast },
		"mixed":    func(_ *View, d *Dress) { d.Wood = birch(1); band(d) },
		"near":     func(v *View, d *Dress) { v.Zoom, d.Wood = 7, birch(1) },
		"lifted":   func(v *View, _ *Dress) { v.Lift, v.Joints = 6, joints(height, 16) },
	} {
		v, d := view(change)
		golden.Image(t, name, fineOf(t, m, v, d), golden.Tolerance{Step: 4, Share: 0.005})
	}
}
