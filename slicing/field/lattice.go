package field

import (
	"context"
	"math"

	"grainstack/slicing/geom"
)

// A Lattice samples a hollow on upright columns that are the same for all layers of a stand. It never changes.
type Lattice struct {
	NX, NY int     // columns along x and y
	X0, Y0 float64 // mm, of the first column
	Step   float64 // mm between columns, and about that between heights

	grid           *Grid // sharpened, so that flat pieces between its readings hold what the hollow does
	wall           float64
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

// NewLattice lays columns over a box of the stand, mm, for the hollow that lies deeper than wall, mm.
func NewLattice(ctx context.Context, g *Grid, pl geom.Placement, box geom.Box, wall float64) (*Lattice, error) {
	sharp, err := g.Sharpened(ctx, evened)
	if err != nil {
		return nil, err
	}
	size := box.Size()
	l := &Lattice{grid: sharp, wall: wall, scale: pl.Scale}
	l.Step = max(finer*g.Step()*pl.Scale, max(size.X, size.Y, size.Z)/(mostSide-8))
	i0, j0 := math.Floor(box.Min.X/l.Step)-1, math.Floor(box.Min.Y/l.Step)-1
	l.X0, l.Y0 = i0*l.Step, j0*l.Step
	l.NX, l.NY = int(math.Ceil(box.Max.X/l.Step)+2-i0), int(math.Ceil(box.Max.Y/l.Step)+2-j0)
	back := pl.Turn.Inverse()
	l.at = pl.Back(geom.Vec{})
	l.ux = back.Apply(geom.Vec{X: 1}).Scale(1 / pl.Scale)
	l.uy = back.Apply(geom.Vec{Y: 1}).Scale(1 / pl.Scale)
	l.uz = back.Apply(geom.Vec{Z: 1}).Scale(1 / pl.Scale)
	return l, nil
}

// over is how much deeper than the wall a place lies, mm.
func (l *Lattice) over(x, y, z float64) float64 {
	p := geom.Vec{
		X: l.at.X + x*l.ux.X + y*l.uy.X + z*l.uz.X,
		Y: l.at.Y + x*l.ux.Y + y*l.uy.Y + z*l.uz.Y,
		Z: l.at.Z + x*l.ux.Z + y*l.uy.Z + z*l.uz.Z,
	}
	return l.grid.Depth(p)*l.scale - l.wall
}

// levels are the heights at which a layer is sampled: its two planes and what lies evenly between, about a step apart.
func (l *Lattice) levels(bottom, top float64) []float64 {
	n := max(1, int(math.Ceil((top-bottom)/l.Step-1e-6)))
	out := make([]float64, n+1)
	for i := range out {
		out[i] = bottom + float64(i)/float64(n)*(top-bottom)
	}
	out[n] = top
	return out
}

// fill samples one level. Depth changes no faster than the way gone, so places that cannot lie near the skin are passed
// over: they get the sign of the last one. It reports whether any place is hollow.
func (l *Lattice) fill(v []float32, z float64) (any bool) {
	for j := range l.NY {
		y := l.Y0 + float64(j)*l.Step
		row := v[j*l.NX:][:l.NX]
		for i := 0; i < len(row); {
			d := l.over(l.X0+float64(i)*l.Step, y, z)
			any = any || d > 0
			row[i] = float32(d)
			i++
			for sure := math.Abs(d)*trusted/l.Step - kept; sure >= 1 && i < len(row); sure-- {
				row[i] = float32(d)
				i++
			}
		}
	}
	return any
}
