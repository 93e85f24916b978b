package carve

import (
	"math"

	"grainstack/slicing/geom"
)

// crossways are the four neighbours of a column.
var crossways = [4][2]int{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}

// out is how far a wall is taken to stand out from a column.
func (e *closing) out(k int) geom.Vec2 {
	if e.off[k] == 0 {
		e.off[k] = 1
		if v := e.standsOut(k); v != (geom.Vec2{}) {
			e.by = append(e.by, v)
			e.off[k] = int32(len(e.by))
		}
	}
	return e.by[e.off[k]-1]
}

// standsOut is how far a wall is taken to stand out from its last column towards its foot: zero for columns that are none.
// From a wall to its foot the wood falls more steeply than 45 degrees, and both sides level off: carried on, the two don't
// meet half-way as they do on a slope.
func (e *closing) standsOut(k int) geom.Vec2 {
	at := func(k int) float64 { return float64(e.z[k]) }
	z, deepest := at(k), e.step
	best := -1
	for n, to := range [4]int{1, e.stride, -1, -e.stride} { // as crossways
		foot := at(k + to)
		fall := z - foot
		if fall <= deepest {
			continue
		}
		middle := (z + foot) / 2
		top := z + (z-at(k-to))/2
		low := foot + (foot-at(k+2*to))/2
		if top-middle > fall/4 && middle-low > fall/4 {
			best, deepest = n, fall
		}
	}
	if best < 0 {
		return geom.Vec2{}
	}
	return e.gap(k, best, z-deepest/2)
}

const (
	// wallReach is how far round the middle between a wall and its foot columns tell which way the wall faces, in columns.
	wallReach = 3
	// turns and turnBy are how often and how far, radians, the wall's facing is turned either way to part its columns best
	// from those before it.
	turns, turnBy = 5, 0.1
	// around is how far beside the map columns are asked for, and mostNear how many lie within wallReach.
	around, mostNear = wallReach + 1, 4 * (wallReach + 1) * (wallReach + 1)
)

// round lists the columns within wallReach of the middle between a column and a neighbour.
func (e *closing) round(out []nearby, to [2]int) []nearby {
	for y := -around; y <= around; y++ {
		for x := -around; x <= around; x++ {
			p := geom.Vec2{X: float64(x) - float64(to[0])/2, Y: float64(y) - float64(to[1])/2}
			if p.Len() <= wallReach {
				out = append(out, nearby{y*e.stride + x, p})
			}
		}
	}
	return out
}

// gap is half the widest gap that parts the columns of a wall from those before it, square to the gap; way is that of crossways in
// which the wall falls. Those higher than mid are the wall's.
func (e *closing) gap(k, way int, mid float64) geom.Vec2 {
	var room [2][mostNear]geom.Vec2
	before, wall := room[0][:0], room[1][:0]
	var middle [2]geom.Vec2
	for _, n := range e.near[way] {
		if float64(e.z[k+n.at]) > mid {
			wall, middle[1] = append(wall, n.from), middle[1].Add(n.from)
		} else {
			before, middle[0] = append(before, n.from), middle[0].Add(n.from)
		}
	}
	if len(before) == 0 || len(wall) == 0 {
		return geom.Vec2{}
	}
	facing := middle[0].Scale(1 / float64(len(before))).Sub(middle[1].Scale(1 / float64(len(wall))))
	angle := math.Atan2(facing.Y, facing.X)
	wide, square := 0.0, geom.Vec2{}
	for t := -turns; t <= turns; t++ {
		sin, cos := math.Sincos(angle + float64(t)*turnBy)
		n := geom.Vec2{X: cos, Y: sin}
		last, first := math.Inf(-1), math.Inf(1)
		for _, p := range wall {
			last = max(last, p.Dot(n))
		}
		for _, p := range before {
			first = min(first, p.Dot(n))
			if first-last <= wide {
				break
			}
		}
		if first-last > wide {
			wide, square = first-last, n
		}
	}
	return square.Scale(min(wide/2, 0.5) * e.step)
}
