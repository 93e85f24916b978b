package mend

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// A thinPatch is one part of the surface with its own numbering, and one worker's scratch memory.
type thinPatch struct {
	t         *thinning
	local     []int32 // number in the patch + 1 of each point of the whole
	whole     []int32 // the other way
	points    []geom.Vec
	planes    []thinPlanes
	free      []thinFreedom
	version   []uint32 // of a point: what was noted about an earlier one no longer holds
	triangles []mesh.Triangle
	first     []int32
	at        []thinSpan // of each point, in around
	around    []int32    // triangles at the points; gone ones are struck out when met
	mark      []int32
	marks     int32
	queue     thinQueue
	star      thinStar
}

// A thinSpan is a piece of a list.
type thinSpan struct{ from, to int32 }

// A thinFreedom says what may happen to a point.
type thinFreedom uint8

const (
	movesCut   thinFreedom = iota // has triangles in other parts: left alone
	thinOnRim                     // may take in others but stays in place
	movesAny                      // may move
	movesTried                    // may move, but edges between two such have been tried
	movesGone
)

// gone is how a triangle that is no more is marked, at its first corner.
const noPoint = -1

func newThinPatch(t *thinning) *thinPatch {
	p := &thinPatch{t: t, local: make([]int32, len(t.points))}
	p.queue.limit(t.tolerance * t.tolerance)
	return p
}

// take copies the triangles named by order; in the first round it sums up their planes.
func (p *thinPatch) take(order []int32, sum bool) {
	p.whole, p.points, p.planes = p.whole[:0], p.points[:0], p.planes[:0]
	p.triangles, p.first = p.triangles[:0], p.first[:0]
	for _, i := range order {
		c := p.t.triangles[i]
		for k, v := range c {
			c[k] = p.number(v)
		}
		p.triangles = append(p.triangles, c)
		p.first = append(p.first, p.t.first[i])
		if sum {
			q := planeOf(p.points[c[0]], p.points[c[1]], p.points[c[2]])
			p.planes[c[0]].add(&q)
			p.planes[c[1]].add(&q)
			p.planes[c[2]].add(&q)
		}
	}
	p.arrange()
	for i, v := range p.whole {
		p.local[v] = 0
		switch {
		case p.at[i].to-p.at[i].from != p.t.uses[v]:
			p.free[i] = movesCut
		case p.t.fixed[v]:
			p.free[i] = thinOnRim
		case p.t.tried[v]:
			p.free[i] = movesTried
		default:
			p.free[i] = movesAny
		}
	}
}

// number is the patch's number of point v of the whole, a new one when it is first met.
func (p *thinPatch) number(v int32) int32 {
	if p.local[v] == 0 {
		p.whole = append(p.whole, v)
		p.local[v] = int32(len(p.whole))
		p.points = append(p.points, p.t.points[v].Vec().Sub(p.t.middle))
		p.planes = append(p.planes, p.t.planes[v])
	}
	return p.local[v] - 1
}

// arrange lists the triangles at each point by counting sort and clears what else is kept per point.
func (p *thinPatch) arrange() {
	n := len(p.points)
	if cap(p.at) < n {
		p.at, p.free = make([]thinSpan, n+n/4), make([]thinFreedom, n+n/4)
		p.version, p.mark = make([]uint32, n+n/4), make([]int32, n+n/4)
	}
	p.at, p.free, p.version, p.mark = p.at[:n], p.free[:n], p.version[:n], p.mark[:n]
	clear(p.at)
	clear(p.version)
	clear(p.mark)
	p.marks = 0
	for _, c := range p.triangles {
		for _, v := range c {
			p.at[v].to++
		}
	}
	sum := int32(0)
	for i := range p.at {
		count := p.at[i].to
		p.at[i] = thinSpan{sum, sum}
		sum += count
	}
	p.around = append(p.around[:0], make([]int32, sum)...)
	for i, c := range p.triangles {
		for _, v := range c {
			p.around[p.at[v].to] = int32(i)
			p.at[v].to++
		}
	}
}

// give copies what is left back to the whole: points inside the part directly, the rest as the answer.
func (p *thinPatch) give(sum bool) thinned {
	var out thinned
	for i, v := range p.whole {
		if p.free[i] != movesCut {
			p.t.points[v] = mesh.PointOf(p.points[i].Add(p.t.middle))
			p.t.planes[v] = p.planes[i]
			p.t.tried[v] = true
		} else if sum {
			out.cut = append(out.cut, v)
			out.planes = append(out.planes, p.planes[i])
		}
	}
	left := 0
	for _, c := range p.triangles {
		if c[0] != noPoint {
			left++
		}
	}
	out.triangles, out.first = make([]mesh.Triangle, 0, left), make([]int32, 0, left)
	for i, c := range p.triangles {
		if c[0] != noPoint {
			out.triangles = append(out.triangles, mesh.Triangle{p.whole[c[0]], p.whole[c[1]], p.whole[c[2]]})
			out.first = append(out.first, p.first[i])
		}
	}
	return out
}

// rounded is v as a mesh can hold it, so that what is checked is what is kept.
func (p *thinPatch) rounded(v geom.Vec) geom.Vec {
	return mesh.PointOf(v.Add(p.t.middle)).Vec().Sub(p.t.middle)
}

// A thinQueue gives edges by cost, roughly: four steps to a doubling, within a step the last come first.
type thinQueue struct {
	steps [256][]thinEdge
	low   int
	base  int
}

// A thinEdge is an edge that may be drawn together, with its ends' versions.
type thinEdge struct {
	a, b               int32
	versionA, versionB uint32
}

// limit centres the steps so that the highest cost of interest has many below and some above.
func (q *thinQueue) limit(cost float64) { q.base = thinStep(cost) - 160 }

func thinStep(cost float64) int { return int(math.Float32bits(float32(cost)) >> 21) }

func (q *thinQueue) push(cost float64, e thinEdge) {
	s := min(max(thinStep(cost)-q.base, 0), len(q.steps)-1)
	q.steps[s] = append(q.steps[s], e)
	q.low = min(q.low, s)
}

func (q *thinQueue) pop() (e thinEdge, ok bool) {
	for ; q.low < len(q.steps); q.low++ {
		if s := q.steps[q.low]; len(s) > 0 {
			e, q.steps[q.low] = s[len(s)-1], s[:len(s)-1]
			return e, true
		}
	}
	return e, false
}
