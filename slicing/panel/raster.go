package panel

import (
	"math"

	"grainstack/slicing/geom"
)

// A mask is a set of cells, column by column, one bit a cell. Cell (i, j) covers [i, i+1) × [j, j+1) steps from its corner.
type mask struct {
	columns, rows, words int
	bits                 []uint64 // words a column
}

func newMask(columns, rows int) mask {
	words := (rows + 63) / 64
	return mask{columns, rows, words, make([]uint64, columns*words)}
}

func (m *mask) column(i int) []uint64 { return m.bits[i*m.words : (i+1)*m.words] }

// set marks the cells [from, to) of a column, as far as they are there.
func (m *mask) set(i, from, to int) {
	from, to = max(from, 0), min(to, m.rows)
	if i < 0 || i >= m.columns || from >= to {
		return
	}
	setBits(m.column(i), from, to)
}

func setBits(col []uint64, from, to int) {
	first, last := from>>6, (to-1)>>6
	low, high := ^uint64(0)<<(from&63), ^uint64(0)>>(63-(to-1)&63)
	if first == last {
		col[first] |= low & high
		return
	}
	col[first] |= low
	for w := first + 1; w < last; w++ {
		col[w] = ^uint64(0)
	}
	col[last] |= high
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
	to := min(int(math.Ceil((e.b.X+margin-hair)/step)), m.columns)
	for i := from; i < to; i++ {
		left, right := float64(i)*step, float64(i+1)*step
		top := e.highest(left, right, margin)
		under := edge{geom.Vec2{X: e.a.X, Y: -e.a.Y}, geom.Vec2{X: e.b.X, Y: -e.b.Y}}
		bottom := -under.highest(left, right, margin)
		if top < bottom {
			continue
		}
		m.set(i, int(math.Floor((bottom+hair)/step)), int(math.Ceil((top-hair)/step)))
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
	turns := make([]int16, m.columns*(m.rows+1)) // per cell by how much the winding changes from the one below
	for _, r := range g {
		for k, a := range r {
			a, b := a.Add(shift), r[(k+1)%len(r)].Add(shift)
			way := int16(1) // above an edge that runs to the right is inside
			if a.X > b.X {
				a, b, way = b, a, -1
			}
			// middles of columns in (a.X, b.X], by the same rule for every edge
			from := max(int(math.Floor(a.X/step-0.5))+1, 0)
			to := min(int(math.Floor(b.X/step-0.5)), m.columns-1)
			for i := from; i <= to; i++ {
				y := a.Y + ((float64(i)+0.5)*step-a.X)/(b.X-a.X)*(b.Y-a.Y)
				j := max(0, min(m.rows, int(math.Ceil(y/step-0.5)))) // the first middle at or above
				turns[i*(m.rows+1)+j] += way
			}
		}
	}
	for i := range m.columns {
		m.fillColumn(i, turns[i*(m.rows+1):(i+1)*(m.rows+1)])
	}
}

func (m *mask) fillColumn(i int, turns []int16) {
	wind, from := int16(0), 0
	for j, t := range turns {
		if t == 0 {
			continue
		}
		if wind <= 0 && wind+t > 0 {
			from = j
		} else if wind > 0 && wind+t <= 0 {
			m.set(i, from, j)
		}
		wind += t
	}
}

// A run is a stretch of marked cells in a column.
type run struct{ column, from, to int32 }

// runs lists the marked stretches, column by column.
func (m *mask) runs() (out []run) {
	for i := range m.columns {
		col := m.column(i)
		for j := 0; j < m.rows; {
			if col[j>>6]>>(j&63)&1 == 0 {
				j++
				continue
			}
			from := j
			for j < m.rows && col[j>>6]>>(j&63)&1 == 1 {
				j++
			}
			out = append(out, run{int32(i), int32(from), int32(j)})
		}
	}
	return out
}
