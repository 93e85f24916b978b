package arrange

import (
	"math/big"
	"math/rand"
	"testing"

	"grainstack/slicing/mesh"
)

// TestDissection: however lines and points lie in a facet, its parts all face one way, have its area together to the last bit, and
// every piece of a line is an edge.
func TestDissection(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	for try := range 300 {
		grid := []int{4, 12, 100_000}[try%3]
		m := &mesh.Mesh{Points: []mesh.Point{{0, 0, 1}, {float32(grid), 0, 2}, {0, float32(grid), 3}}, Triangles: []mesh.Triangle{{0, 1, 2}}}
		if try%2 == 1 {
			m.Triangles[0] = mesh.Triangle{0, 2, 1}
		}
		p := newPoints(m)
		for id := range int32(3) {
			p.of(id)
		}
		// Whole points of the facet: weights that add up to the grid.
		inside := func() int32 {
			x, y := rnd.Intn(grid+1), rnd.Intn(grid+1)
			if x+y > grid {
				x, y = grid-x, grid-y
			}
			var w [4]*big.Int
			for k := range w {
				w[k] = new(big.Int)
				for id, weight := range []int{grid - x - y, x, y} {
					w[k].Add(w[k], new(big.Int).Mul(big.NewInt(int64(weight)), p.of(int32(id)).whole[k]))
				}
			}
			return p.number(w)
		}
		s := &sheet{facets: []int32{0}}
		for range rnd.Intn(12) {
			s.lines = append(s.lines, [2]int32{inside(), inside()})
		}
		for range rnd.Intn(6) {
			s.spots = append(s.spots, inside())
		}
		parts, err := p.cut(s)
		if err != nil {
			t.Fatal(err)
		}
		v, handed, _ := p.viewOf(m.Triangles[0])
		area := func(t mesh.Triangle) *big.Rat {
			a, b, c := p.of(t[0]), p.of(t[1]), p.of(t[2])
			d := new(big.Int).Mul(a.whole[3], b.whole[3])
			return new(big.Rat).SetFrac(v.area(a, b, c), d.Mul(d, c.whole[3]))
		}
		sum := new(big.Rat)
		edges := map[[2]int32]bool{}
		for _, q := range parts {
			one := area(q.Triangle)
			if one.Sign() != handed {
				t.Fatalf("try %d: a part faces the other way", try)
			}
			sum.Add(sum, one)
			for k := range q.Triangle {
				edges[edgeOf(q.Triangle[k], q.Triangle[(k+1)%3])] = true
			}
		}
		if whole := area(m.Triangles[0]); sum.Cmp(whole) != 0 {
			t.Fatalf("try %d: parts have area %v, the facet %v", try, sum, whole)
		}
		var lines [][2]int32
		spots := append([]int32{0, 1, 2}, s.spots...)
		for _, l := range s.lines {
			lines = append(lines, l)
			spots = append(spots, l[0], l[1])
		}
		pieces, _ := p.divided(v, lines, spots)
		for i, l := range pieces {
			if !edges[edgeOf(l[0], l[1])] {
				t.Fatalf("try %d: a line is no edge", try)
			}
			for _, k := range pieces[:i] {
				if v.across(p.of(l[0]), p.of(l[1]), p.of(k[0]), p.of(k[1])) {
					t.Fatalf("try %d: pieces of lines cross", try)
				}
			}
		}
	}
}
