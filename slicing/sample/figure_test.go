package sample

import (
	"math"
	"math/bits"
	"math/rand"
	"slices"
	"testing"

	"grainstack/slicing/geom"
)

// within is a point of the box, widened by a part of its size.
func within(r *rand.Rand, b geom.Box, wider float64) geom.Vec {
	s := b.Size()
	at := func(from, size float64) float64 { return from + size*(r.Float64()*(1+2*wider)-wider) }
	return geom.Vec{X: at(b.Min.X, s.X), Y: at(b.Min.Y, s.Y), Z: at(b.Min.Z, s.Z)}
}

func direction(r *rand.Rand) geom.Vec {
	return geom.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Unit()
}

func TestLumpDistanceByHand(t *testing.T) {
	ball := egg(at(1, 2, 3), at(10, 10, 10), 0, 0, 1)
	cigar := egg(at(0, 0, 0), at(30, 10, 10), 0, 0, 1)
	stick := limb(at(0, 0, 0), at(100, 0, 0), 10, 10, round, 1, 1)
	horn := limb(at(0, 0, 0), at(50, 0, 0), 40, 10, round, 1, 1) // slope 3 : 4 : 5
	board := limb(at(0, 0, 0), at(100, 0, 0), 10, 10, at(0, 0, 1), 0.5, 1)
	for _, tt := range []struct {
		name string
		l    lump
		p    geom.Vec
		want float64
	}{
		{"outside a ball", ball, at(21, 2, 3), 10},
		{"inside a ball", ball, at(1, 2, 10), -3},
		{"tip of a cigar", cigar, at(30, 0, 0), 0},
		{"waist of a cigar", cigar, at(0, 10, 0), 0},
		{"beside a stick", stick, at(50, 0, 25), 15},
		{"beyond a stick", stick, at(104, 12, 3), 3},
		{"on a horn's slope", horn, at(24, 32, 0), 0},
		{"off a horn's slope", horn, at(27, 36, 0), 5},
		{"on a board's face", board, at(50, 0, 5), 0},
		{"on a board's edge", board, at(50, 10, 0), 0},
	} {
		if got := tt.l.far(tt.p); math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("%s: %g, want %g", tt.name, got, tt.want)
		}
	}
}

func TestNoLumpChangesFasterThanItsStretch(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for i, l := range hare() {
		for range 20_000 {
			p := within(r, l.box(), 0.3)
			q := p.Add(direction(r).Scale(0.01))
			if got := math.Abs(l.far(p)-l.far(q)) / 0.01; got > l.steep*1.0001 {
				t.Fatalf("lump %d changes by %.3f a mm at %v, want at most %.3f", i, got, p, l.steep)
			}
		}
	}
}

func TestSlopeIsTheDerivativeOnTheSkin(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	for i, l := range hare() {
		for range 200 {
			p := within(r, l.box(), 0.2)
			for range 30 {
				d, g := l.distance(p)
				p = p.Sub(g.Scale(d))
			}
			d, g := l.distance(p)
			if math.Abs(d) > 1e-6 {
				continue // too deep to find the skin by its slope
			}
			v := direction(r)
			const h = 1e-4
			got := (l.far(p.Add(v.Scale(h))) - l.far(p.Sub(v.Scale(h)))) / (2 * h)
			if math.Abs(got-g.Dot(v)) > 1e-3 || math.Abs(g.Len()-1) > 1e-9 {
				t.Fatalf("lump %d at %v along %v grows by %.5f a mm, the slope says %.5f", i, p, v, got, g.Dot(v))
			}
		}
	}
}

// The lattice looks at some blocks only, and there at some lumps only; here all nodes are read with all lumps.
func TestLatticeReadsLikeItsSlowTwin(t *testing.T) {
	f := hare()
	l := newLattice(f, 5)
	for z := 1; z < l.blocks[2]*blockSide; z++ {
		for y := range l.blocks[1] * blockSide {
			for x := range l.blocks[0] * blockSide {
				p := l.place(float64(x), float64(y), float64(z))
				d := f.far(p, f.all())
				if got, want := l.reading[l.node(x, y, z)] < 0, d < 0; got != want && math.Abs(d) > 1e-3 {
					t.Fatalf("node at %v: inside %v, want %v, distance %g", p, got, want, d)
				}
			}
		}
	}
}

func TestPointsLieOnTheSkin(t *testing.T) {
	f := hare()
	s := newSkin(newLattice(f, 2))
	s.even()
	var worst, sum float64
	for _, p := range s.at {
		d := f.far(p, f.all())
		if p.Z == 0 {
			d = max(d, 0) // the base is inside the clay, its rim on the skin
		}
		worst, sum = max(worst, math.Abs(d)), sum+math.Abs(d)
	}
	t.Logf("points off the skin by %.5f mm on average, %.4f at worst", sum/float64(len(s.at)), worst)
	if mean := sum / float64(len(s.at)); mean > 0.002 || worst > 0.2 {
		t.Errorf("points off the skin by %.5f mm on average, %.4f at worst; want at most 0.002 and 0.2", mean, worst)
	}
}

func TestPinchedPatterns(t *testing.T) {
	for _, tt := range []struct {
		name    string
		corners uint8
		want    bool
	}{
		{"none", 0, false},
		{"one", 0b0000_0001, false},
		{"an edge", 0b0000_0011, false},
		{"across a face", 0b0000_1001, true},
		{"across a face, other way", 0b0110_0000, true},
		{"across the cube", 0b1000_0001, true},
		{"all but across the cube", 0b0111_1110, true},
		{"half", 0b0000_1111, false},
		{"a corner and its three neighbours", 0b0001_0111, false},
	} {
		if got := pinched[tt.corners]; got != tt.want {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
	for s, p := range pinched {
		if pinched[255-s] != p {
			t.Errorf("%08b is judged unlike its opposite", s)
		}
	}
}

// A checkerboard is pinched everywhere; what unpinch leaves is not.
func TestUnpinch(t *testing.T) {
	l := &lattice{blocks: [3]int{1, 1, 1}, row: 33, level: 33 * 33, reading: make([]int8, 33*33*33)}
	r := rand.New(rand.NewSource(3))
	var cubes []int
	for z := 2; z < 10; z++ {
		for y := 2; y < 10; y++ {
			for x := 2; x < 10; x++ {
				l.reading[l.node(x, y, z)] = int8(-r.Intn(2))
			}
		}
	}
	for z := 1; z < 10; z++ {
		for y := 1; y < 10; y++ {
			for x := 1; x < 10; x++ {
				cubes = append(cubes, l.node(x, y, z))
			}
		}
	}
	if l.unpinch(slices.Clone(cubes)) == 0 {
		t.Error("nothing taken out")
	}
	left := 0
	for _, n := range cubes {
		if s := l.signs(n); pinched[s] {
			t.Fatalf("cube %d is still pinched: %08b", n, s)
		}
		left += bits.OnesCount8(l.signs(n))
	}
	if left == 0 {
		t.Error("everything was taken out")
	}
}
