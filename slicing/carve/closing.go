package carve

import (
	"math"
	"slices"

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
	step   float64
	w, h   int        // columns
	stride int        // of z: columns, and the floor round them
	z      []float32  // above the far face; columns without wood are at floor
	tip    *HeightMap // of the cutter with its axis on columns
	floor  float64
	stop   func() bool
	off    []int32     // by place in z: 0 until it is asked for, then one more than the place in by
	by     []geom.Vec2 // how far walls stand out from their columns; the first is for columns that are none
	near   [4][]nearby // what lies round the middle between a column and its neighbour, by crossways
	margin int         // columns of tip beside the map
	under  []footing   // where the axis may stand on columns to reach over one
}

// A footing is a place for the axis near a column: at is where from it in the tip's map, edge how high the edge is over it.
type footing struct {
	at   int
	from geom.Vec2 // mm
	edge float64
}

// A nearby is a column near another one.
type nearby struct {
	at   int       // from the column in z
	from geom.Vec2 // from the middle, in columns
}

// closing readies a side; tip is the tip's surface for axes on columns. Once stop says so it leaves off.
func (b *bench) closing(l *LayerColumns, s Side, w Work, tip *HeightMap) *closing {
	m, c := l.of(s), w.Cutter.Grown(w.Leave)
	e := &b.how[s]
	*e = closing{
		cutter: c, edge: c.Edge(), step: m.Step, w: m.W, h: m.H, stride: m.W + 2*around, tip: tip,
		floor: -w.Past - w.Leave, stop: b.stop, z: e.z, off: e.off, by: append(e.by[:0], geom.Vec2{}), near: e.near,
		margin: (tip.W - m.W) / 2, under: e.under[:0],
	}
	n := e.stride * (m.H + 2*around)
	e.z, e.off = slices.Grow(e.z[:0], n)[:n], slices.Grow(e.off[:0], n)[:n]
	clear(e.off)
	for k := range e.z {
		e.z[k] = float32(e.floor)
	}
	far, sign := l.far(s)
	for j := range m.H {
		row := e.z[e.place(0, j):]
		for i, v := range m.Z[j*m.W:][:m.W] {
			if v != NoWood {
				row[i] = sign * (v - far)
			}
		}
	}
	for k := range crossways {
		e.near[k] = e.round(e.near[k][:0], crossways[k])
	}
	for y := -e.margin; y <= e.margin; y++ {
		for x := -e.margin; x <= e.margin; x++ {
			p := geom.Vec2{X: float64(x), Y: float64(y)}.Scale(e.step)
			if edge, ok := e.edge.At(p.Len()); ok {
				e.under = append(e.under, footing{y*tip.W + x, p, edge})
			}
		}
	}
	return e
}

// place is where column i, j is in z; it is there for columns beside the map too, by no more than around.
func (e *closing) place(i, j int) int { return (j+around)*e.stride + i + around }

// finest is the last step by which an axis is moved, mm.
const finest = 0.02

// down is the height above the far face to which the cutter gets down over column i, j; from is what it gets to with its axis
// on columns. It goes on from there and from where a slope would be touched in ever smaller steps.
func (e *closing) down(i, j int, from float32) float32 {
	at := e.place(i, j)
	wood := float64(e.z[at])
	if float64(from) <= wood+leastResidue || e.stop() {
		return from
	}
	best := lowering{closing: e, i: i, j: j}
	best.start()
	best.try(e.contact(at), 4)
	for step := e.step / 2; step >= finest && best.height > wood+leastResidue; {
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
	in     [9]cell   // columns that were last in the way, by where the axis was moved to
}

// start puts the axis on the column from which the cutter gets lowest, as far as columns tell.
func (b *lowering) start() {
	lowest := math.Inf(1)
	at := (b.j+b.margin)*b.tip.W + b.i + b.margin
	for k := range b.under {
		u := &b.under[k]
		if z := float64(b.tip.Z[at+u.at]) + u.edge; z < lowest {
			lowest, b.axis = z, u.from
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
func (b *lowering) lowered(axis geom.Vec2, most float64, in *cell) (z float64, ok bool) {
	edge, ok := b.edge.At(axis.Len())
	if !ok || b.floor+edge >= most {
		return 0, false
	}
	s, r := b.step, b.cutter.Diameter/2
	wide := r + s/2 // walls stand out
	x, y := float64(b.i)*s+axis.X, float64(b.j)*s+axis.Y
	if b.tipOn(*in, x, y)+edge >= most {
		return 0, false
	}
	i0, i1 := max(geom.Ceil((x-wide)/s), 0), min(int(math.Floor((x+wide)/s)), b.w-1)
	j0, j1 := max(geom.Ceil((y-wide)/s), 0), min(int(math.Floor((y+wide)/s)), b.h-1)
	tip := b.floor
	for j := j0; j <= j1; j++ {
		row := b.z[b.place(0, j):][:b.w]
		for i := i0; i <= i1; i++ {
			if float64(row[i]) <= tip {
				continue
			}
			k := cell{i, j}
			if tip = max(tip, b.tipOn(k, x, y)); tip+edge >= most {
				*in = k
				return 0, false
			}
		}
	}
	return tip + edge, true
}

// A cell is a column by its place in the map.
type cell struct{ i, j int }

// tipOn is how low the tip gets for the wood of one column alone when the axis is at x, y, mm from the map's first column.
func (e *closing) tipOn(c cell, x, y float64) float64 {
	k := e.place(c.i, c.j)
	by := e.out(k)
	dx, dy := float64(c.i)*e.step-x+by.X, float64(c.j)*e.step-y+by.Y
	rise, ok := e.edge.At(math.Sqrt(dx*dx + dy*dy))
	if !ok {
		return math.Inf(-1)
	}
	return float64(e.z[k]) - rise
}

// contact is where the axis stands when the cutter touches the slope at a place in z, from there.
func (e *closing) contact(k int) geom.Vec2 {
	s := 2 * e.step
	up := geom.Vec2{X: float64(e.z[k+1]-e.z[k-1]) / s, Y: float64(e.z[k+e.stride]-e.z[k-e.stride]) / s}
	steep := up.Len()
	if steep == 0 {
		return geom.Vec2{}
	}
	return up.Scale(-e.cutter.ContactAt(math.Atan(steep)) / steep)
}
