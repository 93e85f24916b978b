package sample

import (
	"math/bits"

	"grainstack/slicing/geom"
)

// A skin is the surface between the lattice's inside and outside: a point in each cube that it passes through, a quad
// round each lattice edge that it crosses.
type skin struct {
	*lattice
	held   []uint64 // a leaf: which of its 64 cubes hold a point
	first  []int32  // a leaf: its first point
	corner []int32  // a leaf: where its quads begin
	at     []geom.Vec
	slope  []geom.Vec
	quads  [][4]int32
}

// newSkin finds the cubes that the skin passes through and joins their points, taking out of the lattice what would pinch.
func newSkin(l *lattice) *skin {
	s := &skin{lattice: l, held: make([]uint64, len(l.near))}
	quads := make([]uint8, len(l.near))
	l.trim()
	for {
		bad := make([][]int, l.blocks[0]*l.blocks[1]*l.blocks[2])
		s.eachLeaf(func(leaf, x, y, z int) {
			s.held[leaf], quads[leaf] = 0, 0
			for c := range 64 {
				n := l.node(x+c&3, y+c>>2&3, z+c>>4)
				if p := l.signs(n); p != 0 && p != 255 {
					s.held[leaf] |= 1 << c
					quads[leaf] += crossed(p)
					if pinched[p] {
						bad[leaf/blockLeafs] = append(bad[leaf/blockLeafs], n)
					}
				}
			}
		})
		var all []int
		for _, b := range bad {
			all = append(all, b...)
		}
		if l.unpinch(all) == 0 {
			break
		}
	}
	s.number(quads)
	s.eachLeaf(s.put)
	s.eachLeaf(s.join)
	return s
}

// crossed is how many of the three edges from a cube's node the skin crosses.
func crossed(p uint8) uint8 {
	from := p & 1 * 7
	to := p>>1&1 | p>>2&1<<1 | p>>4&1<<2
	return uint8(bits.OnesCount8(from ^ to))
}

func (s *skin) number(quads []uint8) {
	s.first, s.corner = make([]int32, len(s.held)), make([]int32, len(s.held))
	var points, all int32
	for i, h := range s.held {
		s.first[i], s.corner[i] = points, all
		points += int32(bits.OnesCount64(h))
		all += int32(quads[i])
	}
	s.at, s.slope, s.quads = make([]geom.Vec, points), make([]geom.Vec, points), make([][4]int32, all)
}

// eachLeaf calls do for the leaves that the skin may pass through, in parallel.
func (l *lattice) eachLeaf(do func(leaf, x, y, z int)) {
	l.each(func(bx, by, bz int) {
		first := l.leaf(bx, by, bz)
		for i := range blockLeafs {
			if l.near[first+i] == 0 {
				continue
			}
			do(first+i, bx+gather(i), by+gather(i>>1), bz+gather(i>>2))
		}
	})
}

// gather undoes spread.
func gather(i int) int { return i&1<<2 | i>>3&1<<3 | i>>6&1<<4 }

// point is the point of the cube at (x, y, z), which holds one.
func (s *skin) point(x, y, z int) int32 {
	leaf := s.leaf(x, y, z)
	before := s.held[leaf] & (1<<(x&3|y&3<<2|z&3<<4) - 1)
	return s.first[leaf] + int32(bits.OnesCount64(before))
}

// put sets each point of a leaf amid the crossings of its cube's edges, those of the lowest cubes on the floor.
func (s *skin) put(leaf, x, y, z int) {
	id := s.first[leaf]
	for rest := s.held[leaf]; rest != 0; rest &= rest - 1 {
		c := bits.TrailingZeros64(rest)
		i, j, k := x+c&3, y+c>>2&3, z+c>>4
		m := s.amid(s.node(i, j, k))
		s.at[id] = s.place(float64(i)+m.X, float64(j)+m.Y, float64(k)+m.Z)
		if k == 0 {
			s.at[id].Z = 0
		}
		id++
	}
}

// amid is the mean of the crossings on the edges of a cube, seen from its node, in steps.
func (s *skin) amid(n int) geom.Vec {
	var sum geom.Vec
	count := 0.0
	for a := range 8 {
		for axis := range 3 {
			b := a | 1<<axis
			if a == b {
				continue
			}
			ra, rb := s.reading[n+s.lattice.corner(a)], s.reading[n+s.lattice.corner(b)]
			if (ra < 0) == (rb < 0) {
				continue
			}
			p := [3]float64{float64(a & 1), float64(a >> 1 & 1), float64(a >> 2)}
			p[axis] = float64(ra) / (float64(ra) - float64(rb))
			sum = sum.Add(geom.Vec{X: p[0], Y: p[1], Z: p[2]})
			count++
		}
	}
	return sum.Scale(1 / count)
}

// join makes the quads of a leaf: counter-clockwise from outside.
func (s *skin) join(leaf, x, y, z int) {
	q := s.corner[leaf]
	for rest := s.held[leaf]; rest != 0; rest &= rest - 1 {
		c := bits.TrailingZeros64(rest)
		i, j, k := x+c&3, y+c>>2&3, z+c>>4
		n := s.node(i, j, k)
		in := s.reading[n] < 0
		if in != (s.reading[n+1] < 0) {
			s.quads[q] = facing(in, s.point(i, j-1, k-1), s.point(i, j, k-1), s.point(i, j, k), s.point(i, j-1, k))
			q++
		}
		if in != (s.reading[n+s.row] < 0) {
			s.quads[q] = facing(in, s.point(i-1, j, k-1), s.point(i-1, j, k), s.point(i, j, k), s.point(i, j, k-1))
			q++
		}
		if in != (s.reading[n+s.level] < 0) {
			s.quads[q] = facing(in, s.point(i-1, j-1, k), s.point(i, j-1, k), s.point(i, j, k), s.point(i-1, j, k))
			q++
		}
	}
}

func facing(forward bool, a, b, c, d int32) [4]int32 {
	if forward {
		return [4]int32{a, b, c, d}
	}
	return [4]int32{a, d, c, b}
}
