package export

import (
	"context"
	"math"

	"grainstack/slicing/field"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

// A hollow samples how much deeper than the wall places of the stand lie, mm, on upright columns that are the same for all
// layers.
type hollow struct {
	grid           *field.Grid // sharpened, so that flat pieces between its readings hold what the hollow does
	wall           float64
	step           float64 // between columns, and about that between heights
	x0, y0         float64
	nx, ny         int
	at, ux, uy, uz geom.Vec // place of the stand to place of the piece: at + x·ux + y·uy + z·uz
	scale          float64
}

const (
	// finer is the lattice's step as a share of the field's.
	finer = 0.75
	// evened is by what share of its second differences the field is sharpened: a twelfth for the reading between its nodes,
	// and a twelfth of the lattice's step squared for the flat triangles between points of a round hollow.
	evened = (1 + finer*finer) / 12
	// mostSide bounds the columns along one side, against a scale that is out of all proportion.
	mostSide = 2048
	// trusted is the share of a measured depth that is relied on when places are passed over: interpolated depths may change
	// a little faster than the way gone.
	trusted = 0.9
	// kept is how many steps either side of the skin are always measured; it has to be more than a cell's diagonal.
	kept = 2.0
)

func newHollow(ctx context.Context, st *job.Standing, wall float64) (*hollow, error) {
	grid, err := st.Grid.Sharpened(ctx, evened)
	if err != nil {
		return nil, err
	}
	pl := st.Placed.Placement
	box := st.Placed.Box
	size := box.Size()
	h := &hollow{grid: grid, wall: wall, scale: pl.Scale}
	h.step = max(finer*st.Grid.Step()*pl.Scale, max(size.X, size.Y, size.Z)/(mostSide-8))
	i0, j0 := math.Floor(box.Min.X/h.step)-1, math.Floor(box.Min.Y/h.step)-1
	h.x0, h.y0 = i0*h.step, j0*h.step
	h.nx, h.ny = int(math.Ceil(box.Max.X/h.step)+2-i0), int(math.Ceil(box.Max.Y/h.step)+2-j0)
	back := pl.Turn.Inverse()
	h.at = pl.Back(geom.Vec{})
	h.ux = back.Apply(geom.Vec{X: 1}).Scale(1 / pl.Scale)
	h.uy = back.Apply(geom.Vec{Y: 1}).Scale(1 / pl.Scale)
	h.uz = back.Apply(geom.Vec{Z: 1}).Scale(1 / pl.Scale)
	return h, nil
}

// over is how much deeper than the wall a place lies, mm.
func (h *hollow) over(x, y, z float64) float64 {
	p := geom.Vec{
		X: h.at.X + x*h.ux.X + y*h.uy.X + z*h.uz.X,
		Y: h.at.Y + x*h.ux.Y + y*h.uy.Y + z*h.uz.Y,
		Z: h.at.Z + x*h.ux.Z + y*h.uy.Z + z*h.uz.Z,
	}
	return h.grid.Depth(p)*h.scale - h.wall
}

// levels are the heights at which a layer is sampled: its two planes and what lies evenly between, about a step apart.
func (h *hollow) levels(bottom, top float64) []float64 {
	n := max(1, int(math.Ceil((top-bottom)/h.step-1e-6)))
	out := make([]float64, n+1)
	for i := range out {
		out[i] = bottom + float64(i)/float64(n)*(top-bottom)
	}
	out[n] = top
	return out
}

// fill samples one level. Depth changes no faster than the way gone, so places that cannot lie near the skin are passed
// over: they get the sign of the last one. It reports whether any place is hollow.
func (h *hollow) fill(v []float32, z float64) (any bool) {
	for j := range h.ny {
		y := h.y0 + float64(j)*h.step
		row := v[j*h.nx:][:h.nx]
		for i := 0; i < len(row); {
			d := h.over(h.x0+float64(i)*h.step, y, z)
			any = any || d > 0
			row[i] = float32(d)
			i++
			for sure := math.Abs(d)*trusted/h.step - kept; sure >= 1 && i < len(row); sure-- {
				row[i] = float32(d)
				i++
			}
		}
	}
	return any
}

// open turns bodies of hollow that reach neither the first nor the last level into wood. Places hang together as the
// tetrahedra's edges join them.
func (t *tetra) open() {
	plane := t.nx * t.ny
	n := len(t.v)
	t.seen = append(t.seen[:0], make([]bool, n)...)
	t.todo = t.todo[:0]
	reach := func(i int) {
		if t.v[i] > 0 && !t.seen[i] {
			t.seen[i] = true
			t.todo = append(t.todo, int32(i))
		}
	}
	for i := range plane {
		reach(i)
		reach(n - plane + i)
	}
	for len(t.todo) > 0 {
		i := int(t.todo[len(t.todo)-1])
		t.todo = t.todo[:len(t.todo)-1]
		for _, d := range t.ways[1:] {
			if i+d < n {
				reach(i + d)
			}
			if i >= d {
				reach(i - d)
			}
		}
	}
	for i, v := range t.v {
		if v > 0 && !t.seen[i] {
			t.v[i] = -v
		}
	}
}
