package look

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// A Body is a surface made ready to be drawn: the piece in its own frame and units. It never changes after it has been
// made and may be drawn by several renderers at once.
type Body struct {
	points    []mesh.Point
	triangles []mesh.Triangle
	skins     []skin  // per point
	creased   []uint8 // one bit per triangle: it has a corner at an edge
	closed    bool
	centre    geom.Vec
	radius    float64 // farthest point from centre
	spread    []mesh.Point
}

// skin is what a point of the surface knows besides its place: a unit normal in steps of 1/32767, how open to the sky it
// is, 0 to 255, and whether (1) an edge runs through it.
type skin struct {
	n    [3]int16
	open uint8
	edge uint8
}

// creaseCos is the cosine of the angle between a facet and the mean of its neighbours from which an edge is meant as an
// edge: 29 degrees. At such an edge a facet keeps its own normal if it leans more than 8 degrees from the mean.
const (
	creaseCos = 0.87
	edgeCos   = 0.990
)

// normalSpans is how many partial sums of normals there are. It is fixed, so that the sums round alike on every machine.
const normalSpans = 2

// NewBody makes a mesh ready: area-weighted normals, creases, the size that the picture is fitted to. It takes some 50 ms
// for a million triangles and keeps the mesh's points and triangles without copying them.
func NewBody(m *mesh.Mesh) *Body {
	b := &Body{points: m.Points, triangles: m.Triangles}
	sums, total, area := b.normalSums()
	b.closed = total.Len() <= 1e-4*area
	b.pack(sums)
	b.markCreases()
	b.measure()
	b.spread = b.scatter(area)
	return b
}

// WithOpenness is the same body with how open each point is to the sky: 255 on a hilltop, 0 in the deepest corner, one for
// each point. A list of another length leaves the body fully open.
func (b *Body) WithOpenness(open []uint8) *Body {
	c := *b
	if len(open) != len(b.points) {
		return &c
	}
	c.skins = make([]skin, len(b.skins))
	for i, s := range b.skins {
		c.skins[i] = skin{s.n, open[i], s.edge}
	}
	return &c
}

// Triangles is how many triangles the body has.
func (b *Body) Triangles() int { return len(b.triangles) }

// normalSums adds up each point's facet normals, weighted by area. It also returns the sum over all facets, which is zero
// for a closed surface, and the sum of their sizes, both twice the area in units squared.
func (b *Body) normalSums() (sums [][3]float32, total geom.Vec, area float64) {
	var part [normalSpans][][3]float32
	var totals [normalSpans]geom.Vec
	var areas [normalSpans]float64
	n := len(b.triangles)
	span := (n + normalSpans - 1) / normalSpans
	_ = par.Spans(context.Background(), n, span, func(from, to int) {
		k := from / span
		part[k] = make([][3]float32, len(b.points))
		totals[k], areas[k] = b.addNormals(part[k], from, to)
	})
	for k := range part {
		total, area = total.Add(totals[k]), area+areas[k]
	}
	if n == 0 {
		return make([][3]float32, len(b.points)), total, area
	}
	if part[1] != nil {
		for i, q := range part[1] {
			p := &part[0][i]
			p[0], p[1], p[2] = p[0]+q[0], p[1]+q[1], p[2]+q[2]
		}
	}
	return part[0], total, area
}

func (b *Body) addNormals(sums [][3]float32, from, to int) (total geom.Vec, area float64) {
	for _, t := range b.triangles[from:to] {
		n := facetNormal(b.points, t)
		for _, v := range t {
			s := &sums[v]
			s[0], s[1], s[2] = s[0]+n[0], s[1]+n[1], s[2]+n[2]
		}
		total = total.Add(geom.Vec{X: float64(n[0]), Y: float64(n[1]), Z: float64(n[2])})
		area += float64(length(n))
	}
	return total, area
}

// facetNormal has the length of twice the triangle's area.
func facetNormal(points []mesh.Point, t mesh.Triangle) [3]float32 {
	a, b, c := &points[t[0]], &points[t[1]], &points[t[2]]
	ux, uy, uz := b[0]-a[0], b[1]-a[1], b[2]-a[2]
	vx, vy, vz := c[0]-a[0], c[1]-a[1], c[2]-a[2]
	return [3]float32{uy*vz - uz*vy, uz*vx - ux*vz, ux*vy - uy*vx}
}

func length(v [3]float32) float32 {
	return float32(math.Sqrt(float64(v[0]*v[0] + v[1]*v[1] + v[2]*v[2])))
}

const packed = 32767 // steps of a packed normal's component

// pack shortens the sums to unit normals. A point without area gets an upright one.
func (b *Body) pack(sums [][3]float32) {
	b.skins = make([]skin, len(sums))
	_ = par.Spans(context.Background(), len(sums), 1<<15, func(from, to int) {
		for i := from; i < to; i++ {
			s := sums[i]
			l := length(s)
			if !(l > 0) || math.IsInf(float64(l), 0) {
				s, l = [3]float32{0, 0, 1}, 1
			}
			k := packed / l
			b.skins[i] = skin{[3]int16{int16(s[0] * k), int16(s[1] * k), int16(s[2] * k)}, 255, 0}
		}
	})
}

// markCreases finds the points at which an edge is meant, then the triangles that have such a point.
func (b *Body) markCreases() {
	const span = 1 << 13
	n := len(b.triangles)
	edges := make([][]int32, (n+span-1)/span)
	_ = par.Spans(context.Background(), n, span, func(from, to int) {
		for _, t := range b.triangles[from:to] {
			edges[from/span] = b.leaning(edges[from/span], t)
		}
	})
	for _, list := range edges {
		for _, i := range list {
			b.skins[i].edge = 1
		}
	}
	b.creased = make([]uint8, (n+7)/8)
	_ = par.Spans(context.Background(), len(b.creased), span/8, func(from, to int) {
		for i := from; i < to; i++ {
			for j, t := range b.triangles[8*i : min(8*i+8, n)] {
				b.creased[i] |= (b.skins[t[0]].edge | b.skins[t[1]].edge | b.skins[t[2]].edge) << j
			}
		}
	})
}

// leaning adds the corners whose normal is farther than a crease's angle from the facet's own.
func (b *Body) leaning(list []int32, t mesh.Triangle) []int32 {
	n := facetNormal(b.points, t)
	limit := creaseCos * packed * length(n)
	for _, v := range t {
		s := &b.skins[v].n
		if n[0]*float32(s[0])+n[1]*float32(s[1])+n[2]*float32(s[2]) < limit {
			list = append(list, v)
		}
	}
	return list
}

func (b *Body) measure() {
	if len(b.points) == 0 {
		return
	}
	low, high := b.points[0], b.points[0]
	for _, p := range b.points {
		for i, c := range p {
			if c < low[i] {
				low[i] = c
			} else if c > high[i] {
				high[i] = c
			}
		}
	}
	b.centre = low.Vec().Add(high.Vec()).Scale(0.5)
	x, y, z := float32(b.centre.X), float32(b.centre.Y), float32(b.centre.Z)
	far := float32(0)
	for _, p := range b.points {
		dx, dy, dz := p[0]-x, p[1]-y, p[2]-z
		if d := dx*dx + dy*dy + dz*dz; d > far {
			far = d
		}
	}
	b.radius = math.Sqrt(float64(far))
}

// Centre and Radius are the ball that a view is fitted to, in the body's frame and units.
func (b *Body) Centre() geom.Vec { return b.centre }

// Radius is how far the farthest point lies from Centre.
func (b *Body) Radius() float64 { return b.radius }
