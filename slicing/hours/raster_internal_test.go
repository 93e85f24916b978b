package hours

import (
	"math"
	"math/rand/v2"
	"testing"

	"grainstack/slicing/geom"
)

// scatter is a stencil with a share of its places set.
func scatter(rnd *rand.Rand, w, h int, share float64) *stencil {
	var s stencil
	s.shape(w, h)
	for j := range h {
		for i := range w {
			if rnd.Float64() < share {
				s.set(i, j)
			}
		}
	}
	return &s
}

// Stencils against their slow twins, place by place.
func TestStencil(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 40 {
		w, h := 1+rnd.IntN(200), 1+rnd.IntN(40)
		s := scatter(rnd, w, h, 0.01+0.3*rnd.Float64())
		radius := 12 * rnd.Float64()
		var wide, turned stencil
		wide.wider(s, radius, nil)
		turned.turnOver(s)
		across := s.transposed()
		for j := range h {
			for i := range w {
				want := false
				for y := max(0, j-12); y <= min(h-1, j+12) && !want; y++ {
					for x := max(0, i-12); x <= min(w-1, i+12) && !want; x++ {
						want = s.has(x, y) && float64((x-i)*(x-i)+(y-j)*(y-j)) <= radius*radius
					}
				}
				if wide.has(i, j) != want {
					t.Fatalf("%d x %d, radius %.2f: place %d, %d is %v", w, h, radius, i, j, !want)
				}
				if turned.has(i, j) == s.has(i, j) || across.has(j, i) != s.has(i, j) {
					t.Fatalf("%d x %d: place %d, %d turned over or across", w, h, i, j)
				}
			}
			var got []bool
			for _, r := range s.runs(nil, j, 7) {
				for len(got) < int(r.from) {
					got = append(got, false)
				}
				for len(got) <= int(r.to) {
					got = append(got, true)
				}
			}
			for i := range w {
				if here := i < len(got) && got[i]; here != s.has(i, j) {
					t.Fatalf("%d x %d: run at %d, %d is %v", w, h, i, j, here)
				}
			}
		}
	}
}

// Places inside a region against its winding.
func TestInside(t *testing.T) {
	region := geom.Region{
		{{X: 3.2, Y: 2.1}, {X: 60.4, Y: 8.3}, {X: 41.1, Y: 51.7}, {X: 8.9, Y: 44.2}},
		{{X: 20.3, Y: 20.2}, {X: 22.7, Y: 31.4}, {X: 35.6, Y: 22.8}},
	}
	var s stencil
	s.shape(130, 110)
	origin := geom.Vec2{X: -1, Y: -2}
	s.inside(region, origin, 0.5)
	for j := range s.h {
		for i := range s.w {
			p := geom.Vec2{X: origin.X + 0.5*float64(i), Y: origin.Y + 0.5*float64(j)}
			want := region[0].Winding(p)+region[1].Winding(p) != 0
			if s.has(i, j) != want {
				t.Fatalf("place %d, %d is %v", i, j, !want)
			}
		}
	}
}

// Every run is gone over once, whatever the region, and a convex one without lifting.
func TestChains(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 9))
	for round := range 30 {
		s := scatter(rnd, 90, 60, 0.05+0.9*rnd.Float64())
		if round == 0 {
			s.shape(90, 60)
			for j := range 60 {
				for i := range 90 {
					if math.Hypot(float64(i-45), float64(j-30)) < 28 {
						s.set(i, j)
					}
				}
			}
		}
		var c chains
		for j := range s.h {
			c.runs = s.runs(c.runs, j, j)
		}
		c.build()
		seen := map[run]int{}
		lifts := 0
		c.order(func() (x, y float64) { return 0, 0 }, 1, func(at start) {
			lifts++
			before := run{row: -9}
			for _, r := range c.along(nil, at) {
				seen[r]++
				if before.row >= 0 && (max(r.row-before.row, before.row-r.row) != 1 || r.from > before.to || before.from > r.to) {
					t.Fatalf("%v follows %v", r, before)
				}
				before = r
			}
		})
		for _, r := range c.runs {
			if seen[r] != 1 {
				t.Fatalf("%v is gone over %d times", r, seen[r])
			}
		}
		if round == 0 && lifts != 1 {
			t.Errorf("a disc takes %d chains", lifts)
		}
	}
}

// The border of a disc: one closed line, its length 2πr, no point off the circle by more than the raster and 0.6 steps allow.
func TestOutline(t *testing.T) {
	const step, radius, w = 0.5, 40.0, 200
	middle := float64(w-1) / 2 * step
	z := make([]float32, w*w)
	var all, region stencil
	all.shape(w, w)
	all.turnOver(&all)
	for j := range w {
		for i := range w {
			z[j*w+i] = float32(math.Hypot(float64(i)*step-middle, float64(j)*step-middle))
		}
	}
	region.fill(z, radius, &all)
	var o outline
	for range 2 { // memory is used again
		o.trace(&region, &all, z, radius)
		n := 0
		o.each(step, func(line []point, closed bool) {
			n++
			length := 0.0
			for i, p := range line {
				q := line[(i+1)%len(line)]
				length += math.Hypot(q.x-p.x, q.y-p.y)
				if off := math.Abs(math.Hypot(p.x-middle, p.y-middle) - radius); off > 0.01 {
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
		line := []point{{}}
		a := 0.0
		for i := range 200 {
			a += 0.3 * rnd.NormFloat64()
			p := line[i]
			line = append(line, point{p.x + math.Cos(a), p.y + math.Sin(a)})
		}
		const within = 0.4
		short := fewer(nil, line, false, within)
		if short[0] != line[0] || short[len(short)-1] != line[len(line)-1] || len(short) >= len(line) {
			t.Fatalf("%d corners of %d, from %v to %v", len(short), len(line), short[0], short[len(short)-1])
		}
		for _, p := range line {
			least := math.MaxFloat64
			for i := range len(short) - 1 {
				least = min(least, toStretch(p, short[i], short[i+1]))
			}
			if least > within+1e-9 {
				t.Fatalf("a point is left %.4f off", least)
			}
		}
	}
}

func toStretch(p, a, b point) float64 {
	dx, dy := b.x-a.x, b.y-a.y
	t := min(max(((p.x-a.x)*dx+(p.y-a.y)*dy)/(dx*dx+dy*dy), 0), 1)
	return math.Hypot(p.x-a.x-t*dx, p.y-a.y-t*dy)
}
