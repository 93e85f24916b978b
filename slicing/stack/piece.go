package stack

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// A piece is a connected set of fragments: the skin of a part, or of a cavity where the volume is negative.
type piece struct {
	Part
	slab    int32
	cut     bool  // it has a face at a joint, so it is no cavity
	highest int32 // a vertex of it, for a cavity to be looked for
	round   int   // the piece that it is a cavity of, else itself
	place   int32 // what its fragments are labelled with
}

// tinyPieces is the number of pieces up to which each share of the triangles keeps sums for all of them.
const tinyPieces = 4096

// measure sums up the fragments of each piece, and the faces. The volume between the two planes of a slab is the flux of a
// field that grows with the height above the lower one: what the skin gives, and the upper faces' area times the height
// between the planes. From the planes to the joints the piece is as good as straight.
func (c *cutter) measure(ctx context.Context, faces []face) (pieces []piece, ids []int32, err error) {
	ids, pieces = c.number()
	n := len(c.slicer.mesh.Triangles)
	size := share(n)
	if len(pieces) > tinyPieces {
		size = n
	}
	sums := make([][]sum, (n+size-1)/size)
	err = par.Spans(ctx, n, size, func(from, to int) {
		sums[from/size] = c.sumUp(from, to, ids, len(pieces))
	})
	if err != nil {
		return nil, nil, err
	}
	for i := range pieces {
		all := emptySum()
		for _, s := range sums {
			all.add(&s[i])
		}
		p := &pieces[i]
		p.Volume, p.highest, p.round = all.volume, all.highest, i
		p.Box = geom.Box{Min: all.low.Vec(), Max: all.high.Vec()}
		p.Box.Min.Z, p.Box.Max.Z = max(p.Box.Min.Z, c.slabs[p.slab].Bottom), min(p.Box.Max.Z, c.slabs[p.slab].Top)
	}
	for _, f := range faces {
		c.addFace(&pieces[ids[f.fragment]], f)
	}
	return pieces, ids, nil
}

// number numbers the pieces in the order of their least fragments, and gives that of each fragment, -1 for none.
func (c *cutter) number() (ids []int32, pieces []piece) {
	ids = make([]int32, len(c.sets))
	for f, least := range c.sets {
		var slab int32
		if f < len(c.low) {
			slab = c.low[f]
		} else {
			slab = c.spare[f-len(c.low)]
		}
		switch {
		case slab < 0:
			ids[f] = -1
		case int(least) == f:
			ids[f] = int32(len(pieces))
			pieces = append(pieces, piece{slab: slab})
		default:
			ids[f] = ids[least] // the way to the least goes down only
		}
	}
	return ids, pieces
}

func (c *cutter) addFace(p *piece, f face) {
	s := c.slabs[f.slab]
	p.cut = true
	floor := c.heights[2*f.slab]
	z := s.Bottom
	if f.above {
		z = s.Top
		p.Above += f.area
		p.Volume += f.area * (s.Top - floor)
	} else {
		p.Below += f.area
		p.Volume += f.area * (floor - s.Bottom)
	}
	p.Box = p.Box.Add(geom.Vec{X: f.box.Min.X, Y: f.box.Min.Y, Z: z}).Add(geom.Vec{X: f.box.Max.X, Y: f.box.Max.Y, Z: z})
}

// A sum is what some of a piece's fragments add up to: the box holds only vertices, the volume only the skin's share.
type sum struct {
	volume    float64
	low, high mesh.Point
	highest   int32
}

func emptySum() sum {
	inf := float32(math.Inf(1))
	return sum{low: mesh.Point{inf, inf, inf}, high: mesh.Point{-inf, -inf, -inf}, highest: -1}
}

func (s *sum) add(o *sum) {
	s.volume += o.volume
	if o.high[2] > s.high[2] {
		s.highest = o.highest
	}
	for k := range 3 {
		s.low[k], s.high[k] = min(s.low[k], o.low[k]), max(s.high[k], o.high[k])
	}
}

func (s *sum) point(p *mesh.Point, i int32) {
	if p[2] > s.high[2] {
		s.highest = i
	}
	for k, v := range p {
		if v < s.low[k] {
			s.low[k] = v
		}
		if v > s.high[k] {
			s.high[k] = v
		}
	}
}

// sumUp adds up the fragments of the triangles [from, to).
func (c *cutter) sumUp(from, to int, ids []int32, pieces int) []sum {
	m := c.slicer.mesh
	sums := make([]sum, pieces)
	for i := range sums {
		sums[i] = emptySum()
	}
	for i := int32(from); i < int32(to); i++ {
		if c.extra[i] != 0 {
			for slab, high := c.low[i], c.high(i); slab >= 0 && slab <= high; slab++ {
				c.sumCut(&sums[ids[c.fragment(i, slab)]], i, slab)
			}
			continue
		}
		t := &m.Triangles[i]
		s := &sums[ids[i]]
		p, q, r := &m.Points[t[0]], &m.Points[t[1]], &m.Points[t[2]]
		s.point(p, t[0])
		s.point(q, t[1])
		s.point(r, t[2])
		s.volume += shade(p, q, r) * ((float64(p[2])+float64(q[2])+float64(r[2]))/3 - c.heights[2*c.low[i]])
	}
	return sums
}

// sumCut adds what of a triangle lies in a slab when not all of it does.
func (c *cutter) sumCut(s *sum, i, slab int32) {
	m := c.slicer.mesh
	t := &m.Triangles[i]
	low, high := c.slabs[slab].Bottom-c.slicer.tolerance, c.slabs[slab].Top+c.slicer.tolerance
	for _, v := range t {
		if z := float64(m.Points[v][2]); z >= low && z <= high {
			s.point(&m.Points[v], v)
		}
	}
	var f facet
	f.set(m.Points[t[0]], m.Points[t[1]], m.Points[t[2]])
	z0, z1 := c.heights[2*slab], c.heights[2*slab+1]
	_, d0 := f.below(z0)
	share, d1 := f.below(z1)
	s.volume += f.shade * (d1 + (z1-z0)*share - d0)
}

// shade is the signed area of a triangle's projection onto the floor.
func shade(a, b, c *mesh.Point) float64 {
	ux, uy := float64(b[0])-float64(a[0]), float64(b[1])-float64(a[1])
	vx, vy := float64(c[0])-float64(a[0]), float64(c[1])-float64(a[1])
	return (ux*vy - uy*vx) / 2
}
