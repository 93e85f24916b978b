package job

import (
	"context"
	"sync"

	"grainstack/slicing/field"
	"grainstack/slicing/geom"
	"grainstack/slicing/stack"
)

// A Standing is a piece as it stands, at a scale, with everything tabulated that layers of any thickness are read from.
type Standing struct {
	Piece    *Piece
	Stand    stack.Stand
	Placed   *stack.Placed
	Profile  *stack.Profile
	Slicer   *stack.Slicer
	ScanSize geom.Vec // mm, of the scan as it would stand: see Piece.ScanSize

	front  func() geom.Region
	flanks []flank

	Grid  *field.Grid  // nil until the hollow is known
	Table *field.Table // of this stand; nil until the hollow is known
}

// Stand places a piece and tabulates it. The hollow, where it is known already, is added by WithField.
func Stand(ctx context.Context, p *Piece, s stack.Stand) (*Standing, error) {
	placed, err := stack.Place(ctx, p.Mesh, s)
	if err != nil {
		return nil, err
	}
	profile, err := stack.NewProfile(ctx, placed.Mesh)
	if err != nil {
		return nil, err
	}
	reach, err := flanks(ctx, placed)
	if err != nil {
		return nil, err
	}
	return &Standing{
		Piece: p, Stand: s, Placed: placed, Profile: profile, ScanSize: p.ScanSize(s.Turn).Scale(s.Scale),
		Slicer: stack.NewSlicer(placed.Mesh, p.Adjacency),
		front:  sync.OnceValue(func() geom.Region { return silhouette(placed) }), flanks: reach,
	}, ctx.Err()
}

// Silhouette is the piece from the front, X across and Z up, mm. It goes over all facets the first time that it is asked for.
func (s *Standing) Silhouette() geom.Region { return s.front() }

// Height is how high the piece stands, mm.
func (s *Standing) Height() float64 { return s.Placed.Box.Size().Z }

// Skin is the area of the outside, mm².
func (s *Standing) Skin() float64 { return s.Profile.Surface(s.Profile.Bottom(), s.Profile.Top()) }

// WithField is the same standing with its hollow known.
func (s *Standing) WithField(ctx context.Context, g *field.Grid) (*Standing, error) {
	table, err := field.NewTable(ctx, g, s.Placed.Placement, s.Height())
	if err != nil {
		return nil, err
	}
	with := *s
	with.Grid, with.Table = g, table
	return &with, nil
}
