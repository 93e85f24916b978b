package stack

import (
	"sort"

	"grainstack/slicing/geom"
)

// Bottom and Top are the heights of the lowest and the highest point.
func (p *Profile) Bottom() float64 { return p.ladder.z[0] }

// Top is the height of the highest point.
func (p *Profile) Top() float64 { return p.ladder.z[len(p.ladder.z)-1] }

// Volume is that of the solid between two heights, negative if z1 < z0.
func (p *Profile) Volume(z0, z1 float64) float64 { return p.volumeBelow(z1) - p.volumeBelow(z0) }

// Moment is ∫ (x, y, z) over the solid between two heights: divided by Volume it is the centre of that part's mass.
func (p *Profile) Moment(z0, z1 float64) geom.Vec {
	return p.momentBelow(z1).Sub(p.momentBelow(z0))
}

// Area is that of the section just above a height.
func (p *Profile) Area(z float64) float64 { return p.areaAt(z, z+p.tolerance) }

// AreaBelow is that of the section just below a height.
func (p *Profile) AreaBelow(z float64) float64 { return p.areaAt(z, z-p.tolerance) }

// flats are the areas of the faces that lie flat at a height, facing up and facing down.
func (p *Profile) flats(z float64) (up, down float64) {
	return between(p.levels, z-p.tolerance, z+p.tolerance)
}

// JointArea is the area common to the sections just below and just above a height, which is what can be glued there: the
// section below less what of it faces up at that height.
func (p *Profile) JointArea(z float64) float64 {
	up, _ := p.flats(z)
	return max(p.AreaBelow(z)-up, 0)
}

// Perimeter is the length of all outlines of the section just above a height, holes included.
func (p *Profile) Perimeter(z float64) float64 {
	if z < p.Bottom() || z >= p.Top() {
		return 0
	}
	i, w := p.place(z)
	a, b := &p.nodes[i], &p.nodes[i+1]
	return a.rim*(1-w) + (b.rim-b.jump)*w
}

// Rows is the length of all finishing rows, along X or along Y, between two heights times the distance between them, mm²:
// divided by the stepover it is the path of the cutter over everything that faces up, or down. A facet of area A and unit
// normal n counts A·√(nz²+n_row²); what leans neither way is shared between the two. Faces flat at z0 or z1 are the panel's
// own faces and do not count; flat faces between do. Where the piece ends inside its panel, ask for the panel's height, so that
// its flat end is counted.
func (p *Profile) Rows(z0, z1 float64, facingUp, alongX bool) float64 {
	k, side := 1, down
	if alongX {
		k = 0
	}
	if facingUp {
		side = up
	}
	sum := p.skinBelow(z1, func(n *node) float64 { return n.rows[side][k] + n.rows[upright][k]/2 }) -
		p.skinBelow(z0, func(n *node) float64 { return n.rows[side][k] + n.rows[upright][k]/2 })
	ups, downs := between(p.levels, z0+p.tolerance, z1-p.tolerance)
	if facingUp {
		return sum + ups
	}
	return sum + downs
}

// Surface is the area of the skin between two heights, without the cuts at z0 and z1. A flat face at one of them counts when
// the wood that it covers lies between: facing up at z1, facing down at z0.
func (p *Profile) Surface(z0, z1 float64) float64 {
	skin := func(n *node) float64 { return n.skin }
	ups, _ := between(p.levels, z0+p.tolerance, z1+p.tolerance)
	_, downs := between(p.levels, z0-p.tolerance, z1-p.tolerance)
	return p.skinBelow(z1, skin) - p.skinBelow(z0, skin) + ups + downs
}

// Widest is the height in [z0, z1] at which the section's area is greatest, as near as the tabulated heights tell, and that
// area. Of a face flat at that height it means the side with more wood.
func (p *Profile) Widest(z0, z1 float64) (z, area float64) {
	z, area = z0, p.Area(z0)
	try := func(at, a float64) {
		if a > area {
			z, area = at, a
		}
	}
	for i := p.ladder.from(min(max(z0, p.Bottom()), p.Top())); i < len(p.nodes) && p.ladder.z[i] < z1; i++ {
		if at := p.ladder.z[i]; at > z0 {
			try(at, p.Area(at))
		}
	}
	for i := sort.Search(len(p.levels), func(i int) bool { return p.levels[i].z > z0 }); i < len(p.levels) && p.levels[i].z < z1; i++ {
		at := p.levels[i].z
		try(at, p.AreaBelow(at))
		try(at, p.Area(at))
	}
	try(z1, p.AreaBelow(z1))
	return z, area
}

// place is the cell that holds a height within the piece, and how far up in it.
func (p *Profile) place(z float64) (cell int, share float64) {
	i := min(max(p.ladder.from(z)-1, 0), len(p.nodes)-2)
	a, b := p.ladder.z[i], p.ladder.z[i+1]
	if z >= b {
		if i++; i > len(p.nodes)-2 {
			return i - 1, 1
		}
		a, b = b, p.ladder.z[i+1]
	}
	return i, (z - a) / (b - a)
}

func (p *Profile) clamp(z float64) float64 { return min(max(z, p.Bottom()), p.Top()) }

func (p *Profile) skinBelow(z float64, of func(*node) float64) float64 {
	i, w := p.place(p.clamp(z))
	return of(&p.nodes[i])*(1-w) + of(&p.nodes[i+1])*w
}

func (p *Profile) volumeBelow(z float64) float64 {
	z = p.clamp(z)
	i, w := p.place(z)
	a, b := &p.nodes[i], &p.nodes[i+1]
	f := under(p.levels, z)
	return hermite(a.volume, b.volume, a.area, b.area, p.ladder.z[i+1]-p.ladder.z[i], w) + f.mz - f.net*z
}

// areaAt is the sloping facets' area at z and that of the flats up to the height upTo.
func (p *Profile) areaAt(z, upTo float64) float64 {
	if upTo < p.Bottom() || upTo > p.Top() {
		return 0
	}
	i, w := p.place(p.clamp(z))
	a, b := &p.nodes[i], &p.nodes[i+1]
	return slope(a.volume, b.volume, a.area, b.area, p.ladder.z[i+1]-p.ladder.z[i], w) - under(p.levels, upTo).net
}

func (p *Profile) momentBelow(z float64) geom.Vec {
	z = p.clamp(z)
	i, w := p.place(z)
	a, b := &p.nodes[i], &p.nodes[i+1]
	d := p.ladder.z[i+1] - p.ladder.z[i]
	f := under(p.levels, z)
	tall := a.tall + hermiteBelow(a.volume, b.volume, a.area, b.area, d, w) + z*f.mz - z*z/2*f.net + f.tall
	return geom.Vec{
		X: hermite(a.moment[0], b.moment[0], a.first[0], b.first[0], d, w) + f.mxz - f.mx*z,
		Y: hermite(a.moment[1], b.moment[1], a.first[1], b.first[1], d, w) + f.myz - f.my*z,
		Z: z*p.volumeBelow(z) - tall,
	}
}

// hermite is the cubic with values v0, v1 and slopes s0, s1 at the ends of a cell of width d, at the share w of it.
func hermite(v0, v1, s0, s1, d, w float64) float64 {
	u := 1 - w
	return u*u*((1+2*w)*v0+w*d*s0) + w*w*((1+2*u)*v1-u*d*s1)
}

// slope is the derivative of hermite by height.
func slope(v0, v1, s0, s1, d, w float64) float64 {
	u := 1 - w
	return 6*w*u*(v1-v0)/d + u*(1-3*w)*s0 + w*(1-3*u)*s1
}

// hermiteBelow is the integral of hermite over the heights from the cell's lower end to the share w.
func hermiteBelow(v0, v1, s0, s1, d, w float64) float64 {
	w2 := w * w
	w3, w4 := w2*w, w2*w2
	return d * (v0*(w-w3+w4/2) + v1*(w3-w4/2) + d*s0*(w2/2-2*w3/3+w4/4) + d*s1*(w4/4-w3/3))
}
