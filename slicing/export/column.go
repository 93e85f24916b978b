package export

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// stand puts the highest and the lowest wood of a part into the columns that it covers.
func (m *PanelModel) stand(p *PanelPart, id int16, whose []int16) {
	at := make([]geom.Vec, len(p.Solid.Points))
	for i, q := range p.Solid.Points {
		at[i] = p.onPanel(q)
	}
	for _, t := range p.Solid.Triangles {
		m.facet(at[t[0]], at[t[1]], at[t[2]], id, whose)
		m.outline(at[t[0]], at[t[1]], at[t[2]])
	}
	full := float32(m.plan.Thickness)
	for i, w := range whose {
		if w != id {
			continue
		}
		low, high := max(m.bottom[i], 0), min(m.top[i], full)
		if low < flush {
			low = 0
		}
		if high > full-flush {
			high = full
		}
		if high-low < thinnest {
			high = min(low+thinnest, full)
			low = high - thinnest
		}
		m.bottom[i], m.top[i] = low, high
	}
}

// onPanel carries a point of a part's solid to side A.
func (p *PanelPart) onPanel(q mesh.Point) geom.Vec {
	v := q.Vec()
	switch ((p.TurnDeg % 360) + 360) % 360 {
	case 90:
		v.X, v.Y = -v.Y, v.X
	case 180:
		v.X, v.Y = -v.X, -v.Y
	case 270:
		v.X, v.Y = v.Y, -v.X
	}
	return geom.Vec{X: v.X + p.At.X, Y: v.Y + p.At.Y, Z: v.Z - p.PanelBottom}
}

// facet raises the top and lowers the bottom of the columns under a triangle, those on its border included.
func (m *PanelModel) facet(a, b, c geom.Vec, id int16, whose []int16) {
	area := (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
	if area == 0 {
		return
	}
	i0, i1 := nodes(min(a.X, b.X, c.X), max(a.X, b.X, c.X), m.sx, m.nx)
	j0, j1 := nodes(min(a.Y, b.Y, c.Y), max(a.Y, b.Y, c.Y), m.sy, m.ny)
	low, high := min(a.Z, b.Z, c.Z), max(a.Z, b.Z, c.Z)
	const border = -1e-9
	for j := j0; j <= j1; j++ {
		y := float64(j) * m.sy
		for i := i0; i <= i1; i++ {
			x := float64(i) * m.sx
			u := ((b.X-x)*(c.Y-y) - (b.Y-y)*(c.X-x)) / area
			v := ((c.X-x)*(a.Y-y) - (c.Y-y)*(a.X-x)) / area
			w := 1 - u - v
			if u < border || v < border || w < border {
				continue
			}
			z := float32(min(max(u*a.Z+v*b.Z+w*c.Z, low), high))
			n := j*m.nx + i
			if whose[n] != id {
				whose[n] = id
				m.top[n], m.bottom[n] = z, z
			}
			m.top[n], m.bottom[n] = max(m.top[n], z), min(m.bottom[n], z)
		}
	}
}

// The ways from a column to its neighbours.
const (
	toRight = iota
	toTop
	toLeft
	toBottom
)

// outline notes where the shadow of a triangle ends on the lattice's lines.
func (m *PanelModel) outline(a, b, c geom.Vec) {
	if m.ends[toRight] == nil {
		return
	}
	j0, j1 := nodes(min(a.Y, b.Y, c.Y), max(a.Y, b.Y, c.Y), m.sy, m.ny)
	for j := j0; j <= j1; j++ {
		low, high := across(float64(j)*m.sy, a.Y, b.Y, c.Y, a.X, b.X, c.X)
		m.end(low, high, m.sx, m.nx, j*m.nx, 1, toRight, toLeft)
	}
	i0, i1 := nodes(min(a.X, b.X, c.X), max(a.X, b.X, c.X), m.sx, m.nx)
	for i := i0; i <= i1; i++ {
		low, high := across(float64(i)*m.sx, a.X, b.X, c.X, a.Y, b.Y, c.Y)
		m.end(low, high, m.sy, m.ny, i, m.nx, toTop, toBottom)
	}
}

// across is from where to where a triangle reaches on the line on which one coordinate has a value; low > high for nowhere.
func across(at, u0, u1, u2, v0, v1, v2 float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	edge := func(u0, v0, u1, v1 float64) {
		if u0 > u1 {
			u0, v0, u1, v1 = u1, v1, u0, v0
		}
		if at < u0 || at > u1 || u0 == u1 {
			return
		}
		v := v0 + (v1-v0)*(at-u0)/(u1-u0)
		low, high = min(low, v), max(high, v)
	}
	edge(u0, v0, u1, v1)
	edge(u1, v1, u2, v2)
	edge(u2, v2, u0, v0)
	return low, high
}

// end notes a stretch of a line at the columns next to its ends. Columns on the line are first, first + stride, and so on.
func (m *PanelModel) end(low, high, step float64, n, first, stride, forward, backward int) {
	if !(low <= high) {
		return
	}
	if k := math.Floor(high / step); k >= 0 && k < float64(n) {
		e := &m.ends[forward][first+int(k)*stride]
		*e = max(*e, float32(high/step-k))
	}
	if k := math.Ceil(low / step); k >= 0 && k < float64(n) {
		e := &m.ends[backward][first+int(k)*stride]
		*e = max(*e, float32(k-low/step))
	}
}

// frame leaves the panel's full thickness wherever no part is nearer than the gap and it is to stay, and marks it so.
func (m *PanelModel) frame(ctx context.Context, whose []int16) error {
	reach := m.along(whose)
	gap := m.plan.Gap
	full := float32(m.plan.Thickness)
	return par.Spans(ctx, m.ny, 16, func(from, to int) {
		near := make([]int32, m.nx+1) // how many more stretches near a part begin than end at a column
		for j := from; j < to; j++ {
			row := j * m.nx
			clear(near)
			for i, d := range reach[row : row+m.nx] {
				if d := float64(d); d <= gap {
					r := int(math.Sqrt(gap*gap-d*d)/m.sx + 1e-9)
					near[max(i-r, 0)]++
					near[min(i+r+1, m.nx)]--
				}
			}
			stretches := int32(0)
			for i := range m.nx {
				stretches += near[i]
				n := row + i
				if stretches > 0 || whose[n] != 0 || m.plan.Stays != nil && !m.plan.Stays(m.place(n)) {
					continue
				}
				m.bottom[n], m.top[n] = 0, full
				whose[n] = ofFrame
			}
		}
	})
}

// along is for each column the distance along y to the nearest column of a part.
func (m *PanelModel) along(whose []int16) []float32 {
	out := make([]float32, len(whose))
	last := make([]float64, m.nx) // of each column of the lattice, as it has been gone along
	pass := func(j int) {
		row := out[j*m.nx:][:m.nx]
		for i, of := range whose[j*m.nx:][:m.nx] {
			if last[i] += m.sy; of != 0 {
				last[i] = 0
			}
			row[i] = min(row[i], float32(last[i]))
		}
	}
	for n := range out {
		out[n] = float32(math.Inf(1))
	}
	afresh := func() {
		for i := range last {
			last[i] = math.Inf(1)
		}
	}
	afresh()
	for j := range m.ny {
		pass(j)
	}
	afresh()
	for j := m.ny - 1; j >= 0; j-- {
		pass(j)
	}
	return out
}
