package plane

import "grainstack/slicing/geom"

// A Grid is figures at places Step apart, NX of them a row, x fastest. Above zero is inside. Its border must be outside.
type Grid struct {
	Origin geom.Vec2 // of place 0, 0
	Step   float64
	NX, NY int
	V      []float32
}

// Above is the region where figures, nx a row, are above a level, in steps from the first. The grid's border counts as
// outside.
func Above(v []float32, nx int, level float32) geom.Region {
	g := Grid{Step: 1, NX: nx, NY: len(v) / nx, V: make([]float32, len(v))}
	for i, f := range v {
		x, y := i%nx, i/nx
		if g.V[i] = f - level; x == 0 || y == 0 || x == nx-1 || y == g.NY-1 {
			g.V[i] = min(g.V[i], -1)
		}
	}
	return g.Contours()
}

// Contours are the lines at zero by marching squares (Lorensen and Cline, SIGGRAPH 1987, in the plane): outlines
// counter-clockwise, holes clockwise; between two figures a line lies in proportion. Rings close because every crossed side
// of a square has one line that comes and one that goes. Where two corners of a square across from each other are inside, its
// middle decides whether they join.
func (g *Grid) Contours() geom.Region {
	if g.NX < 2 || g.NY < 2 {
		return nil
	}
	next := make([]int32, 2*g.NX*g.NY) // from side to side, by sideOf; one more than the side, 0 is none
	var starts []int32
	for j := range g.NY - 1 {
		lo, hi := g.V[j*g.NX:][:g.NX], g.V[(j+1)*g.NX:][:g.NX]
		left := corner(lo[0], 1) | corner(hi[0], 8)
		for i := range g.NX - 1 {
			kind := left | corner(lo[i+1], 2) | corner(hi[i+1], 4)
			left = kind >> 1 & 1
			left |= kind << 1 & 8
			if kind == 0 || kind == 15 {
				continue
			}
			if kind == 5 || kind == 10 {
				if lo[i]+lo[i+1]+hi[i]+hi[i+1] > 0 {
					kind += joined
				}
			}
			sides := sidesOf(j*g.NX+i, g.NX)
			for _, l := range squares[kind] {
				next[sides[l.from]] = sides[l.to] + 1
				starts = append(starts, sides[l.from])
			}
		}
	}
	return g.chain(next, starts)
}

func corner(v float32, bit uint8) uint8 {
	if v > 0 {
		return bit
	}
	return 0
}

// sidesOf are the four sides of the square whose lower left corner is a place: below, right, above, left. Side 2k runs from
// place k along x, side 2k+1 along y.
func sidesOf(place, nx int) [4]int32 {
	k := 2 * int32(place)
	return [4]int32{k, k + 3, k + 2*int32(nx), k + 1}
}

// endsOf are the two places that a side runs between.
func endsOf(side int32, nx int) (from, to int) {
	from = int(side / 2)
	if side&1 == 1 {
		return from, from + nx
	}
	return from, from + 1
}

// onSide is the point a share of the way along a side, in steps from the first place.
func onSide(side int32, nx int, share float64) geom.Vec2 {
	p := geom.Vec2{X: float64(int(side/2) % nx), Y: float64(int(side/2) / nx)}
	if side&1 == 1 {
		p.Y += share
	} else {
		p.X += share
	}
	return p
}

// A line goes from one side of a square to another, inside on its left. Sides: 0 below, 1 right, 2 above, 3 left.
type line struct{ from, to uint8 }

// squares are the lines of a square by which corners are inside: 1 below left, 2 below right, 4 above right, 8 above left;
// joined more where opposite corners join in the middle.
var squares = [27][]line{
	1: {{0, 3}}, 2: {{1, 0}}, 3: {{1, 3}}, 4: {{2, 1}}, 5: {{0, 3}, {2, 1}}, 6: {{2, 0}}, 7: {{2, 3}},
	8: {{3, 2}}, 9: {{0, 2}}, 10: {{1, 0}, {3, 2}}, 11: {{1, 2}}, 12: {{3, 1}}, 13: {{0, 1}}, 14: {{3, 0}},
	5 + joined: {{0, 1}, {2, 3}}, 10 + joined: {{1, 2}, {3, 0}},
}

const joined = 16

// chain follows the lines from side to side until each ring is back at its start.
func (g *Grid) chain(next, starts []int32) geom.Region {
	var out geom.Region
	for _, s := range starts {
		if next[s] == 0 {
			continue
		}
		var ring geom.Ring
		for at := s; next[at] != 0; {
			p := g.crossing(at)
			if n := len(ring); n == 0 || ring[n-1] != p {
				ring = append(ring, p)
			}
			at, next[at] = next[at]-1, 0
		}
		if len(ring) > 1 && ring[0] == ring[len(ring)-1] {
			ring = ring[:len(ring)-1]
		}
		if len(ring) >= 3 {
			out = append(out, ring)
		}
	}
	return out
}

// crossing is where the figure is zero on a side.
func (g *Grid) crossing(side int32) geom.Vec2 {
	from, to := endsOf(side, g.NX)
	a, b := float64(g.V[from]), float64(g.V[to])
	p := onSide(side, g.NX, a/(a-b))
	return geom.Vec2{X: g.Origin.X + p.X*g.Step, Y: g.Origin.Y + p.Y*g.Step}
}
