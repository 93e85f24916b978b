package field

import (
	"context"
	"math"

	"grainstack/slicing/geom"
)

// A Least tells at any place seen from above how hollow a layer is where it is least so. It reads between the nodes of a lattice as a
// Block's skin lies there, so that it is above 0 just where that skin leaves nothing of the layer. It never changes.
type Least struct {
	x0, y0 float64 // mm, of the first column
	step   float64
	nx, ny int
	levels [][]float32 // depth beyond the wall, mm
}

// NewLeast samples the layer between two heights over a rectangle of the stand, mm.
func NewLeast(ctx context.Context, l *Lattice, bottom, top float64, over geom.Box2) (*Least, error) {
	i0, j0 := math.Floor(over.Min.X/l.Step), math.Floor(over.Min.Y/l.Step)
	f := &Least{x0: i0 * l.Step, y0: j0 * l.Step, step: l.Step}
	f.nx, f.ny = int(math.Ceil(over.Max.X/l.Step)-i0)+2, int(math.Ceil(over.Max.Y/l.Step)-j0)+2
	for _, z := range l.levels(bottom, top) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		v := make([]float32, f.nx*f.ny)
		for n := range v {
			v[n] = float32(l.over(f.x0+float64(n%f.nx)*l.Step, f.y0+float64(n/f.nx)*l.Step, z))
		}
		f.levels = append(f.levels, v)
	}
	return f, nil
}

// At is how much deeper than the wall a place lies at that height of the layer where it does so least, mm. An upright line through a cube
// of CubePaths goes through its tetrahedra in turn: what is even within each is least at a level, or where the line passes from one
// to the next. Beside the rectangle it is that at its edge.
func (f *Least) At(p geom.Vec2) float64 {
	x := min(max((p.X-f.x0)/f.step, 0), float64(f.nx-1)-1e-9)
	y := min(max((p.Y-f.y0)/f.step, 0), float64(f.ny-1)-1e-9)
	n := int(y)*f.nx + int(x)
	u, v := x-math.Floor(x), y-math.Floor(y)
	beside, last := n+1, n+1+f.nx // the column that the line's path along the floor of a cube goes over, and where it ends
	far, near := u, v             // the greater and the lesser way
	if v > u {
		beside, far, near = n+f.nx, v, u
	}
	least := math.Inf(1)
	for k, low := range f.levels {
		least = min(least, float64(low[n])*(1-far)+float64(low[beside])*(far-near)+float64(low[last])*near)
		if k+1 < len(f.levels) {
			high := f.levels[k+1]
			// Where the line is as far up as along one of the axes, its path goes straight to the upper level there.
			least = min(least,
				float64(low[n])*(1-far)+float64(high[beside])*(far-near)+float64(high[last])*near,
				float64(low[n])*(1-far)+float64(low[beside])*(far-near)+float64(high[last])*near)
		}
	}
	return least
}
