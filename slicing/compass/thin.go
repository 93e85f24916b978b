package compass

import (
	"context"

	"grainstack/slicing/decimate"
	"grainstack/slicing/field"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
)

const (
	// thinShare is how far the thinned surface may lie from the piece, as a share of its longest side: 0.1 mm of 400 mm, less
	// than sanding takes off. On surfaces further off the best bearings change places.
	thinShare = 2.5e-4
	// roughCells is how many cells the quickly thinned surface has along the piece's longest side.
	roughCells = 80
	// plenty is how many triangles a piece may have to be taken as it is.
	plenty = 20_000
	// Cells of the hollow's field along the longest side where a thin wall doesn't ask for more: a wall of 20 mm is five of them on a
	// piece of 400 mm.
	fieldCells      = 96
	roughFieldCells = 40
)

// A stand-in is a thinned piece that figures are taken from, with its hollow.
type standIn struct {
	piece *job.Piece
	grid  *field.Grid // nil for a solid piece
	moved float64     // piece units between its surface and the piece's, at the most; 0 for a rough one, where nobody has measured
	rough bool
}

// quickly thins without measuring what that does; the wall is in the piece's units, 0 for a solid one.
func quickly(ctx context.Context, p *job.Piece, wall float64) (*standIn, error) {
	size := p.Findings.Size
	m := p.Mesh
	if len(m.Triangles) > plenty {
		m = mesh.Thin(m, max(size.X, size.Y, size.Z)/roughCells)
	}
	return newStandIn(ctx, &standIn{piece: p.WithSurface(m), rough: m != p.Mesh}, wall, roughFieldCells)
}

// carefully thins to a distance that is kept and measured.
func carefully(ctx context.Context, p *job.Piece, wall float64) (*standIn, error) {
	size := p.Findings.Size
	m, gap := p.Mesh, decimate.Measured{}
	if len(m.Triangles) > plenty {
		var err error
		if m, gap, err = decimate.Thin(ctx, m, p.Adjacency, thinShare*max(size.X, size.Y, size.Z), nil); err != nil {
			return nil, err
		}
	}
	return newStandIn(ctx, &standIn{piece: p.WithSurface(m), moved: gap.MaxDistance}, wall, fieldCells)
}

func newStandIn(ctx context.Context, s *standIn, wall float64, cells int) (*standIn, error) {
	if wall == 0 {
		return s, ctx.Err()
	}
	var err error
	s.grid, err = s.piece.CoarseHollow(ctx, cells, wall)
	return s, err
}
