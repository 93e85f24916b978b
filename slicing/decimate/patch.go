package decimate

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// A patch is one part of the surface with its own numbering, and one worker's scratch memory.
type patch struct {
	t         *thinning
	local     []int32 // number in the patch + 1 of each point of the whole
	whole     []int32 // the other way
	points    []geom.Vec
	planes    []planes
	free      []freedom
	version   []uint32 // of a point: what was noted about an earlier one no longer holds
	triangles []mesh.Triangle
	first     []int32
	at        []span  // of each point, in around
	around    []int32 // triangles at the points; gone ones are struck out when met
	mark      []int32
	marks     int32
	queue     queue
	star      star
}

// A span is a piece of a list.
type span struct{ from, to int32 }

// A freedom says what may happen to a point.
type freedom uint8

const (
	movesCut   freedom = iota // has triangles in other parts: left alone
	onRim                     // may take in others but stays in place
	movesAny                  // may move
	movesTried                // may move, but edges between two such have been tried
	movesGone
)

// gone is how a triangle that is no more is marked, at its first corner.
const noPoint = -1

func newPatch(t *thinning) *patch {
	p := &patch{t: t, local: make([]int32, len(t.points))}
	p.queue.limit(t.tolerance * t.tolerance)
	return p
}

// take copies the triangles named by order; in the first round it sums up their planes.
func (p *patch) take(order []int32, sum bool) {
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
			p.free[i] = onRim
		case p.t.tried[v]:
			p.free[i] = movesTried
		default:
			p.free[i] = movesAny
		}
	}
}

// number is the patch's number of point v of the whole, a new one when it is first met.
func (p *patch) number(v int32) int32 {
	if p.local[v] == 0 {
		p.whole = append(p.whole, v)
		p.local[v] = int32(len(p.whole))
		p.points = append(p.points, p.t.points[v].Vec().Sub(p.t.middle))
		p.planes = append(p.planes, p.t.planes[v])
	}
	return p.local[v] - 1
}

// arrange lists the triangles at each point by counting sort and clears what else is kept per point.
func (p *patch) arrange() {
	n := len(p.points)
	if cap(p.at) < n {
		p.at, p.free = make([]span, n+n/4), make([]freedom, n+n/4)
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
		p.at[i] = span{sum, sum}
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
func (p *patch) give(sum bool) thinned {
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
func (p *patch) rounded(v geom.Vec) geom.Vec {
	return mesh.PointOf(v.Add(p.t.middle)).Vec().Sub(p.t.middle)
}

// A queue gives edges by cost, roughly: four steps to a doubling, within a step the last come first.
type queue struct {
	steps [256][]edge
	low   int
	base  int
}

// An edge is an edge that may be drawn together, with its ends' versions.
type edge struct {
	a, b               int32
	versionA, versionB uint32
}

// limit centres the steps so that the highest cost of interest has many below and some above.
func (q *queue) limit(cost float64) { q.base = stepOf(cost) - 160 }

func stepOf(cost float64) int { return int(math.Float32bits(float32(cost)) >> 21) }

func (q *queue) push(cost float64, e edge) {
	s := min(max(stepOf(cost)-q.base, 0), len(q.steps)-1)
	q.steps[s] = append(q.steps[s], e)
	q.low = min(q.low, s)
}

func (q *queue) pop() (e edge, ok bool) {
	for ; q.low < len(q.steps); q.low++ {
		if s := q.steps[q.low]; len(s) > 0 {
			e, q.steps[q.low] = s[len(s)-1], s[:len(s)-1]
			return e, true
		}
	}
	return e, false
}
