package report

import (
	"context"

	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/unit"
)

// A Survey is all that keeps a scan from being a solid, with places in the scan's own frame and units.
type Survey struct {
	Shells []Shell        `json:"shells"`
	Counts map[string]int `json:"counts"` // how many of each kind were found
	Places []Place        `json:"places"` // the largest of each kind
}

// A Shell is a part of the surface that hangs together.
type Shell struct {
	Triangles int     `json:"triangles"`
	VolumeCm3 float64 `json:"volume_cm3"` // negative where it faces inward
	Closed    bool    `json:"closed"`
	Inward    bool    `json:"inward"`
	Cavity    bool    `json:"cavity"`
}

// A Place is one finding.
type Place struct {
	Kind string     `json:"kind"`
	At   [3]float64 `json:"at"`
	Size float64    `json:"size"`
	Text string     `json:"text"`
}

// mostShells is how many shells a report lists, the largest first.
const mostShells = 100

// AddSurvey adds what the scan of a piece has to a report; it looks for self-crossings as well.
func (r *Report) AddSurvey(ctx context.Context, p *job.Piece, scale float64) error {
	f, err := mend.Survey(ctx, p.Scan.Mesh, p.Scan.Adjacency, true)
	if err != nil {
		return err
	}
	if f.Counts[mend.Crossing] > 0 {
		scan := p.Scan.Findings
		scan.Crosses = true
		r.Scan.judged(scan, scale)
	}
	s := &Survey{Shells: []Shell{}, Counts: map[string]int{}, Places: []Place{}}
	for _, one := range f.Shells[:min(len(f.Shells), mostShells)] {
		s.Shells = append(s.Shells, Shell{one.Triangles, one.Volume * scale * scale * scale / unit.Cm3, one.Closed, one.Inward, one.Cavity})
	}
	for kind, n := range f.Counts {
		if n > 0 {
			s.Counts[mend.Kind(kind).String()] = n
		}
	}
	for _, one := range f.List {
		s.Places = append(s.Places, Place{one.Kind.String(), [3]float64{one.At.X, one.At.Y, one.At.Z}, one.Size, one.Sentence(scale)})
	}
	r.Survey = s
	return nil
}
