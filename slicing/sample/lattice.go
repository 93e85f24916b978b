package sample

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

// The lattice is cut into blocks of 32 nodes a side, they by halves into leaves of 4.
const (
	blockSide  = 32
	leafSide   = 4
	blockLeafs = (blockSide / leafSide) * (blockSide / leafSide) * (blockSide / leafSide)
)

// A lattice holds readings of the distance at the nodes of cubes. The floor runs halfway between its two lowest
// levels, and everything at the lowest is outside, so that the lowest cubes hold the base.
type lattice struct {
	figure  figure
	step    float64  // side of a cube, mm
	origin  geom.Vec // node (0, 0, 0)
	blocks  [3]int   // blocks along each axis
	row     int      // readings from a node to the next along Y
	level   int      // readings from a node to the next along Z
	reading []int8   // distance in steps of readingUnit; below zero is inside
	near    []uint64 // a leaf: the lumps that matter in it, none if no skin passes through it
}

// readingUnit is a reading's unit as a part of the step: the cubes of a skin have nodes at most 1.8 steps away.
const readingUnit = 1.0 / 64

// newLattice reads the distance wherever the skin may pass.
func newLattice(f figure, step float64) *lattice {
	b := f.box()
	margin := 2*step + 1
	l := &lattice{figure: f, step: step, origin: geom.Vec{X: b.Min.X - margin, Y: b.Min.Y - margin, Z: -step / 2}}
	size := b.Max.Sub(l.origin)
	for i, s := range [3]float64{size.X, size.Y, size.Z} {
		l.blocks[i] = int((s+margin)/step)/blockSide + 1
	}
	l.row = l.blocks[0]*blockSide + 1
	l.level = l.row * (l.blocks[1]*blockSide + 1)
	l.reading = make([]int8, l.level*(l.blocks[2]*blockSide+1))
	n := l.blocks[0] * l.blocks[1] * l.blocks[2]
	l.near = make([]uint64, n*blockLeafs)
	l.each(func(x, y, z int) { l.read(x, y, z, blockSide, f.all()) })
	return l
}

// each calls do for the corner of every block, in parallel.
func (l *lattice) each(do func(x, y, z int)) {
	n := l.blocks[0] * l.blocks[1] * l.blocks[2]
	par.Spans(context.Background(), n, 1, func(from, to int) {
		for b := from; b < to; b++ {
			do(b%l.blocks[0]*blockSide, b/l.blocks[0]%l.blocks[1]*blockSide, b/(l.blocks[0]*l.blocks[1])*blockSide)
		}
	})
}

// read takes the readings of the cube of nodes at (x, y, z), going into its eighths where the skin may pass.
func (l *lattice) read(x, y, z, side int, set uint64) {
	half := float64(side) / 2
	c := l.place(float64(x)+half, float64(y)+half, float64(z)+half)
	part, skin, inside := l.figure.near(c, half*math.Sqrt(3)*l.step, set)
	onFloor := z == 0
	switch {
	case !skin && !(inside && onFloor):
		if inside {
			l.fill(x, y, z, side)
		}
	case side > leafSide:
		if !skin {
			part = set // the base passes through
		}
		h := side / 2
		for i := range 8 {
			l.read(x+i&1*h, y+i>>1&1*h, z+i>>2*h, h, part)
		}
	default:
		if !skin {
			part = set
		}
		l.near[l.leaf(x, y, z)] = part
		l.readLeaf(x, y, z, part)
	}
}

// fill marks a cube of nodes as inside.
func (l *lattice) fill(x, y, z, side int) {
	for k := z; k < z+side; k++ {
		for j := y; j < y+side; j++ {
			at := l.node(x, j, k)
			for i := range side {
				l.reading[at+i] = math.MinInt8
			}
		}
	}
}

func (l *lattice) readLeaf(x, y, z int, set uint64) {
	for k := z; k < z+leafSide; k++ {
		for j := y; j < y+leafSide; j++ {
			at := l.node(x, j, k)
			for i := range leafSide {
				d := l.figure.far(l.place(float64(x+i), float64(j), float64(k)), set)
				d = math.Floor(max(-127, min(d/(l.step*readingUnit), 127)))
				if k == 0 {
					d = max(d, 0)
				}
				l.reading[at+i] = int8(d)
			}
		}
	}
}

// place is where a point of the lattice lies, mm.
func (l *lattice) place(x, y, z float64) geom.Vec {
	return geom.Vec{X: l.origin.X + x*l.step, Y: l.origin.Y + y*l.step, Z: (z - 0.5) * l.step}
}

// node is the index of a node's reading.
func (l *lattice) node(x, y, z int) int { return x + y*l.row + z*l.level }

// leaf is the index of the leaf that holds node (x, y, z), or the cube above it. Leaves of a block follow one another, and
// so do those of a half and a quarter of it.
func (l *lattice) leaf(x, y, z int) int {
	block := (z/blockSide*l.blocks[1]+y/blockSide)*l.blocks[0] + x/blockSide
	return block*blockLeafs | spread(x) | spread(y)<<1 | spread(z)<<2
}

// spread sets the three bits of a leaf's place along an axis of its block two bits apart.
func spread(x int) int { return x>>2&1 | x>>3&1<<3 | x>>4&1<<6 }

// signs has a bit for each corner of the cube above node n that is inside: bit 0 the node itself, then counting along X,
// Y, Z.
func (l *lattice) signs(n int) uint8 {
	r := l.reading
	bit := func(at int, b uint8) uint8 { return uint8(r[at]) >> 7 << b }
	return bit(n, 0) | bit(n+1, 1) | bit(n+l.row, 2) | bit(n+l.row+1, 3) |
		bit(n+l.level, 4) | bit(n+l.level+1, 5) | bit(n+l.level+l.row, 6) | bit(n+l.level+l.row+1, 7)
}
