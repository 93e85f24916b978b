package jobfile

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/scans"
)

// A JoinedRef says which scans a piece is joined of, and how.
type JoinedRef struct {
	Scans []ScanRef  `json:"scans"`
	Match []MatchRef `json:"matches,omitempty"`
	Blend float64    `json:"blend"` // width of the seams, by the longest side of all
}

// A ScanRef is one scan, with where it lies in the frame of the first.
type ScanRef struct {
	PieceRef
	Turn  geom.Turn   `json:"turn"`
	Scale float64     `json:"scale"`
	Shift geom.Vec    `json:"shift"`
	Cuts  []scans.Cut `json:"cuts,omitempty"`
}

// A MatchRef is a place that two scans have in common, each in its scan's own units; scans are numbered from 1.
type MatchRef struct {
	A   int      `json:"scan"`
	AtA geom.Vec `json:"at"`
	B   int      `json:"other_scan"`
	AtB geom.Vec `json:"other_at"`
}

// referAll says where the files of a piece are, and of a joined one how they make it.
func referAll(jobPath string, p *job.Piece, copied bool) (first PieceRef, joined *JoinedRef, err error) {
	if p.Joined == nil {
		first, err = refer(jobPath, p.File, copied)
		return first, nil, err
	}
	plan := p.Joined.Lying()
	joined = &JoinedRef{Blend: plan.Blend}
	for _, s := range plan.Sources {
		ref, err := refer(jobPath, s.File, copied)
		if err != nil {
			return first, nil, err
		}
		joined.Scans = append(joined.Scans, ScanRef{ref, s.At.Turn, s.At.Scale, s.At.Shift, s.Cuts})
	}
	for _, m := range plan.Matches {
		joined.Match = append(joined.Match, MatchRef{m.A + 1, m.AtA, m.B + 1, m.AtB})
	}
	return joined.Scans[0].PieceRef, joined, nil
}

// plan is what is joined, with the files looked for as the piece of a job is.
func (r *JoinedRef) plan(jobPath, moved string) (*scans.Plan, error) {
	p := &scans.Plan{Still: true, Blend: r.Blend}
	for _, s := range r.Scans {
		p.Sources = append(p.Sources, scans.Source{File: s.Path, At: &geom.Placement{Turn: s.Turn, Scale: s.Scale, Shift: s.Shift}, Cuts: s.Cuts})
	}
	for _, m := range r.Match {
		p.Matches = append(p.Matches, scans.Match{A: m.A - 1, AtA: m.AtA, B: m.B - 1, AtB: m.AtB})
	}
	if err := p.Check(); err != nil {
		return nil, fmt.Errorf("%s: %w", phrase.Name(jobPath), err)
	}
	for i, s := range r.Scans {
		at, err := s.locate(jobPath, moved)
		if err != nil {
			return nil, err
		}
		p.Sources[i].File = at
	}
	return p, nil
}

// locate is find for one of several files: moved, or what lies beside it, may be another of them.
func (r PieceRef) locate(jobPath, moved string) (string, error) {
	at, err := r.find(jobPath, "")
	if err == nil || moved == "" {
		return at, err
	}
	if sum, _, wrong := hashFile(moved); wrong == nil && sum == r.SHA256 {
		return moved, nil
	}
	if near, ok := r.beside(moved); ok {
		return near, nil
	}
	var gone *MovedError
	if errors.As(err, &gone) && errors.Is(err, fs.ErrNotExist) && filepath.Base(gone.Piece) == filepath.Base(moved) {
		return "", &MovedError{Job: jobPath, Piece: moved, Changed: true} // it was pointed out, and is another
	}
	return "", err
}
