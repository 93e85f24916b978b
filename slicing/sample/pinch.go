package sample

import "math/bits"

// pinched holds for each pattern of inside corners of a cube whether solid or space meet there only along an edge or at
// a corner, so that a skin with one point in the cube would touch itself.
var pinched = pinchedPatterns()

func pinchedPatterns() (p [256]bool) {
	faces := [6]uint8{0x0f, 0xf0, 0x33, 0xcc, 0x55, 0xaa}
	for s := range p {
		for corner := range 8 {
			across := corner ^ 7
			pair := uint8(1<<corner | 1<<across)
			p[s] = p[s] || uint8(s) == pair || uint8(s) == ^pair
			for _, f := range faces {
				in := uint8(s) & f
				if in>>corner&1 == 1 && bits.OnesCount8(in) == 2 && in == diagonal(f, corner) {
					p[s] = true
				}
			}
		}
	}
	return p
}

// diagonal is the corner and the one opposite on the face.
func diagonal(face uint8, corner int) uint8 {
	for flip := 1; flip < 8; flip++ {
		if bits.OnesCount8(uint8(flip)) == 2 && face>>(corner^flip)&1 == 1 {
			return 1<<corner | 1<<(corner^flip)
		}
	}
	return 0
}

// unpinch takes out nodes until no cube is pinched, and says how many. Taking out can pinch a neighbour, so that is
// looked at again; it ends because nodes are only ever taken out.
func (l *lattice) unpinch(cubes []int) (taken int) {
	for len(cubes) > 0 {
		n := cubes[len(cubes)-1]
		cubes = cubes[:len(cubes)-1]
		s := l.signs(n)
		if !pinched[s] {
			continue
		}
		out := n + l.corner(bits.TrailingZeros8(s))
		l.reading[out] = 1
		taken++
		for c := range 8 {
			cubes = append(cubes, out-l.corner(c))
		}
	}
	return taken
}

// trim takes out the nodes just above the floor that stick out alone from a straight rim: the four points round one would lie
// in a row.
func (l *lattice) trim() {
	r := l.reading
	for y := 1; y < l.blocks[1]*blockSide; y++ {
		for x := 1; x < l.blocks[0]*blockSide; x++ {
			n := l.node(x, y, 1)
			around := uint8(r[n-1])>>7 + uint8(r[n+1])>>7 + uint8(r[n-l.row])>>7 + uint8(r[n+l.row])>>7
			if r[n] < 0 && around <= 1 {
				r[n] = 1
			}
		}
	}
}

// corner is how far corner c of a cube is from its node, in readings.
func (l *lattice) corner(c int) int { return c&1 + c>>1&1*l.row + c>>2*l.level }
