package plane

import (
	"math"
	"math/rand/v2"
	"testing"

	"grainstack/slicing/geom"
)

// scatter is a mask with a share of its places set.
func scatter(rnd *rand.Rand, w, h int, share float64) *Mask {
	var s Mask
	s.Reset(w, h)
	for j := range h {
		for i := range w {
			if rnd.Float64() < share {
				s.Set(i, j)
			}
		}
	}
	return &s
}

// Masks against their slow twins, place by place.
func TestMask(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 40 {
		w, h := 1+rnd.IntN(200), 1+rnd.IntN(40)
		s := scatter(rnd, w, h, 0.01+0.3*rnd.Float64())
		radius := 12 * rnd.Float64()
		var wide, turned Mask
		wide.Dilate(s, radius, nil)
		turned.Complement(s)
		across := s.Transposed()
		for j := range h {
			for i := range w {
				want := false
				for y := max(0, j-12); y <= min(h-1, j+12) && !want; y++ {
					for x := max(0, i-12); x <= min(w-1, i+12) && !want; x++ {
						want = s.Has(x, y) && float64((x-i)*(x-i)+(y-j)*(y-j)) <= radius*radius
					}
				}
				if wide.Has(i, j) != want {
					t.Fatalf("%d x %d, radius %.2f: place %d, %d is %v", w, h, radius, i, j, !want)
				}
				if turned.Has(i, j) == s.Has(i, j) || across.Has(j, i) != s.Has(i, j) {
					t.Fatalf("%d x %d: place %d, %d turned over or across", w, h, i, j)
				}
			}
			var got []bool
			for _, r := range s.Runs(nil, j, 7) {
				for len(got) < int(r.From) {
					got = append(got, false)
				}
				for len(got) <= int(r.To) {
					got = append(got, true)
				}
			}
			for i := range w {
				if here := i < len(got) && got[i]; here != s.Has(i, j) {
					t.Fatalf("%d x %d: run at %d, %d is %v", w, h, i, j, here)
				}
			}
		}
	}
}

// TestFill: the places inside a region are those that it contains, those on its edges and under its corners too. Regions
// are turned, shifted and put together of random rings.
func TestFill(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 3))
	for range 100 {
		var g geom.Region
		for range 1 + rnd.IntN(4) {
			r := make(geom.Ring, 3+rnd.IntN(5))
			for i := range r {
				r[i] = geom.Vec2{X: float64(rnd.IntN(24)), Y: float64(rnd.IntN(24))}.Scale(0.5) // on places and half-way between
			}
			g = append(g, r)
		}
		var m Mask
		m.Reset(14, 14)
		origin := geom.Vec2{X: -1, Y: -1}
		m.Fill(g, origin, 1)
		for j := range m.H {
			for i := range m.W {
				if p := origin.Add(geom.Vec2{X: float64(i), Y: float64(j)}); m.Has(i, j) != g.Contains(p) {
					t.Fatalf("place %d, %d of %v is in: %v", i, j, g, m.Has(i, j))
				}
			}
		}
	}
}

// TestFillNeighbours: of two regions that share an edge exactly one has each place on it.
func TestFillNeighbours(t *testing.T) {
	corners := [4]geom.Vec2{{X: 0, Y: 0}, {X: 12, Y: 0}, {X: 12, Y: 12}, {X: 0, Y: 12}}
	rnd := rand.New(rand.NewPCG(1, 4))
	for range 100 {
		mid := geom.Vec2{X: float64(1 + rnd.IntN(11)), Y: float64(1 + rnd.IntN(11))}
		count := make([]int, 13*13)
		for k := range corners {
			var m Mask
			m.Reset(13, 13)
			m.Fill(geom.Region{{corners[k], corners[(k+1)%4], mid}}, geom.Vec2{}, 1)
			for i := range count {
				if m.Has(i%13, i/13) {
					count[i]++
				}
			}
		}
		for i, n := range count {
			want := 1
			if i%13 == 12 || i/13 == 12 {
				want = 0 // on the right and the upper edge of all
			}
			if n != want {
				t.Fatalf("middle %v: place %d, %d is in %d of four triangles, want %d", mid, i%13, i/13, n, want)
			}
		}
	}
}

// The border of a disc: one closed line, its length 2πr, no point off the circle by more than the raster and 0.6 steps allow.
func TestBorder(t *testing.T) {
	const step, radius, w = 0.5, 40.0, 200
	middle := float64(w-1) / 2 * step
	z := make([]float32, w*w)
	var all, region Mask
	all.SetAll(w, w)
	for j := range w {
		for i := range w {
			z[j*w+i] = float32(math.Hypot(float64(i)*step-middle, float64(j)*step-middle))
		}
	}
	region.AtMost(z, radius, &all)
	var o Border
	for range 2 { // memory is used again
		o.Trace(&region, &all, z, radius)
		n := 0
		o.Each(step, 0.6, func(line []geom.Vec2, closed bool) {
			n++
			length := 0.0
			for i, p := range line {
				q := line[(i+1)%len(line)]
				length += math.Hypot(q.X-p.X, q.Y-p.Y)
				if off := math.Abs(math.Hypot(p.X-middle, p.Y-middle) - radius); off > 0.01 {
					t.Errorf("a corner is %.3f mm off", off)
				}
			}
			if !closed || math.Abs(length/(2*math.Pi*radius)-1) > 0.01 {
				t.Errorf("closed %v, %.2f mm long, want %.2f", closed, length, 2*math.Pi*radius)
			}
		})
		if n != 1 {
			t.Errorf("%d lines", n)
		}
	}
}

// A drawn line keeps every point within reach.
func TestFewer(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 7))
	for range 50 {
		line := []geom.Vec2{{}}
		a := 0.0
		for i := range 200 {
			a += 0.3 * rnd.NormFloat64()
			p := line[i]
			line = append(line, p.Add(geom.Vec2{X: math.Cos(a), Y: math.Sin(a)}))
		}
		const within = 0.4
		short := fewer(nil, line, false, within)
		if short[0] != line[0] || short[len(short)-1] != line[len(line)-1] || len(short) >= len(line) {
			t.Fatalf("%d corners of %d, from %v to %v", len(short), len(line), short[0], short[len(short)-1])
		}
		for _, p := range line {
			least := math.MaxFloat64
			for i := range len(short) - 1 {
				least = min(least, Apart(p, short[i], short[i+1]))
			}
			if least > within+1e-9 {
				t.Fatalf("a point is left %.4f off", least)
			}
		}
	}
}

// TestSetSpan: whatever of a stretch the grid has is set, and nothing else.
func TestSetSpan(t *testing.T) {
	for _, w := range []int{1, 63, 64, 65, 130} {
		for from := -2; from < w+2; from += 1 + w/9 {
			for to := -2; to < w+3; to += 1 + w/7 {
				var m Mask
				m.Reset(w, 2)
				for _, j := range []int{-1, 1, 2} {
					m.SetSpan(j, from, to)
				}
				for i := range w {
					if m.Has(i, 0) || m.Has(i, 1) != (i >= from && i < to) {
						t.Fatalf("width %d, %d to %d: place %d has %v, %v", w, from, to, i, m.Has(i, 0), m.Has(i, 1))
					}
				}
			}
		}
	}
}
