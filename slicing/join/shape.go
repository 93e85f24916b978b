package join

import (
	"context"
	"math"
	"math/bits"

	"grainstack/slicing/par"
)

// A cell's code has a bit for each of its corners that lies inside; corner c is one step along X, Y, Z by its bits 0, 1, 2.
type code uint8

// cube is the eight values of a cell's corners.
type cube [8]float32

func (c *cube) code() (k code) {
	for i, v := range c {
		if v < 0 {
			k |= 1 << i
		}
	}
	return k
}

// A cellEdge is one of a cell's twelve edges: it begins at a corner and runs along an axis.
type cellEdge struct{ from, axis uint8 }

// shapes are for each code the polygon in which the surface passes the cell, as the edges that it crosses, counter-clockwise seen from
// outside; nothing for codes in which it does not, or which are not simple.
type shapes [256][]cellEdge

func newShapes() *shapes {
	s := &shapes{}
	for k := range s {
		if simple(code(k)) {
			s[k] = polygon(code(k))
		}
	}
	return s
}

// simple reports whether the corners inside hang together along edges, and so do those outside, and no side of the cell has two of each
// across from one another.
func simple(k code) bool {
	if k == 0 || k == 255 {
		return true
	}
	for axis := range 3 {
		for side := range 2 {
			a, b, c, d := sideCorners(axis, side)
			if k>>a&1 == k>>c&1 && k>>b&1 == k>>d&1 && k>>a&1 != k>>b&1 {
				return false
			}
		}
	}
	return together(k) && together(^k)
}

// together reports whether the corners of a code hang together along edges.
func together(k code) bool {
	got := k & -k
	for range 8 {
		for c := range 8 {
			if got>>c&1 == 1 {
				got |= k & (1<<(c^1) | 1<<(c^2) | 1<<(c^4))
			}
		}
	}
	return got == k
}

// sideCorners are the corners of a side square to an axis, counter-clockwise seen from the end of the axis.
func sideCorners(axis, side int) (a, b, c, d uint8) {
	u, v := uint8(1)<<((axis+1)%3), uint8(1)<<((axis+2)%3)
	o := uint8(side) << axis
	return o, o | u, o | u | v, o | v
}

// polygon follows the surface from side to side of a simple cell.
func polygon(k code) []cellEdge {
	next := map[cellEdge]cellEdge{}
	for axis := range 3 {
		for side := range 2 {
			a, b, c, d := sideCorners(axis, side)
			ring := [4]uint8{a, b, c, d}
			if side == 0 { // seen from outside the cell
				ring = [4]uint8{a, d, c, b}
			}
			var in, out cellEdge
			crossed := false
			for i, p := range ring {
				q := ring[(i+1)%4]
				e := cellEdge{min(p, q), uint8(bits.TrailingZeros8(p ^ q))}
				switch pIn, qIn := k>>p&1, k>>q&1; {
				case pIn == 0 && qIn == 1:
					in, crossed = e, true
				case pIn == 1 && qIn == 0:
					out, crossed = e, true
				}
			}
			if crossed {
				next[in] = out
			}
		}
	}
	var first cellEdge
	for c := range uint8(8) { // the lowest edge, so that every run begins with the same one
		for axis := range uint8(3) {
			e := cellEdge{c, axis}
			if _, ok := next[e]; ok && len(next) > 0 {
				first = e
				goto found
			}
		}
	}
	return nil
found:
	out := []cellEdge{first}
	for e := next[first]; e != first; e = next[e] {
		out = append(out, e)
	}
	return out
}

// cells visits the cells above all nodes of a block with the values of their corners.
func (f *field) cells(b int, visit func(x, y, z int, c *cube)) {
	const side = edge + 1
	var v [side * side * side]float32
	s := f.at[b]
	for dz := range int32(2) {
		for dy := range int32(2) {
			for dx := range int32(2) {
				n, ok := f.number[spot{s[0] + dx, s[1] + dy, s[2] + dz}]
				f.copyInto(&v, n, ok, s, dx, dy, dz)
			}
		}
	}
	var c cube
	for z := range edge {
		for y := range edge {
			for x := range edge {
				at := (z*side+y)*side + x
				in := false
				for k := range c {
					c[k] = v[at+k&1+(k>>1&1)*side+(k>>2)*side*side]
					in = in || (c[k] < 0) != (c[0] < 0)
				}
				if in {
					visit(x, y, z, &c)
				}
			}
		}
	}
}

// copyInto copies what a block, or one next to it, gives for the cells of a block.
func (f *field) copyInto(v *[(edge + 1) * (edge + 1) * (edge + 1)]float32, n int32, ok bool, s spot, dx, dy, dz int32) {
	const side = edge + 1
	upTo := func(d int32) int {
		if d == 0 {
			return edge
		}
		return 1
	}
	for z := range upTo(dz) {
		for y := range upTo(dy) {
			for x := range upTo(dx) {
				at := ((z+edge*int(dz))*side+y+edge*int(dy))*side + x + edge*int(dx)
				if ok {
					v[at] = f.away[n][(z*edge+y)*edge+x]
				} else {
					v[at] = float32(f.coarse.distance(f.node(spot{s[0] + dx, s[1] + dy, s[2] + dz}, x, y, z)))
				}
			}
		}
	}
}

// simplify makes the nearest corners of cells that are not simple part of the inside until all cells are simple.
func (f *field) simplify(ctx context.Context) error {
	var plain [256]bool
	for k := range plain {
		plain[k] = simple(code(k))
	}
	found := make([][][3]int32, len(f.at))
	err := par.Spans(ctx, len(f.at), 8, func(from, to int) {
		for b := from; b < to; b++ {
			f.cells(b, func(x, y, z int, c *cube) {
				if !plain[c.code()] {
					s := f.at[b]
					found[b] = append(found[b], [3]int32{s[0]*edge + int32(x), s[1]*edge + int32(y), s[2]*edge + int32(z)})
				}
			})
		}
	})
	if err != nil {
		return err
	}
	var list [][3]int32
	for _, some := range found {
		list = append(list, some...)
	}
	for len(list) > 0 {
		n := list[len(list)-1]
		list = list[:len(list)-1]
		var c cube
		for k := range c {
			c[k] = f.value(n[0]+int32(k&1), n[1]+int32(k>>1&1), n[2]+int32(k>>2))
		}
		if plain[c.code()] {
			continue
		}
		best, least := -1, float32(math.MaxFloat32)
		for k, v := range c {
			if v >= 0 && v < least {
				best, least = k, v
			}
		}
		x, y, z := n[0]+int32(best&1), n[1]+int32(best>>1&1), n[2]+int32(best>>2)
		b, ok := f.number[spot{x >> 3, y >> 3, z >> 3}]
		if !ok {
			return errOpen
		}
		f.away[b][((z&7)*edge+y&7)*edge+x&7] = float32(-1e-3 * f.step)
		for k := range int32(8) {
			list = append(list, [3]int32{x - k&1, y - k>>1&1, z - k>>2})
		}
	}
	return nil
}
