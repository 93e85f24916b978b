package look

import (
	"context"
	"math"
	"testing"

	"grainstack/render/tone"
	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

// TestSheenLiesOnACone: with the viewer in any direction on the cone about the fibre on which the mirror image of the light
// lies, the highlight is as strong as it gets; off the cone it falls (Marschner et al., ACM TOG 24(3), 2005).
func TestSheenLiesOnACone(t *testing.T) {
	light := geom.Vec{X: 0.4, Y: 0.1, Z: 0.9}.Unit()
	at := func(x, azimuth float64) float32 { // the viewer's direction cosine along the fibre, and how far round it
		r := math.Sqrt(1 - x*x)
		v := geom.Vec{X: x, Y: r * math.Sin(azimuth), Z: r * math.Cos(azimuth)}
		s := newSheen(light, v)
		return s.on(0, 0, 1, float32(v.Z), 1, 0, 0)
	}
	for _, azimuth := range []float64{-0.8, -0.3, 0, 0.5, 0.9} {
		best, where := float32(0), 0.0
		for x := -0.9; x <= 0.9; x += 0.01 {
			if s := at(x, azimuth); s > best {
				best, where = s, x
			}
		}
		if math.Abs(where+light.X) > 0.07 { // the squared cosine that it is divided by pulls it outwards a little
			t.Errorf("round by %.1f the highlight is strongest at %.2f along the fibre, want %.2f", azimuth, where, -light.X)
		}
		if off := at(where+0.6, azimuth); off > best/3 {
			t.Errorf("round by %.1f it is %.3f on the cone and %.3f far off", azimuth, best, off)
		}
	}
}

// board is one veneer, seen along and across in the same tone: only the sheen can tell how its fibres run.
func board(turned bool) Wood {
	birch := tone.Lab{81.1, 7.2, 20}
	return Wood{Veneers: []Veneer{{100, true, birch, birch}}, Turned: turned}
}

// TestHighlightTurnsWithTheGrain: seen from some sides a flat board is lighter with its grain along and from others with its
// grain across, and turning the grain by 90 degrees does what going round by 90 degrees does.
func TestHighlightTurnsWithTheGrain(t *testing.T) {
	m := solidtest.Box(100, 100, 10)
	m = solidtest.Moved(m, geom.Vec{X: -50, Y: -50})
	top := func(azimuth float64, turned bool) float64 {
		r := rastered(t, m, upright(m, azimuth, 50, 200, 200))
		f, err := r.Shade(context.Background(), Dress{Wood: board(turned), Paper: lightPaper})
		if err != nil {
			t.Fatal(err)
		}
		sum, n := 0.0, 0
		r.seen(func(x, y int, s *sample) {
			if s.n[2] > packed-10 {
				sum, n = sum+float64(tone.FromByte(f.Image.RGBAAt(x, y).G)), n+1
			}
		})
		return sum / float64(n)
	}
	along, across := 0, 0
	for azimuth := 0.0; azimuth < 180; azimuth += 30 {
		a, b := top(azimuth, false), top(azimuth, true)
		if c := top(azimuth+90, true); math.Abs(c/a-1) > 0.01 {
			t.Errorf("from %g degrees %.4f; grain and viewer turned by 90: %.4f", azimuth, a, c)
		}
		switch {
		case a > 1.06*b:
			along++
		case b > 1.06*a:
			across++
		}
	}
	if along == 0 || across == 0 {
		t.Errorf("the board is clearly lighter along its grain from %d sides and across from %d, of 6", along, across)
	}
}

// TestSheenKeepsTheMean: over a round form the fibres' highlight adds and takes about as much: the mean light stays within
// 2 % of what it is without.
func TestSheenKeepsTheMean(t *testing.T) {
	m := solidtest.Moved(solidtest.Sphere(100, 100_000), geom.Vec{Z: 100})
	for _, light := range []Light{Daylight, Spot, Overcast} {
		v := upright(m, 30, 20, 200, 200)
		r := rastered(t, m, v)
		w := birch(0)
		d := Dress{Wood: w, Paper: lightPaper, Light: light}
		with := meanLight(t, r, d)
		p := r.painter(&d, false)
		sum, n := 0.0, 0
		r.seen(func(x, y int, s *sample) {
			normal, open := s.normal(), float32(s.open)/255
			l := p.light.on(normal.x, normal.y, normal.z, s.h, open)
			l.Key = 0 // the sheen's only light
			red, green, blue := p.wooden(s, normal, open, &l)
			sum, n = sum+float64(tone.Light{red, green, blue}.Luminance()), n+1
		})
		if without := sum / float64(n); math.Abs(with/without-1) > 0.02 {
			t.Errorf("light %d: %.4f with the sheen, %.4f without", light, with, without)
		}
	}
}
