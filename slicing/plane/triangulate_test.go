package plane

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"grainstack/slicing/geom"
)

// star is a ring of n points about a middle, its radius wavering between r and R, on float32 places.
func star(rnd *rand.Rand, at geom.Vec2, r, R float64, n int) geom.Ring {
	ring := make(geom.Ring, n)
	for i := range ring {
		a, d := 2*math.Pi*float64(i)/float64(n), r+(R-r)*rnd.Float64()
		ring[i] = geom.Vec2{X: float64(float32(at.X + d*math.Cos(a))), Y: float64(float32(at.Y + d*math.Sin(a)))}
	}
	return ring
}

func reversed(r geom.Ring) geom.Ring {
	out := make(geom.Ring, len(r))
	for i, p := range r {
		out[len(r)-1-i] = p
	}
	return out
}

func moved(r geom.Ring, by geom.Vec2) geom.Ring {
	out := make(geom.Ring, len(r))
	for i, p := range r {
		out[i] = p.Add(by)
	}
	return out
}

// rectangle has points along its sides, so that many lie in one line.
func rectangle(w, h float64, n int) geom.Ring {
	var r geom.Ring
	corners := []geom.Vec2{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h}, {X: 0, Y: h}}
	for i, a := range corners {
		b := corners[(i+1)%4]
		for k := range n {
			r = append(r, a.Add(b.Sub(a).Scale(float64(k)/float64(n))))
		}
	}
	return r
}

// checkTriangles fails unless every side of a ring is in one triangle, every other side in two that run along it against
// each other, and, where wanted, no triangle is turned over or flat and the areas add up.
func checkTriangles(t *testing.T, rings []geom.Ring, triangles [][3]int32, whole bool) {
	t.Helper()
	var at []geom.Vec2
	sides := map[[2]int32]int{}
	for _, r := range rings {
		from := int32(len(at))
		for i := range int32(len(r)) {
			sides[[2]int32{from + (i+1)%int32(len(r)), from + i}]++
		}
		at = append(at, r...)
	}
	area := 0.0
	for _, tri := range triangles {
		a := side(at[tri[0]], at[tri[1]], at[tri[2]])
		if whole && !(a > 0) {
			t.Fatalf("triangle %v has area %g", tri, a/2)
		}
		area += a / 2
		for k := range tri {
			sides[[2]int32{tri[k], tri[(k+1)%3]}]++
		}
	}
	for s, n := range sides {
		if n != 1 || sides[[2]int32{s[1], s[0]}] != 1 {
			t.Fatalf("side %v is there %d times, its partner %d times", s, n, sides[[2]int32{s[1], s[0]}])
		}
	}
	if want := geom.Region(rings).Area(); math.Abs(area-want) > 1e-9*math.Abs(want) {
		t.Errorf("triangles cover %g, the rings enclose %g", area, want)
	}
}

func TestTriangulate(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	square := func(x, y, a float64) geom.Ring { return moved(rectangle(a, a, 1), geom.Vec2{X: x, Y: y}) }
	comb := geom.Ring{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 50}}
	for x := 90.0; x > 0; x -= 10 {
		comb = append(comb, geom.Vec2{X: x, Y: 1}, geom.Vec2{X: x - 5, Y: 50})
	}
	var grid []geom.Ring
	grid = append(grid, rectangle(100, 100, 40))
	for x := range 9 {
		for y := range 9 {
			grid = append(grid, reversed(square(float64(10*x+5), float64(10*y+5), 5)))
		}
	}
	for _, tt := range []struct {
		name  string
		rings []geom.Ring
	}{
		{"nothing", nil},
		{"triangle", []geom.Ring{{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 0, Y: 1}}}},
		{"points along the sides", []geom.Ring{rectangle(30, 20, 10)}},
		{"comb", []geom.Ring{comb}},
		{"hole", []geom.Ring{rectangle(30, 30, 5), reversed(square(10, 10, 5))}},
		{"hole listed first", []geom.Ring{reversed(square(10, 10, 5)), rectangle(30, 30, 5)}},
		{"81 holes in rows", grid},
		{"island in a hole", []geom.Ring{square(0, 0, 30), reversed(square(5, 5, 20)), square(10, 10, 5)}},
		{"two outlines", []geom.Ring{square(0, 0, 10), square(20, 0, 10)}},
		{"hole touching the outline in one ring", []geom.Ring{{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 6, Y: 3}, {X: 7, Y: 4}, {X: 10, Y: 0}, {X: 10, Y: 10}, {X: 0, Y: 10}}}},
		{"hole touching with its rightmost corner", []geom.Ring{{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 10}, {X: 0, Y: 10}}, {{X: 10, Y: 0}, {X: 6, Y: 3}, {X: 7, Y: 4}}}},
		{"holes touching each other", []geom.Ring{square(0, 0, 30), {{X: 10, Y: 10}, {X: 8, Y: 15}, {X: 12, Y: 15}, {X: 10, Y: 10}, {X: 12, Y: 5}, {X: 8, Y: 5}}}},
		{"outlines touching", []geom.Ring{square(0, 0, 10), square(10, 10, 10)}},
		{"star", []geom.Ring{star(rnd, geom.Vec2{X: 300, Y: 200}, 10, 100, 500)}},
		{"star with holes", []geom.Ring{star(rnd, geom.Vec2{}, 150, 160, 900), reversed(star(rnd, geom.Vec2{X: 60, Y: 10}, 5, 40, 200)),
			reversed(star(rnd, geom.Vec2{X: -60, Y: 10}, 5, 40, 200)), reversed(star(rnd, geom.Vec2{X: 0, Y: -80}, 5, 40, 200)), star(rnd, geom.Vec2{X: 60, Y: 10}, 1, 4, 50)}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			apart := tt.name == "hole touching with its rightmost corner"
			for i, turn := range []func(geom.Vec2) geom.Vec2{
				func(p geom.Vec2) geom.Vec2 { return p },
				func(p geom.Vec2) geom.Vec2 { return geom.Vec2{X: -p.Y, Y: p.X} },
				func(p geom.Vec2) geom.Vec2 { return geom.Vec2{X: -p.X, Y: -p.Y} },
				func(p geom.Vec2) geom.Vec2 { return geom.Vec2{X: p.X + 2*p.Y, Y: p.Y} },
			} {
				if apart && i > 0 {
					break
				}
				rings := make([]geom.Ring, len(tt.rings))
				for i, r := range tt.rings {
					for _, p := range r {
						rings[i] = append(rings[i], turn(p))
					}
				}
				triangles, ok := Triangulate(rings)
				if !ok {
					t.Error("not ok")
				}
				checkTriangles(t, rings, triangles, !apart)
			}
		})
	}
}

// TestTriangulateAnything: whatever the rings, the triangles close them.
func TestTriangulateAnything(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	for range 300 {
		var rings []geom.Ring
		for range 1 + rnd.Intn(4) {
			r := make(geom.Ring, 3+rnd.Intn(12))
			for i := range r {
				r[i] = geom.Vec2{X: float64(rnd.Intn(9)), Y: float64(rnd.Intn(9))}
			}
			rings = append(rings, r)
		}
		triangles, _ := Triangulate(rings)
		balanced(t, rings, triangles)
	}
}

// balanced fails unless rings and triangles have every side as often one way as the other.
func balanced(t *testing.T, rings []geom.Ring, triangles [][3]int32) {
	t.Helper()
	sides := map[[2]int32]int{}
	add := func(a, b int32) {
		switch { // from a point to itself there is no side
		case a > b:
			sides[[2]int32{b, a}]--
		case a < b:
			sides[[2]int32{a, b}]++
		}
	}
	from := int32(0)
	for _, r := range rings {
		n := int32(len(r))
		for i := range n {
			add(from+(i+1)%n, from+i)
		}
		from += n
	}
	for _, tri := range triangles {
		for k := range tri {
			add(tri[k], tri[(k+1)%3])
		}
	}
	for s, n := range sides {
		if n != 0 {
			t.Fatalf("side %v is not closed", s)
		}
	}
}

func BenchmarkTriangulate(b *testing.B) {
	for _, n := range []int{1000, 10000} {
		rnd := rand.New(rand.NewSource(3))
		rings := []geom.Ring{star(rnd, geom.Vec2{}, 150, 155, n), reversed(star(rnd, geom.Vec2{X: 40, Y: 0}, 30, 33, n/3)), reversed(star(rnd, geom.Vec2{X: -60, Y: 0}, 30, 33, n/3))}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				Triangulate(rings)
			}
		})
	}
}
