package carve

import (
	"fmt"
	"math"

	"grainstack/slicing/geom"
)

// mostColumns bounds a grid against a spacing that is out of all proportion to the piece, mostCells the columns of all its
// layers together.
const (
	mostColumns = 1 << 24
	mostCells   = 1 << 28
)

// settledCells is how many columns the layers get together where nobody asks for a spacing: each takes some 45 bytes while the
// cutters are followed, so that a piece of any size stays within 2 GB.
const settledCells = 1 << 25

// StepFor is the spacing for settled results on so many layers of a piece whose box is b, mm: DefaultStep, or in tenths as
// much more as a large piece or thin layers want.
func StepFor(b geom.Box, layers int) float64 {
	size := b.Size()
	cells := size.X * size.Y * float64(max(layers, 1)) / (DefaultStep * DefaultStep)
	if !(cells > settledCells) {
		return DefaultStep
	}
	return math.Ceil(DefaultStep*math.Sqrt(cells/settledCells)*10) / 10
}

// A lattice is the columns' places: column i, j stands at x0 + i·step, y0 + j·step. They lie evenly about the middle of the
// box, none of them on its edge.
type lattice struct {
	x0, y0, step float64
	nx, ny       int
}

func newLattice(b geom.Box, step float64) (lattice, error) {
	size := b.Size()
	nx, ny := math.Ceil(size.X/step), math.Ceil(size.Y/step)
	if !(step > 0) || math.IsInf(step, 0) || !(nx*ny <= mostColumns) {
		return lattice{}, fmt.Errorf("carve: columns every %g mm don't suit a piece of %.0f x %.0f mm", step, size.X, size.Y)
	}
	nx, ny = max(nx, 1), max(ny, 1)
	mid := b.Center()
	return lattice{mid.X - (nx-1)/2*step, mid.Y - (ny-1)/2*step, step, int(nx), int(ny)}, nil
}

// x is where column i stands.
func (l *lattice) x(i int) float64 { return l.x0 + float64(i)*l.step }

// y is where row j stands.
func (l *lattice) y(j int) float64 { return l.y0 + float64(j)*l.step }

// rowsOf are the rows whose line lies in (lo, hi], in columns' steps from row 0.
func rowsOf(lo, hi float64, n int) (first, end int) {
	return max(geom.Ceil(lo), 0), min(geom.Ceil(hi), n)
}
