package scans

import (
	"context"
	"path/filepath"

	"grainstack/slicing/cloud"
	"grainstack/slicing/geom"
	"grainstack/slicing/join"
	"grainstack/slicing/register"
)

// cutAlone is what the cuts of the plan's one scan leave: its own facets, as they are, open where it was cut.
func (p *Plan) cutAlone(ctx context.Context) (*Joined, error) {
	m, raw, err := p.Sources[0].Face(ctx)
	if err != nil {
		return nil, err
	}
	c, err := cloud.OfMesh(ctx, m)
	if err != nil {
		return nil, err
	}
	set := &Set{Scans: []Scan{{Name: filepath.Base(p.Sources[0].File), Cloud: c, Raw: raw}}, At: []geom.Placement{geom.NoPlacement()},
		Fits: []register.Fit{{Overlap: 1, Sound: 1}}, Floors: make([][]register.Flat, 1), Size: longest(m)}
	j := &Joined{Plan: p, Set: set, Piece: &join.Result{Mesh: m, Guessed: make([]bool, len(m.Triangles)), Area: m.Area()}, Apart: make([]float32, len(m.Points))}
	for i := range j.Apart {
		j.Apart[i] = -1
	}
	return j, ctx.Err()
}
