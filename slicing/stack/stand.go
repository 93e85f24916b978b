package stack

import (
	"context"
	"fmt"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// A Stand is how the maker wants the piece to stand: turned, then scaled. Two stands may be compared with ==.
type Stand struct {
	Turn  geom.Turn
	Scale float64 // mm per unit of the piece's own frame, > 0
}

// LayOnFacet is the stand with the least further turn that brings a facet to the floor: normal is the facet's outward
// normal in the piece's own frame, any length. The zero vector changes nothing.
func (s Stand) LayOnFacet(normal geom.Vec) Stand {
	down := geom.Vec{Z: -1}
	return Stand{s.Turn.Then(geom.TurnTo(s.Turn.Apply(normal), down)), s.Scale}
}

// A Placed piece stands on the floor: the lowest point has height 0 and the box is centred on X = Y = 0.
type Placed struct {
	Mesh      *mesh.Mesh // points in the frame of the stand, mm; triangles are those of the piece
	Placement geom.Placement
	Box       geom.Box
}

// pointSpan is the number of points that one goroutine takes at a time: enough to hide the cost of taking them.
const pointSpan = 1 << 15

// Place stands the piece up. Positions are computed in float64 and rounded to float32 once. It is an error when the stand is
// no rotation or its scale is not positive, when the piece has no triangles, or when it does not fit into numbers.
func Place(ctx context.Context, m *mesh.Mesh, s Stand) (*Placed, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if len(m.Triangles) == 0 || len(m.Points) == 0 {
		return nil, fmt.Errorf("stack: the piece has no triangles")
	}
	k := s.matrix()
	low, high, err := k.bounds(ctx, m.Points)
	if err != nil {
		return nil, err
	}
	shift := geom.Vec{X: -(low.X + high.X) / 2, Y: -(low.Y + high.Y) / 2, Z: -low.Z}
	box := geom.Box{Min: round(low.Add(shift)), Max: round(high.Add(shift))}
	if size := box.Size().Len(); math.IsNaN(size) || math.IsInf(size, 0) {
		return nil, fmt.Errorf("stack: the piece is too large or has points that are no numbers")
	}
	points := make([]mesh.Point, len(m.Points))
	err = par.Spans(ctx, len(points), pointSpan, func(from, to int) {
		for i, p := range m.Points[from:to] {
			x, y, z := k.apply(p)
			points[from+i] = mesh.Point{float32(x + shift.X), float32(y + shift.Y), float32(z + shift.Z)}
		}
	})
	if err != nil {
		return nil, err
	}
	return &Placed{
		Mesh:      &mesh.Mesh{Points: points, Triangles: m.Triangles},
		Placement: geom.Placement{Turn: s.Turn, Scale: s.Scale, Shift: shift},
		Box:       box,
	}, nil
}

// turnSlack is how far the rows of a turn may be from square and of unit length: what a saved turn loses when it is printed.
const turnSlack = 1e-6

func (s Stand) check() error {
	if !(s.Scale > 0) || math.IsInf(s.Scale, 0) {
		return fmt.Errorf("stack: a scale of %g is not positive", s.Scale)
	}
	back := s.Turn.Then(s.Turn.Inverse())
	t := s.Turn
	det := t[0][0]*(t[1][1]*t[2][2]-t[1][2]*t[2][1]) - t[0][1]*(t[1][0]*t[2][2]-t[1][2]*t[2][0]) +
		t[0][2]*(t[1][0]*t[2][1]-t[1][1]*t[2][0])
	fits := det > 0
	for i := range 3 {
		for j := range 3 {
			fits = fits && math.Abs(back[i][j]-geom.NoTurn()[i][j]) <= turnSlack
		}
	}
	if !fits {
		return fmt.Errorf("stack: the stand's turn is no rotation")
	}
	return nil
}

// scaledTurn is a turn with the scale multiplied in.
type scaledTurn [3][3]float64

func (s Stand) matrix() scaledTurn {
	var k scaledTurn
	for i := range 3 {
		for j := range 3 {
			k[i][j] = s.Turn[i][j] * s.Scale
		}
	}
	return k
}

func (k *scaledTurn) apply(p mesh.Point) (x, y, z float64) {
	px, py, pz := float64(p[0]), float64(p[1]), float64(p[2])
	return k[0][0]*px + k[0][1]*py + k[0][2]*pz,
		k[1][0]*px + k[1][1]*py + k[1][2]*pz,
		k[2][0]*px + k[2][1]*py + k[2][2]*pz
}

// bounds is the box of the turned and scaled points, before they are moved.
func (k *scaledTurn) bounds(ctx context.Context, points []mesh.Point) (low, high geom.Vec, err error) {
	parts := make([]geom.Box, (len(points)+pointSpan-1)/pointSpan)
	err = par.Spans(ctx, len(points), pointSpan, func(from, to int) {
		b := geom.EmptyBox()
		for _, p := range points[from:to] {
			x, y, z := k.apply(p)
			b.Min = geom.Vec{X: min(b.Min.X, x), Y: min(b.Min.Y, y), Z: min(b.Min.Z, z)}
			b.Max = geom.Vec{X: max(b.Max.X, x), Y: max(b.Max.Y, y), Z: max(b.Max.Z, z)}
		}
		parts[from/pointSpan] = b
	})
	all := geom.EmptyBox()
	for _, b := range parts {
		all.Min = geom.Vec{X: min(all.Min.X, b.Min.X), Y: min(all.Min.Y, b.Min.Y), Z: min(all.Min.Z, b.Min.Z)}
		all.Max = geom.Vec{X: max(all.Max.X, b.Max.X), Y: max(all.Max.Y, b.Max.Y), Z: max(all.Max.Z, b.Max.Z)}
	}
	return all.Min, all.Max, err
}

// round is v as float32 keeps it.
func round(v geom.Vec) geom.Vec {
	return geom.Vec{X: float64(float32(v.X)), Y: float64(float32(v.Y)), Z: float64(float32(v.Z))}
}
