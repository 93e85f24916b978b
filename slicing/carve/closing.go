package carve

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/stock"
)

// A closing says how low a cutter gets over single columns of one side, with its axis anywhere and not only on columns. The
// columns are points of the wood, and a cutter that may stand anywhere touches every one of them on a slope, a dome, or an
// upright wall however askew: what it can't touch is really out of its reach, never the columns' doing.
//
// Between a wall's last column and the first one beyond its foot the wall may stand anywhere; it is taken to stand half-way
// between them.
type closing struct {
	cutter stock.Cutter
	edge   stock.Edge
	seen   *HeightMap // above the far face; columns without wood are at floor
	tip    *HeightMap // of the cutter with its axis on columns
	floor  float64
	stop   func() bool
	off    []int32     // by column: 0, or one more than the place in by
	by     []geom.Vec2 // how far walls stand out from their columns
}

// closing readies a side; tip is the tip's surface for axes on columns. Once stop says so it leaves off.
func (l *LayerColumns) closing(s Side, w Work, tip *HeightMap, stop func() bool) *closing {
	seen := l.Seen(s)
	floor := -w.Past - w.Leave
	for i, v := range seen.Z {
		if v == NoWood {
			seen.Z[i] = float32(floor)
		}
	}
	c := w.Cutter.Grown(w.Leave)
	e := &closing{cutter: c, edge: c.Edge(), seen: &seen, tip: tip, floor: floor, off: make([]int32, len(seen.Z)), stop: stop}
	for j := range seen.H {
		for i := range seen.W {
			if v := e.standsOut(i, j); v != (geom.Vec2{}) {
				e.by = append(e.by, v)
				e.off[j*seen.W+i] = int32(len(e.by))
			}
		}
	}
	return e
}

// at is the wood's height in a column, the floor's beside the map.
func (e *closing) at(i, j int) float64 {
	if i < 0 || j < 0 || i >= e.seen.W || j >= e.seen.H {
		return e.floor
	}
	return float64(e.seen.Z[j*e.seen.W+i])
}

// crossways are the four neighbours of a column.
var crossways = [4][2]int{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}

// standsOut is how far a wall is taken to stand out from its last column towards its foot: zero for columns that are none.
// From a wall to its foot the wood falls more steeply than 45 degrees, and both sides level off: carried on, the two don't
// meet half-way as they do on a slope.
func (e *closing) standsOut(i, j int) geom.Vec2 {
	z, deepest := e.at(i, j), e.seen.Step
	best := -1
	for k, d := range crossways {
		foot := e.at(i+d[0], j+d[1])
		fall := z - foot
		if fall <= deepest {
			continue
		}
		middle := (z + foot) / 2
		top := z + (z-e.at(i-d[0], j-d[1]))/2
		low := foot + (foot-e.at(i+2*d[0], j+2*d[1]))/2
		if top-middle > fall/4 && middle-low > fall/4 {
			best, deepest = k, fall
		}
	}
	if best < 0 {
		return geom.Vec2{}
	}
	return e.gap(i, j, crossways[best], z-deepest/2)
}

const (
	// wallReach is how far round the middle between a wall and its foot columns tell which way the wall faces, in columns.
	wallReach = 3
	// turns and turnBy are how often and how far, radians, the wall's facing is turned either way to part its columns best
	// from those before it.
	turns, turnBy = 5, 0.1
)

// gap is half the widest gap that parts the columns of a wall from those before it, square to the gap. Those higher than mid
// are the wall's.
func (e *closing) gap(i, j int, to [2]int, mid float64) geom.Vec2 {
	var sides [2][]geom.Vec2 // what is before the wall, and the wall, in columns from the middle
	var middle [2]geom.Vec2
	for y := -wallReach - 1; y <= wallReach+1; y++ {
		for x := -wallReach - 1; x <= wallReach+1; x++ {
			p := geom.Vec2{X: float64(x) - float64(to[0])/2, Y: float64(y) - float64(to[1])/2}
			if p.Len() > wallReach {
				continue
			}
			k := 0
			if e.at(i+x, j+y) > mid {
				k = 1
			}
			sides[k], middle[k] = append(sides[k], p), middle[k].Add(p)
		}
	}
	if len(sides[0]) == 0 || len(sides[1]) == 0 {
		return geom.Vec2{}
	}
	facing := middle[0].Scale(1 / float64(len(sides[0]))).Sub(middle[1].Scale(1 / float64(len(sides[1]))))
	angle := math.Atan2(facing.Y, facing.X)
	wide, square := 0.0, geom.Vec2{}
	for k := -turns; k <= turns; k++ {
		sin, cos := math.Sincos(angle + float64(k)*turnBy)
		n := geom.Vec2{X: cos, Y: sin}
		last, first := math.Inf(-1), math.Inf(1)
		for _, p := range sides[1] {
			last = max(last, p.Dot(n))
		}
		for _, p := range sides[0] {
			first = min(first, p.Dot(n))
		}
		if first-last > wide {
			wide, square = first-last, n
		}
	}
	return square.Scale(min(wide/2, 0.5) * e.seen.Step)
}

// finest is the last step by which an axis is moved, mm.
const finest = 0.02

// down is the height above the far face to which the cutter gets down over column k; from is what it gets to with its axis
// on columns. It goes on from there and from where a slope would be touched in ever smaller steps.
func (e *closing) down(k int, from float32) float32 {
	wood := float64(e.seen.Z[k])
	if float64(from) <= wood+leastResidue || e.stop() {
		return from
	}
	i, j := k%e.seen.W, k/e.seen.W
	best := lowering{closing: e, i: i, j: j}
	best.start()
	best.try(e.contact(i, j), 4)
	for step := e.seen.Step / 2; step >= finest && best.height > wood+leastResidue; {
		if !best.round(step) {
			step /= 2
		}
	}
	return float32(max(best.height, wood))
}

// A lowering is the best place of the axis so far for one column.
type lowering struct {
	*closing
	i, j   int
	axis   geom.Vec2 // from the column, mm
	height float64   // to which the edge gets down over the column
	in     [9]int    // columns that were last in the way, by where the axis was moved to
}

// start puts the axis on the column from which the cutter gets lowest, as far as columns tell.
func (b *lowering) start() {
	s := b.seen.Step
	di := int(math.Round((b.seen.Origin.X - b.tip.Origin.X) / s))
	dj := int(math.Round((b.seen.Origin.Y - b.tip.Origin.Y) / s))
	r := int(b.cutter.Diameter / 2 / s)
	lowest := math.Inf(1)
	for y := -r; y <= r; y++ {
		for x := -r; x <= r; x++ {
			edge, ok := b.edge.At(s * math.Hypot(float64(x), float64(y)))
			p, q := b.i+di+x, b.j+dj+y
			if !ok || p < 0 || q < 0 || p >= b.tip.W || q >= b.tip.H {
				continue
			}
			if z := float64(b.tip.At(p, q)) + edge; z < lowest {
				lowest, b.axis = z, geom.Vec2{X: float64(x) * s, Y: float64(y) * s}
			}
		}
	}
	b.height, _ = b.lowered(b.axis, math.Inf(1), &b.in[4])
}

// worthwhile is by how much the edge must get lower for the axis to move, mm.
const worthwhile = leastResidue / 4

// try takes a place of the axis if the edge gets lower there.
func (b *lowering) try(axis geom.Vec2, way int) bool {
	z, ok := b.lowered(axis, b.height-worthwhile, &b.in[way])
	if ok {
		b.axis, b.height = axis, z
	}
	return ok
}

// round tries the eight places about the axis.
func (b *lowering) round(step float64) (better bool) {
	from := b.axis
	for k := range b.in {
		by := geom.Vec2{X: float64(k%3 - 1), Y: float64(k/3 - 1)}.Scale(step)
		if k != 4 && b.try(from.Add(by), k) {
			better = true
		}
	}
	return better
}

// lowered is the height of the edge over the column with the axis at a place; ok is false where it is not below most or
// does not reach over the column. The column in is asked first, and becomes the one that was in the way.
func (b *lowering) lowered(axis geom.Vec2, most float64, in *int) (z float64, ok bool) {
	edge, ok := b.edge.At(axis.Len())
	if !ok || b.floor+edge >= most {
		return 0, false
	}
	s, r := b.seen.Step, b.cutter.Diameter/2
	wide := r + s/2 // walls stand out
	x, y := float64(b.i)*s+axis.X, float64(b.j)*s+axis.Y
	if b.tipOn(*in, x, y)+edge >= most {
		return 0, false
	}
	i0, i1 := max(geom.Ceil((x-wide)/s), 0), min(int(math.Floor((x+wide)/s)), b.seen.W-1)
	j0, j1 := max(geom.Ceil((y-wide)/s), 0), min(int(math.Floor((y+wide)/s)), b.seen.H-1)
	tip := b.floor
	for j := j0; j <= j1; j++ {
		row := j * b.seen.W
		for k := row + i0; k <= row+i1; k++ {
			if float64(b.seen.Z[k]) <= tip {
				continue
			}
			if tip = max(tip, b.tipOn(k, x, y)); tip+edge >= most {
				*in = k
				return 0, false
			}
		}
	}
	return tip + edge, true
}

// tipOn is how low the tip gets for the wood of column k alone when the axis is at x, y, mm from the map's first column.
func (e *closing) tipOn(k int, x, y float64) float64 {
	dx, dy := float64(k%e.seen.W)*e.seen.Step-x, float64(k/e.seen.W)*e.seen.Step-y
	if n := e.off[k]; n > 0 {
		dx, dy = dx+e.by[n-1].X, dy+e.by[n-1].Y
	}
	rise, ok := e.edge.At(math.Sqrt(dx*dx + dy*dy))
	if !ok {
		return math.Inf(-1)
	}
	return float64(e.seen.Z[k]) - rise
}

// contact is where the axis stands when the cutter touches the slope in a column, from there.
func (e *closing) contact(i, j int) geom.Vec2 {
	s := 2 * e.seen.Step
	up := geom.Vec2{X: (e.at(i+1, j) - e.at(i-1, j)) / s, Y: (e.at(i, j+1) - e.at(i, j-1)) / s}
	steep := up.Len()
	if steep == 0 {
		return geom.Vec2{}
	}
	return up.Scale(-e.cutter.ContactAt(math.Atan(steep)) / steep)
}
