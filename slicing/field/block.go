package field

import (
	"slices"

	"grainstack/slicing/geom"
)

// A Block is the hollow of one layer at the nodes of a lattice, as it is cut from the layer's two faces: straight down from
// the upper one and straight up from the lower one. What lies under an overhang, or closes off inside the layer, is seen from
// neither and stays wood. A Block is scratch of one goroutine.
type Block struct {
	Z []float64 // mm, of the levels: the layer's two planes, and what lies between
	// V is above zero where the layer is cut away, and elsewhere not; between nodes it goes evenly. Node i, j, k is number
	// (k·NY + j)·NX + i.
	V []float32

	lattice *Lattice
	whole   []float32 // the same with all hollow cut away
	below   []float32 // of one level
}

// Cut samples the layer between two heights, mm, and reports whether any of it is hollow; V is not to be used otherwise.
func (b *Block) Cut(l *Lattice, bottom, top float64) (any bool) {
	b.lattice, b.Z = l, l.levels(bottom, top)
	plane := l.NX * l.NY
	b.whole = slices.Grow(b.whole[:0], plane*len(b.Z))[:plane*len(b.Z)]
	for k, z := range b.Z {
		any = l.fill(b.whole[k*plane:][:plane], z) || any
	}
	if any {
		b.look(plane)
	}
	return any
}

// look takes each node for as hollow as the least hollow one on the way up to the upper face, or down to the lower one, where
// that is more: so the wall under an overhang stands where its lip is.
func (b *Block) look(plane int) {
	b.V = append(b.V[:0], b.whole...)
	for n := len(b.V) - plane - 1; n >= 0; n-- {
		b.V[n] = min(b.V[n], b.V[n+plane])
	}
	b.below = append(b.below[:0], b.whole[:plane]...)
	for from := 0; from < len(b.V); from += plane {
		for n, v := range b.whole[from:][:plane] {
			b.below[n] = min(b.below[n], v)
			b.V[from+n] = max(b.V[from+n], b.below[n])
		}
	}
}

// CubePaths are the six tetrahedra that the cube above a node is cut into, all cubes alike: each goes from corner 0 over these
// two to corner 7. Corners are the sums of x = 1, y = 2, z = 4.
var CubePaths = [6][2]uint8{{1, 3}, {1, 5}, {2, 3}, {2, 6}, {4, 5}, {4, 6}}

// Measure is the hollow of the layer that is cut away, mm³, its moment, mm⁴, and the hollow that stays wood, mm³: what lies
// within the skin of V, and between that and the skin of all the hollow, each of flat pieces over the tetrahedra of the cubes.
// A cube counts with its middle.
func (b *Block) Measure() (open float64, moment geom.Vec, shut float64) {
	l := b.lattice
	plane := l.NX * l.NY
	ways := [8]int{}
	for w := range ways {
		ways[w] = w&1 + w>>1&1*l.NX + w>>2*plane
	}
	for k := range len(b.Z) - 1 {
		rise := b.Z[k+1] - b.Z[k]
		cube := l.Step * l.Step * rise
		for j := range l.NY - 1 {
			row := (k*l.NY + j) * l.NX
			for i := range l.NX - 1 {
				share := cubeShare(b.V[row+i:], &ways)
				shut += (wholeShare(b.whole[row+i:], b.V[row+i:], &ways, share) - share) * cube
				if share == 0 {
					continue
				}
				open += share * cube
				at := geom.Vec{X: l.X0 + (float64(i)+0.5)*l.Step, Y: l.Y0 + (float64(j)+0.5)*l.Step, Z: b.Z[k] + rise/2}
				moment = moment.Add(at.Scale(share * cube))
			}
		}
	}
	return open, moment, shut
}

// wholeShare is cubeShare of v, which is known where cut, whose share is given, has the same corners.
func wholeShare(v, cut []float32, ways *[8]int, share float64) float64 {
	for _, d := range ways {
		if v[d] != cut[d] {
			return cubeShare(v, ways)
		}
	}
	return share
}

// cubeShare is the share of the cube above v's first node in which v is above zero.
func cubeShare(v []float32, ways *[8]int) float64 {
	var at [8]float64
	in := 0
	for w, d := range ways {
		if at[w] = float64(v[d]); at[w] > 0 {
			in++
		}
	}
	if in == 0 || in == len(at) {
		return float64(in / len(at))
	}
	share := 0.0
	for _, p := range CubePaths {
		share += above(at[0], at[p[0]], at[p[1]], at[7])
	}
	return share / float64(len(CubePaths))
}

// above is the share of a tetrahedron in which a value that goes evenly between its corners is above zero.
func above(corners ...float64) float64 {
	slices.Sort(corners) // the same whichever corner is which
	a, b, c, d := corners[0], corners[1], corners[2], corners[3]
	way := func(in, out float64) float64 { return in / (in - out) } // from in to the skin, as a share of the way to out
	switch {
	case a > 0:
		return 1
	case b > 0:
		return 1 - way(a, b)*way(a, c)*way(a, d)
	case c > 0:
		ca, cb, da, db := way(c, a), way(c, b), way(d, a), way(d, b)
		return ca*cb + da*db*(1-cb) + da*(1-ca)*cb
	case d > 0:
		return way(d, a) * way(d, b) * way(d, c)
	}
	return 0
}
