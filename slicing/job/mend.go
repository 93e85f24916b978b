package job

import (
	"context"
	"fmt"

	"grainstack/slicing/geom"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
)

// A Scan is the surface as its file gave it, before anything was mended.
type Scan struct {
	Mesh      *mesh.Mesh
	Adjacency mesh.Adjacency
	Findings  mesh.Findings
}

// A Mended says what was done to a scan to make it a piece.
type Mended struct {
	Actions        []string // sentences; none where the scan is the piece
	Rebuilt        bool     // the surface was built anew from a grid
	ResolutionMm   float64  // of that grid
	DistanceMaxMm  float64  // the largest distance between scan and piece
	DistanceMeanMm float64
}

// Mend makes a piece of a piece's scan. A clean closed scan comes back as the very piece that it is. The piece that it is
// called on stays as it was; a mending that is called off gives only the error.
func (p *Piece) Mend(ctx context.Context, s Settings, progress func(step string, done float64)) (*Piece, error) {
	m := s.Mend
	m.MmPerUnit = s.Scale
	r, err := mend.Mend(ctx, p.Scan.Mesh, p.Scan.Adjacency, m, progress)
	if err != nil {
		return nil, fmt.Errorf("the scan can't be mended: %w", err)
	}
	did := Mended{Rebuilt: r.Rebuilt, ResolutionMm: r.ResolutionMm, DistanceMaxMm: r.DistanceMaxMm, DistanceMeanMm: r.DistanceMeanMm}
	for _, a := range r.Actions {
		did.Actions = append(did.Actions, a.Text)
	}
	out, adj, err := did.refine(ctx, r.Mesh, r.Adjacency, m, progress)
	if err != nil {
		return nil, err
	}
	if out == p.Scan.Mesh {
		if p.Mesh == out {
			return p, nil
		}
		adj = p.Scan.Adjacency
	}
	q := newPiece(p.Name, out, adj, p.Raw)
	q.File, q.Scan, q.Mended = p.File, p.Scan, did
	return q, ctx.Err()
}

// refine smooths and thins where that is wanted. Distances add up, since each step is measured against the one before.
func (d *Mended) refine(ctx context.Context, m *mesh.Mesh, adj mesh.Adjacency, s mend.Settings, progress func(string, float64)) (*mesh.Mesh, mesh.Adjacency, error) {
	if s.Off || s.Smooth <= 0 && s.Thin <= 0 {
		return m, adj, nil
	}
	tell := func(what string) func(float64) {
		return func(done float64) {
			if progress != nil {
				progress(what, done)
			}
		}
	}
	if s.Smooth > 0 {
		smooth, err := mend.Smooth(ctx, m, adj, s.Smooth/s.MmPerUnit, tell("smoothing"))
		if err != nil {
			return nil, nil, fmt.Errorf("the scan can't be smoothed: %w", err)
		}
		if smooth != m {
			d.Actions = append(d.Actions, fmt.Sprintf("Smoothed; nothing moved by more than %.2g mm.", s.Smooth))
			d.DistanceMaxMm += s.Smooth
			m = smooth
		}
	}
	if s.Thin > 0 {
		thin, measured, err := mend.Thin(ctx, m, adj, s.Thin/s.MmPerUnit, tell("thinning"))
		if err != nil {
			return nil, nil, fmt.Errorf("the scan can't be thinned: %w", err)
		}
		if thin != m {
			d.Actions = append(d.Actions, fmt.Sprintf("Thinned from %d to %d facets; the surface moved by at most %.2g mm.",
				len(m.Triangles), len(thin.Triangles), measured.MaxDistance*s.MmPerUnit))
			d.DistanceMaxMm += measured.MaxDistance * s.MmPerUnit
			d.DistanceMeanMm += measured.MeanDistance * s.MmPerUnit
			m, adj = thin, thin.Adjacency()
		}
	}
	return m, adj, nil
}

// SawBase is the plane that saws a scan off flat, so many mm above its lowest point as the settings stand it.
func (p *Piece) SawBase(s Settings, heightMm float64) mend.Plane {
	up := geom.Vec{X: s.Turn[2][0], Y: s.Turn[2][1], Z: s.Turn[2][2]}
	low, _ := extent(p.Scan.Mesh, up)
	return mend.Plane{Normal: up, D: low + heightMm/s.Scale, On: true}
}
