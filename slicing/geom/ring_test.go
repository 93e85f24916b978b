package geom

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// cases are rings with their area; the last column says why they are here.
var cases = []struct {
	name string
	ring Ring
	area float64
}{
	{"square", Ring{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, 100},
	{"same, clockwise", Ring{{0, 0}, {0, 10}, {10, 10}, {10, 0}}, -100},
	{"far away: no digits are lost", Ring{{1e8, 1e8}, {1e8 + 1, 1e8}, {1e8 + 1, 1e8 + 1}, {1e8, 1e8 + 1}}, 1},
	{"points on its sides", Ring{{0, 0}, {5, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 5}}, 100},
	{"a point twice", Ring{{0, 0}, {10, 0}, {10, 0}, {10, 10}, {0, 10}}, 100},
	{"notched: not convex", Ring{{0, 0}, {10, 0}, {10, 10}, {5, 2}, {0, 10}}, 60},
	{"run twice", Ring{{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}, {10, 0}, {10, 10}, {0, 10}}, 200},
	{"figure eight: one half against the other", Ring{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, 0},
	{"flat", Ring{{0, 0}, {10, 0}, {5, 0}}, 0},
	{"two points", Ring{{0, 0}, {10, 0}}, 0},
	{"one point", Ring{{3, 4}}, 0},
	{"nothing", nil, 0},
}

func backwards(r Ring) Ring {
	out := slices.Clone(r)
	slices.Reverse(out)
	return out
}

// TestRing: reversed it has the area the other way, begun elsewhere, shifted and turned the same.
func TestRing(t *testing.T) {
	turn := func(p Vec2) Vec2 { return Vec2{0.6*p.X - 0.8*p.Y, 0.8*p.X + 0.6*p.Y} }
	for _, tt := range cases {
		check := func(what string, r Ring, area, tol float64) {
			t.Helper()
			if got := r.Area(); math.Abs(got-area) > tol {
				t.Errorf("%s, %s: area %g, want %g", tt.name, what, got, area)
			}
			if got, want := r.Perimeter(), tt.ring.Perimeter(); math.Abs(got-want) > 1e-6 {
				t.Errorf("%s, %s: perimeter %g, want %g", tt.name, what, got, want)
			}
		}
		check("as it is", tt.ring, tt.area, 1e-12)
		check("reversed", backwards(tt.ring), -tt.area, 1e-12)
		check("shifted", Region{tt.ring}.Map(func(p Vec2) Vec2 { return p.Add(Vec2{-7, 3}) })[0], tt.area, 1e-6)
		check("turned", Region{tt.ring}.Map(turn)[0], tt.area, 1e-6)
		check("mirrored", Region{tt.ring}.Mirror(func(p Vec2) Vec2 { return Vec2{-p.X, p.Y} })[0], tt.area, 1e-6)
		if n := len(tt.ring); n > 0 {
			check("begun elsewhere", append(slices.Clone(tt.ring[n/2:]), tt.ring[:n/2]...), tt.area, 1e-12)
		}
	}
}

// TestWinding: one more for each time round, less the other way, and on an edge by the rule: left and lower edges belong,
// right and upper ones do not.
func TestWinding(t *testing.T) {
	square := Ring{{0, 0}, {10, 0}, {10, 10}, {0, 10}}
	for _, tt := range []struct {
		why  string
		ring Ring
		p    Vec2
		want int
	}{
		{"inside", square, Vec2{5, 5}, 1},
		{"reversed", backwards(square), Vec2{5, 5}, -1},
		{"outside", square, Vec2{15, 5}, 0},
		{"run twice", append(slices.Clone(square), square...), Vec2{5, 5}, 2},
		{"level with corners, to their left", square, Vec2{-5, 10}, 0},
		{"level with corners, to their left, below", square, Vec2{-5, 0}, 0},
		{"on the left edge", square, Vec2{0, 5}, 1},
		{"on the right edge", square, Vec2{10, 5}, 0},
		{"on the lower edge", square, Vec2{5, 0}, 1},
		{"on the upper edge", square, Vec2{5, 10}, 0},
		{"on the lower left corner", square, Vec2{0, 0}, 1},
		{"on the upper right corner", square, Vec2{10, 10}, 0},
		{"a corner that only touches the line to the right", Ring{{10, 5}, {20, 0}, {20, 10}}, Vec2{0, 5}, 0},
		{"right of a spike", Ring{{0, 0}, {10, 5}, {0, 10}}, Vec2{10.5, 5}, 0},
		{"no area", Ring{{0, 0}, {10, 0}, {5, 0}}, Vec2{5, 0}, 0},
		{"nothing", nil, Vec2{}, 0},
	} {
		if got := tt.ring.Winding(tt.p); got != tt.want {
			t.Errorf("%s: got %d, want %d", tt.why, got, tt.want)
		}
	}
}

// TestContains: outlines less holes, an island in a hole again; a hole by itself holds nothing.
func TestContains(t *testing.T) {
	square := func(half float64) Ring { return Ring{{-half, -half}, {half, -half}, {half, half}, {-half, half}} }
	g := Region{square(10), backwards(square(6)), square(3)}
	for _, tt := range []struct {
		x    float64
		want bool
	}{{0, true}, {4, false}, {8, true}, {11, false}} {
		if got := g.Contains(Vec2{tt.x, 0}); got != tt.want {
			t.Errorf("at %g: %v", tt.x, got)
		}
	}
	if (Region{backwards(square(6))}).Contains(Vec2{}) {
		t.Error("a hole by itself holds its middle")
	}
	if a := g.Area(); a != 400-144+36 {
		t.Errorf("area %g", a)
	}
	if p := g.Perimeter(); p != 80+48+24 {
		t.Errorf("perimeter %g", p)
	}
}

// TestCentroid: of an L by its two rectangles; it moves along with the region and stays when all rings are reversed.
func TestCentroid(t *testing.T) {
	l := Region{{{0, 0}, {30, 0}, {30, 10}, {10, 10}, {10, 40}, {0, 40}}}
	want := Vec2{(300*15 + 300*5) / 600.0, (300*5 + 300*25) / 600.0}
	for _, tt := range []struct {
		name string
		g    Region
		want Vec2
	}{
		{"L", l, want},
		{"reversed", Region{backwards(l[0])}, want},
		{"far away", l.Map(func(p Vec2) Vec2 { return p.Add(Vec2{1e7, -1e7}) }), want.Add(Vec2{1e7, -1e7})},
		{"behind an empty ring", Region{nil, l[0]}, want},
		{"with a hole", Region{{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, {{5, 0}, {5, 10}, {10, 10}, {10, 0}}}, Vec2{2.5, 5}},
	} {
		if c, ok := tt.g.Centroid(); !ok || c.Sub(tt.want).Len() > 1e-6 {
			t.Errorf("%s: %v %v, want %v", tt.name, c, ok, tt.want)
		}
	}
	for _, g := range []Region{nil, {nil}, {{{1, 2}}}, {{{0, 0}, {10, 0}, {5, 0}}}} { // no area
		if c, ok := g.Centroid(); ok {
			t.Errorf("%v has a centroid %v", g, c)
		}
	}
}

// TestBoxes: grown point by point in any order; what is empty has no size and adds nothing.
func TestBoxes(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 2))
	e := EmptyBox2()
	if !e.Empty() || e.Size() != (Vec2{}) || !(Region{}).Box().Empty() || !EmptyBox().Empty() || EmptyBox().Size() != (Vec{}) {
		t.Error("an empty box is not")
	}
	for range 50 {
		p, q := someVec(rnd), someVec(rnd)
		b := EmptyBox().Add(p)
		if b.Empty() || b.Size() != (Vec{}) || b.Center() != p {
			t.Errorf("the box of %v is %v", p, b)
		}
		if b = b.Add(q); b != EmptyBox().Add(q).Add(p) || b.Add(p.Add(q).Scale(0.5)) != b {
			t.Errorf("the box of %v and %v is %v", p, q, b)
		}
		if !near(b.Center(), p.Add(q).Scale(0.5)) {
			t.Errorf("the middle of %v is %v", b, b.Center())
		}
		r := Ring{{p.X, p.Y}, {q.X, q.Y}}.Box()
		if r.Union(e) != r || e.Union(r) != r || r.Union(EmptyBox2().Add(Vec2{9, 9})) != r.Add(Vec2{9, 9}) {
			t.Errorf("put together with %v", r)
		}
	}
}
