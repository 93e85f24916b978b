package panel

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// A mask is a set of cells, a row of the plane's mask for each column of cells. Cell (i, j) covers [i, i+1) × [j, j+1) steps from its
// corner.
type mask struct{ plane.Mask }

func newMask(columns, rows int) (m mask) {
	m.Reset(rows, columns)
	return m
}

// hair keeps rounding from marking a cell that is only touched, mm.
const hair = 1e-7

// draw marks every cell that lies nearer than margin to the region, moved by shift: a cell that is only touched, or exactly
// at that distance, stays free. The cells start at the origin.
func (m *mask) draw(o *outline, shift geom.Vec2, margin, step float64) {
	for _, e := range o.edges {
		m.drawEdge(edge{e.a.Add(shift), e.b.Add(shift)}, margin, step)
	}
	m.fill(o.region, shift, step)
}

// drawEdge marks the cells nearer than margin to an edge. What lies that near is convex, and so is the part of it in one
// column: its lowest and its highest point say all.
func (m *mask) drawEdge(e edge, margin, step float64) {
	if e.a.X > e.b.X {
		e.a, e.b = e.b, e.a
	}
	from := max(int(math.Floor((e.a.X-margin+hair)/step)), 0)
	to := min(int(math.Ceil((e.b.X+margin-hair)/step)), m.H)
	over := e.brow(margin)
	under := edge{geom.Vec2{X: e.a.X, Y: -e.a.Y}, geom.Vec2{X: e.b.X, Y: -e.b.Y}}.brow(margin)
	for i := from; i < to; i++ {
		left, right := float64(i)*step, float64(i+1)*step
		top, bottom := over.highest(left, right), -under.highest(left, right)
		if top < bottom {
			continue
		}
		m.SetSpan(i, int(math.Floor((bottom+hair)/step)), int(math.Ceil((top-hair)/step)))
	}
}

// A brow is the upper side of what lies within margin of an edge that runs to the right.
type brow struct {
	ends   [2]geom.Vec2
	margin float64
	length float64
	along  geom.Vec2
	a, b   geom.Vec2 // the edge, moved up and aside by margin
}

func (e edge) brow(margin float64) brow {
	d := e.b.Sub(e.a)
	w := brow{ends: [2]geom.Vec2{e.a, e.b}, margin: margin, length: d.Len(), along: d}
	if w.length > 0 {
		off := geom.Vec2{X: -d.Y, Y: d.X}.Scale(margin / w.length)
		w.a, w.b = e.a.Add(off), e.b.Add(off)
	}
	return w
}

// highest is its highest point over [left, right].
func (w *brow) highest(left, right float64) float64 {
	y := math.Inf(-1)
	if w.margin > 0 {
		for _, p := range w.ends {
			if dx := p.X - max(left, min(right, p.X)); dx <= w.margin && dx >= -w.margin {
				y = max(y, p.Y+math.Sqrt(w.margin*w.margin-dx*dx))
			}
		}
	}
	if w.length == 0 {
		if p := w.ends[0]; w.margin == 0 && p.X >= left && p.X <= right {
			y = p.Y
		}
		return y
	}
	if w.b.X < left || w.a.X > right {
		return y
	}
	if w.along.X <= 0 {
		return max(y, w.a.Y, w.b.Y)
	}
	at := func(x float64) float64 { return w.a.Y + (x-w.a.X)/w.along.X*w.along.Y }
	return max(y, at(max(left, w.a.X)), at(min(right, w.b.X)))
}

// fill marks the cells whose middle lies inside.
func (m *mask) fill(g geom.Region, shift geom.Vec2, step float64) {
	middle := geom.Vec2{X: step / 2, Y: step / 2}
	across := g.Mirror(func(p geom.Vec2) geom.Vec2 { return geom.Vec2{X: p.Y + shift.Y, Y: p.X + shift.X} })
	plane.Spans(across, middle, step, m.W, m.H, m.SetSpan)
}

// A run is a stretch of marked cells in a column.
type run struct{ column, from, to int32 }

// runs lists the marked stretches, column by column.
func (m *mask) runs() (out []run) {
	var rows []plane.Run
	for i := range m.H {
		rows = m.Runs(rows, i, i)
	}
	for _, r := range rows {
		out = append(out, run{r.Row, r.From, r.To + 1})
	}
	return out
}
