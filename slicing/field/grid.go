package field

import (
	"math"

	"grainstack/slicing/geom"
)

// A Grid holds the depth below the surface at the nodes of a regular grid round the piece, in the piece's own frame and
// units, positive inside. Between nodes it is interpolated linearly in x, y and z.
type Grid struct {
	origin     geom.Vec // where node 0, 0, 0 lies, piece units
	step       float64  // between neighbouring nodes, piece units
	nx, ny, nz int
	depth      []float32 // x fastest, then y, then z; piece units
	deepest    float64   // of all nodes: the radius of the largest ball that fits in, short by at most 0.9 of a step
	solid      geom.Box  // of the piece, piece units
}

// Step is the distance between neighbouring nodes in piece units.
func (g *Grid) Step() float64 { return g.step }

// Depth is the depth of p in piece units, positive inside. Outside the grid it is a bound: the piece is at least that far.
func (g *Grid) Depth(p geom.Vec) float64 {
	q := p.Sub(g.origin).Scale(1 / g.step)
	return g.at(q.X, q.Y, q.Z)
}

// gradient is the direction in which depth grows fastest at p, by differences over a step; its length is 1 but near ridges
// and folds.
func (g *Grid) gradient(p geom.Vec) geom.Vec {
	q := p.Sub(g.origin).Scale(1 / g.step)
	f := 1 / g.step
	return geom.Vec{
		X: (g.at(q.X+0.5, q.Y, q.Z) - g.at(q.X-0.5, q.Y, q.Z)) * f,
		Y: (g.at(q.X, q.Y+0.5, q.Z) - g.at(q.X, q.Y-0.5, q.Z)) * f,
		Z: (g.at(q.X, q.Y, q.Z+0.5) - g.at(q.X, q.Y, q.Z-0.5)) * f,
	}
}

// at is the depth at a place given in steps from node 0, 0, 0.
func (g *Grid) at(x, y, z float64) float64 {
	if x >= 0 && y >= 0 && z >= 0 && x < float64(g.nx-1) && y < float64(g.ny-1) && z < float64(g.nz-1) {
		return g.within(x, y, z)
	}
	return g.beyond(x, y, z)
}

// within interpolates between the eight nodes round a place inside the grid.
func (g *Grid) within(x, y, z float64) float64 {
	i, j, k := int(x), int(y), int(z)
	fx, fy, fz := float32(x-float64(i)), float32(y-float64(j)), float32(z-float64(k))
	n := (k*g.ny+j)*g.nx + i
	lo, hi := g.depth[n:], g.depth[n+g.nx*g.ny:]
	a, b, c, d := lo[0], lo[1], lo[g.nx], lo[g.nx+1]
	e, f, p, q := hi[0], hi[1], hi[g.nx], hi[g.nx+1]
	a += (b - a) * fx
	c += (d - c) * fx
	e += (f - e) * fx
	p += (q - p) * fx
	a += (c - a) * fy
	e += (p - e) * fy
	return float64(a + (e-a)*fz)
}

// beyond is a bound for places outside the grid: the way to the grid's box and the way on from there stand at a right angle
// or wider, since the piece lies within the box.
func (g *Grid) beyond(x, y, z float64) float64 {
	const inset = 1e-9
	cx := clamp(x, 0, float64(g.nx-1)-inset*float64(g.nx))
	cy := clamp(y, 0, float64(g.ny-1)-inset*float64(g.ny))
	cz := clamp(z, 0, float64(g.nz-1)-inset*float64(g.nz))
	out := g.step * math.Sqrt((x-cx)*(x-cx)+(y-cy)*(y-cy)+(z-cz)*(z-cz))
	return -math.Hypot(out, g.within(cx, cy, cz))
}

// clamp keeps v within lo and hi; what is not a number becomes lo.
func clamp(v, lo, hi float64) float64 {
	if v > hi {
		return hi
	}
	if v > lo {
		return v
	}
	return lo
}

// A frame carries places of the stand to grid steps: at + x·ux + y·uy + z·uz.
type frame struct{ at, ux, uy, uz geom.Vec }

// frameOf is the way from the stand to the grid's own steps.
func (g *Grid) frameOf(pl geom.Placement) frame {
	back := func(v geom.Vec) geom.Vec { return pl.Back(v).Sub(g.origin).Scale(1 / g.step) }
	at := back(geom.Vec{})
	way := func(v geom.Vec) geom.Vec { return pl.Turn.Inverse().Apply(v).Scale(1 / (pl.Scale * g.step)) }
	return frame{at, way(geom.Vec{X: 1}), way(geom.Vec{Y: 1}), way(geom.Vec{Z: 1})}
}

// A rise is how one coordinate of the stand grows over the nodes: at + i·dx + j·dy + k·dz, mm.
type rise struct{ at, dx, dy, dz float64 }

// rises are the stand's x, y and z over the nodes.
func (g *Grid) rises(pl geom.Placement) (x, y, z rise) {
	o := pl.Apply(g.origin)
	s := g.step * pl.Scale
	row := func(r [3]float64, at float64) rise { return rise{at, r[0] * s, r[1] * s, r[2] * s} }
	return row(pl.Turn[0], o.X), row(pl.Turn[1], o.Y), row(pl.Turn[2], o.Z)
}

// of is the coordinate of the first node of row j, k.
func (r rise) of(j, k int) float64 { return r.at + float64(j)*r.dy + float64(k)*r.dz }

// standBox is the piece's box in the stand, a little large when the piece is turned.
func (g *Grid) standBox(pl geom.Placement) geom.Box {
	b := geom.EmptyBox()
	for c := range 8 {
		p := g.solid.Min
		if c&1 != 0 {
			p.X = g.solid.Max.X
		}
		if c&2 != 0 {
			p.Y = g.solid.Max.Y
		}
		if c&4 != 0 {
			p.Z = g.solid.Max.Z
		}
		b = b.Add(pl.Apply(p))
	}
	return b
}
