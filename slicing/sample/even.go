package sample

import (
	"math/bits"

	"grainstack/slicing/geom"
)

// Rounds of evening, before them some for the base alone, whose rim is slower to even out, and how far towards the middle of
// its neighbours a point goes in one.
const (
	rounds     = 4
	baseRounds = 6
	pull       = 0.6
)

// The cubes of a leaf as a set: all, and those that hold the base in a leaf on the floor.
const (
	allCubes  = ^uint64(0)
	baseCubes = uint64(0xffff)
)

// even draws the points onto the figure's skin and spreads them evenly over it. Points of the base stay on the floor, those
// of its rim on floor and skin.
func (s *skin) even() {
	s.eachLeaf(func(leaf, x, y, z int) { s.draw(leaf, x, y, z, allCubes, s.at) })
	next := make([]geom.Vec, len(s.at))
	copy(next, s.at)
	for range baseRounds {
		s.eachLeaf(func(leaf, x, y, z int) {
			if z == 0 {
				s.slide(leaf, x, y, z, baseCubes, next)
				s.draw(leaf, x, y, z, baseCubes, next)
			}
		})
		s.at, next = next, s.at
	}
	for range rounds {
		s.eachLeaf(func(leaf, x, y, z int) {
			s.slide(leaf, x, y, z, allCubes, next)
			s.draw(leaf, x, y, z, allCubes, next)
		})
		s.at, next = next, s.at
	}
}

// draw moves the points of some of a leaf's cubes down or up the slope onto the skin. The base's come first in a leaf.
func (s *skin) draw(leaf, x, y, z int, cubes uint64, at []geom.Vec) {
	id := s.first[leaf]
	for rest := s.held[leaf] & cubes; rest != 0; rest &= rest - 1 {
		c := bits.TrailingZeros64(rest)
		onFloor := z+c>>4 == 0
		if onFloor && !s.rim(x+c&3, y+c>>2&3) {
			s.slope[id] = geom.Vec{Z: -1}
			id++
			continue
		}
		d, g := s.figure.distance(at[id], s.near[leaf])
		if onFloor {
			g.Z = 0
		}
		at[id] = at[id].Sub(g.Scale(s.short(d, g)))
		s.slope[id] = g.Unit()
		id++
	}
}

// short is Newton's step along the slope as a multiple of it, at most a cube long.
func (s *skin) short(d float64, g geom.Vec) float64 {
	n := g.Len()
	if n < 1e-6 {
		return 0
	}
	return max(-s.step, min(d/n, s.step)) / n
}

// rim reports whether the skin meets the floor in the lowest cube at (x, y).
func (s *skin) rim(x, y int) bool {
	p := s.signs(s.node(x, y, 0))
	return p>>4 != 15
}

// slide moves the points of some of a leaf's cubes towards the middle of their neighbours along the skin.
func (s *skin) slide(leaf, x, y, z int, cubes uint64, next []geom.Vec) {
	id := s.first[leaf]
	for rest := s.held[leaf] & cubes; rest != 0; rest &= rest - 1 {
		c := bits.TrailingZeros64(rest)
		p, n := s.at[id], s.slope[id]
		way := s.middle(x+c&3, y+c>>2&3, z+c>>4).Sub(p)
		next[id] = p.Add(way.Sub(n.Scale(way.Dot(n))).Scale(pull))
		id++
	}
}

// middle is the mean of the points that a point is joined to; a rim's point goes by its neighbours on the rim alone.
func (s *skin) middle(x, y, z int) geom.Vec {
	p := s.signs(s.node(x, y, z))
	onRim := z == 0 && p>>4 != 15
	var sum geom.Vec
	count := 0.0
	for i, f := range [6]uint8{0x55, 0xaa, 0x33, 0xcc, 0x0f, 0xf0} {
		in := p & f
		if in == 0 || in == f {
			continue
		}
		if onRim && (i == 5 || bits.OnesCount8(in) != 1) {
			continue // the rim passes only between an inside node and an outside one
		}
		to := [3]int{x, y, z}
		to[i/2] += i&1*2 - 1
		sum = sum.Add(s.at[s.point(to[0], to[1], to[2])])
		count++
	}
	if count == 0 {
		return s.at[s.point(x, y, z)]
	}
	return sum.Scale(1 / count)
}
