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
	for i := from; i < to; i++ {
		left, right := float64(i)*step, float64(i+1)*step
		top := e.highest(left, right, margin)
		under := edge{geom.Vec2{X: e.a.X, Y: -e.a.Y}, geom.Vec2{X: e.b.X, Y: -e.b.Y}}
		bottom := -under.highest(left, right, margin)
		if top < bottom {
			continue
		}
		m.SetSpan(i, int(math.Floor((bottom+hair)/step)), int(math.Ceil((top-hair)/step)))
	}
}

// highest is the highest point within margin of the edge, which runs to the right, over [left, right].
func (e edge) highest(left, right, margin float64) float64 {
	y := math.Inf(-1)
	if margin > 0 {
		for _, p := range [2]geom.Vec2{e.a, e.b} {
			if dx := p.X - math.Max(left, math.Min(right, p.X)); math.Abs(dx) <= margin {
				y = math.Max(y, p.Y+math.Sqrt(margin*margin-dx*dx))
			}
		}
	}
	d := e.b.Sub(e.a)
	n := d.Len()
	if n == 0 {
		if margin == 0 && e.a.X >= left && e.a.X <= right {
			y = e.a.Y
		}
		return y
	}
	off := geom.Vec2{X: -d.Y, Y: d.X}.Scale(margin / n)
	a, b := e.a.Add(off), e.b.Add(off)
	if b.X < left || a.X > right {
		return y
	}
	for _, x := range [2]float64{math.Max(left, a.X), math.Min(right, b.X)} {
		if d.X <= 0 {
			y = math.Max(y, math.Max(a.Y, b.Y))
		} else {
			y = math.Max(y, a.Y+(x-a.X)/d.X*d.Y)
		}
	}
	return y
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
