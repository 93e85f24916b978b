package plane

import (
	"math"

	"grainstack/slicing/geom"
)

// An Inside answers for many points what Region.Contains says of each: edges lie in strips of height, so that only those near a
// point's are asked. It never changes.
type Inside struct {
	low, high float64 // of the region
	per       float64 // strips to a mm
	start     []int32 // per strip, of edges
	edges     [][2]geom.Vec2
}

// mostPerEdge is how many strips an edge lies in at the most, on average.
const mostPerEdge = 3

// NewInside readies a region.
func NewInside(g geom.Region) *Inside {
	box := g.Box()
	in := &Inside{low: box.Min.Y, high: box.Max.Y}
	n, climb := 0, 0.0
	for _, r := range g {
		n += len(r)
		for i, a := range r {
			climb += math.Abs(r[(i+1)%len(r)].Y - a.Y)
		}
	}
	if !(climb > 0) || math.IsInf(climb, 0) {
		in.low, in.high = 0, math.Inf(-1) // nothing is inside
		return in
	}
	in.per = mostPerEdge * float64(n) / climb
	in.start = make([]int32, in.strip(in.high)+2)
	in.each(g, func(strip int, _ [2]geom.Vec2) { in.start[strip+1]++ })
	for i := 1; i < len(in.start); i++ {
		in.start[i] += in.start[i-1]
	}
	in.edges = make([][2]geom.Vec2, in.start[len(in.start)-1])
	next := append([]int32(nil), in.start...)
	in.each(g, func(strip int, e [2]geom.Vec2) {
		in.edges[next[strip]] = e
		next[strip]++
	})
	return in
}

// strip is the one that a height of the region lies in.
func (in *Inside) strip(y float64) int { return int((y - in.low) * in.per) }

// each visits the edges that are not level with the strips that they lie in.
func (in *Inside) each(g geom.Region, visit func(strip int, e [2]geom.Vec2)) {
	for _, r := range g {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			if a.Y == b.Y {
				continue
			}
			for s := in.strip(min(a.Y, b.Y)); s <= in.strip(max(a.Y, b.Y)); s++ {
				visit(s, [2]geom.Vec2{a, b})
			}
		}
	}
}

// Contains reports whether a point lies inside.
func (in *Inside) Contains(p geom.Vec2) bool {
	if !(p.Y >= in.low && p.Y <= in.high) {
		return false
	}
	n, s := 0, in.strip(p.Y)
	for _, e := range in.edges[in.start[s]:in.start[s+1]] {
		n += geom.Passing(e[0], e[1], p)
	}
	return n > 0
}
