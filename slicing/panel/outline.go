package panel

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// An outline is a region made ready for distances: its edges in runs, each with a box.
type outline struct {
	region geom.Region
	box    geom.Box2
	area   float64
	edges  []edge
	boxes  []geom.Box2 // of each run of runLength edges
}

type edge struct{ a, b geom.Vec2 }

// runLength is how many edges share a box: short runs have small boxes, long runs few.
const runLength = 16

func newOutline(g geom.Region) outline {
	o := outline{region: g, box: g.Box(), area: g.Area()}
	for _, r := range g {
		for i, a := range r {
			o.edges = append(o.edges, edge{a, r[(i+1)%len(r)]})
		}
	}
	for from := 0; from < len(o.edges); from += runLength {
		box := geom.EmptyBox2()
		for _, e := range o.run(from / runLength) {
			box = box.Add(e.a).Add(e.b)
		}
		o.boxes = append(o.boxes, box)
	}
	return o
}

func (o *outline) run(i int) []edge { return o.edges[i*runLength : min((i+1)*runLength, len(o.edges))] }

// nearer is the distance between the solids of o and of p moved by shift when that is less than limit, else limit. Solids
// that overlap or touch are at distance 0.
func (o *outline) nearer(p *outline, shift geom.Vec2, limit float64) float64 {
	if gap(o.box, moved(p.box, shift)) >= limit {
		return limit
	}
	near := limit
	for i, a := range o.boxes {
		if gap(a, moved(p.box, shift)) >= near {
			continue
		}
		for j, b := range p.boxes {
			if gap(a, moved(b, shift)) < near {
				near = nearest(o.run(i), p.run(j), shift, near)
			}
		}
	}
	if near > 0 && (o.holds(p, shift) || p.holds(o, shift.Scale(-1))) {
		return 0
	}
	return near
}

// holds reports whether any ring of p, moved, starts inside o; it is asked when no edges cross.
func (o *outline) holds(p *outline, shift geom.Vec2) bool {
	for _, r := range p.region {
		if len(r) > 0 && o.contains(r[0].Add(shift)) {
			return true
		}
	}
	return false
}

// contains is Region.Contains; runs of edges that lie above, below or to the left of p are passed over.
func (o *outline) contains(p geom.Vec2) bool {
	n := 0
	for i, box := range o.boxes {
		if p.Y < box.Min.Y || p.Y > box.Max.Y || p.X > box.Max.X {
			continue
		}
		for _, e := range o.run(i) {
			n += geom.Passing(e.a, e.b, p)
		}
	}
	return n > 0
}

func nearest(as, bs []edge, shift geom.Vec2, limit float64) float64 {
	for _, b := range bs {
		b = edge{b.a.Add(shift), b.b.Add(shift)}
		box := geom.EmptyBox2().Add(b.a).Add(b.b)
		for _, a := range as {
			if gap(box, geom.EmptyBox2().Add(a.a).Add(a.b)) < limit {
				limit = min(limit, apart(a, b))
			}
		}
	}
	return limit
}

// apart is the distance between two edges.
func apart(e, f edge) float64 {
	if crosses(e, f) {
		return 0
	}
	return min(e.dist(f.a), e.dist(f.b), f.dist(e.a), f.dist(e.b))
}

func crosses(e, f edge) bool {
	d, g := e.b.Sub(e.a), f.b.Sub(f.a)
	return d.Cross(f.a.Sub(e.a))*d.Cross(f.b.Sub(e.a)) < 0 && g.Cross(e.a.Sub(f.a))*g.Cross(e.b.Sub(f.a)) < 0
}

// dist is the distance from p to the edge.
func (e edge) dist(p geom.Vec2) float64 { return plane.Apart(p, e.a, e.b) }

// rim is the distance from p to the nearest edge when that is less than limit, else limit.
func (o *outline) rim(p geom.Vec2, limit float64) float64 {
	far := limit * limit
	near := far
	for i, box := range o.boxes {
		x, y := max(0, box.Min.X-p.X, p.X-box.Max.X), max(0, box.Min.Y-p.Y, p.Y-box.Max.Y)
		if x*x+y*y >= near {
			continue
		}
		for _, e := range o.run(i) {
			d := p.Sub(plane.Nearest(p, e.a, e.b))
			near = min(near, d.Dot(d))
		}
	}
	if near == far {
		return limit
	}
	return math.Sqrt(near)
}

// nearPoint is the distance from the solid, moved by shift, to the point p when that is less than limit, else limit.
func (o *outline) nearPoint(p, shift geom.Vec2, limit float64) float64 {
	p = p.Sub(shift)
	if gap(o.box, geom.Box2{Min: p, Max: p}) >= limit {
		return limit
	}
	if o.contains(p) {
		return 0
	}
	return o.rim(p, limit)
}

// gap is the distance between two boxes, 0 where they meet.
func gap(a, b geom.Box2) float64 {
	x := max(0, b.Min.X-a.Max.X, a.Min.X-b.Max.X)
	y := max(0, b.Min.Y-a.Max.Y, a.Min.Y-b.Max.Y)
	return math.Sqrt(x*x + y*y)
}

func moved(b geom.Box2, by geom.Vec2) geom.Box2 {
	return geom.Box2{Min: b.Min.Add(by), Max: b.Max.Add(by)}
}

// boxOutline is a rectangle as an outline.
func boxOutline(b geom.Box2) outline {
	return newOutline(geom.Region{{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}}})
}
