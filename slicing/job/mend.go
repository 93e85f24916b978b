package job

import (
	"context"
	"fmt"
	"slices"

	"grainstack/slicing/decimate"
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
	Did            []mend.Action
	MmPerUnit      float64 // the scale that the lengths here and in the sentences are at
	Rebuilt        bool    // the surface was built anew from a grid
	ResolutionMm   float64 // of that grid
	DistanceMaxMm  float64 // the largest distance between scan and piece
	DistanceMeanMm float64
}

// At are the same lengths at another scale; the sentences stay.
func (d Mended) At(scale float64) Mended {
	if d.MmPerUnit > 0 {
		k := scale / d.MmPerUnit
		d.ResolutionMm, d.DistanceMaxMm, d.DistanceMeanMm = d.ResolutionMm*k, d.DistanceMaxMm*k, d.DistanceMeanMm*k
	}
	return d
}

// Mending is what of the settings changes a mended surface, with what changes nothing left out: pieces that one scan was made to
// with equal Mending are equal. The scale counts only where a length in mm does.
func (s Settings) Mending() mend.Settings {
	m := s.Mend
	if !m.Saw.On {
		m.Saw = mend.Plane{}
	}
	if m.Off {
		return mend.Settings{Off: true, Saw: m.Saw}
	}
	if m.DebrisShare == 0 {
		m.DebrisShare = mend.DefaultDebris
	}
	m.MmPerUnit = 0
	if m.Resolution > 0 || m.Smooth > 0 || m.Thin > 0 {
		m.MmPerUnit = s.Scale
	}
	return m
}

// Mend makes a piece of a piece's scan. A clean closed scan comes back as the very piece that it is. The piece that it is
// called on stays as it was; a mending that is called off gives only the error.
func (p *Piece) Mend(ctx context.Context, s Settings, progress func(step string, done float64)) (*Piece, error) {
	q, err := p.Close(ctx, s, progress)
	if err != nil {
		return nil, err
	}
	return q.Refine(ctx, s, progress)
}

// Close is the first part of Mend: all but smoothing and thinning.
func (p *Piece) Close(ctx context.Context, s Settings, progress func(step string, done float64)) (*Piece, error) {
	p, err := p.Sized(ctx, s)
	if err != nil {
		return nil, err
	}
	m := s.Mend
	m.MmPerUnit = s.Scale
	r, err := mend.Mend(ctx, p.Scan.Mesh, p.Scan.Adjacency, m, progress)
	if err != nil {
		return nil, fmt.Errorf("the scan can't be mended: %w", err)
	}
	if r.Mesh == p.Scan.Mesh && p.Mesh == r.Mesh {
		return p.lookedThrough(ctx, s)
	}
	did := Mended{Did: r.Actions, MmPerUnit: s.Scale, Rebuilt: r.Rebuilt, ResolutionMm: r.ResolutionMm, DistanceMaxMm: r.DistanceMaxMm, DistanceMeanMm: r.DistanceMeanMm}
	for _, a := range r.Actions {
		did.Actions = append(did.Actions, a.Text)
	}
	adj := r.Adjacency
	if r.Mesh == p.Scan.Mesh {
		adj = p.Scan.Adjacency
	}
	return p.became(r.Mesh, adj, did).lookedThrough(ctx, s)
}

// lookedThrough is the piece with its word on whether it runs through itself. Only one that is left as it was read may.
func (p *Piece) lookedThrough(ctx context.Context, s Settings) (*Piece, error) {
	if !s.Mend.Off || !p.Solid() {
		return p, ctx.Err()
	}
	crosses, err := mend.Crosses(ctx, p.Mesh)
	if err != nil || !crosses {
		return p, err
	}
	q := *p
	q.Findings.Crosses = true
	return &q, nil
}

// Refine is the second part of Mend: a piece that Close gave, smoothed and thinned where the settings want it; else itself.
func (p *Piece) Refine(ctx context.Context, s Settings, progress func(step string, done float64)) (*Piece, error) {
	m := s.Mend
	m.MmPerUnit = s.Scale
	did := p.Mended
	did.MmPerUnit = s.Scale
	did.Actions = slices.Clip(did.Actions)
	out, adj, err := did.refine(ctx, p.Mesh, p.Adjacency, m, progress)
	if err != nil {
		return nil, err
	}
	if out == p.Mesh {
		return p, nil
	}
	return p.became(out, adj, did), ctx.Err()
}

// became is the same piece with another surface.
func (p *Piece) became(m *mesh.Mesh, adj mesh.Adjacency, did Mended) *Piece {
	q := newPiece(p.Name, m, adj, p.Raw)
	q.File, q.Scan, q.Joined, q.Mended = p.File, p.Scan, p.Joined, did
	q.sized, q.sizedShare = p.sized, p.sizedShare
	return q
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
		thin, measured, err := decimate.Thin(ctx, m, adj, s.Thin/s.MmPerUnit, tell("thinning"))
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

// SawnAt is how high above its lowest point the settings saw a scan off, mm, measured square to the saw's plane; 0 where they
// do not. It goes over the scan's points.
func (p *Piece) SawnAt(s Settings) float64 {
	saw := s.Mend.Saw
	long := saw.Normal.Len()
	if !saw.On || !(long > 0) {
		return 0
	}
	low, _ := extent(p.Scan.Mesh, saw.Normal)
	return (saw.D - low) / long * s.Scale
}

// SawBase is the plane that saws a scan off flat, so many mm above its lowest point as the settings stand it.
func (p *Piece) SawBase(s Settings, heightMm float64) mend.Plane {
	up := geom.Vec{X: s.Turn[2][0], Y: s.Turn[2][1], Z: s.Turn[2][2]}
	low, _ := extent(p.Scan.Mesh, up)
	return mend.Plane{Normal: up, D: low + heightMm/s.Scale, On: true}
}
