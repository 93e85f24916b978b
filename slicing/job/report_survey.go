package job

import (
	"context"

	"grainstack/slicing/mend"
)

// A SurveyReport is all that keeps a scan from being a solid, with places in the scan's own frame and units.
type SurveyReport struct {
	Shells []ShellReport  `json:"shells"`
	Counts map[string]int `json:"counts"` // how many of each kind were found
	Places []PlaceReport  `json:"places"` // the largest of each kind
}

// A ShellReport is a part of the surface that hangs together.
type ShellReport struct {
	Triangles int     `json:"triangles"`
	VolumeCm3 float64 `json:"volume_cm3"` // negative where it faces inward
	Closed    bool    `json:"closed"`
	Inward    bool    `json:"inward"`
	Cavity    bool    `json:"cavity"`
}

// A PlaceReport is one finding.
type PlaceReport struct {
	Kind string     `json:"kind"`
	At   [3]float64 `json:"at"`
	Size float64    `json:"size"`
	Text string     `json:"text"`
}

// mostShells is how many shells a report lists, the largest first.
const mostShells = 100

// AddSurvey adds what the scan of a piece has to a report; it looks for self-crossings as well.
func (r *Report) AddSurvey(ctx context.Context, p *Piece, scale float64) error {
	f, err := mend.Survey(ctx, p.Scan.Mesh, p.Scan.Adjacency, true)
	if err != nil {
		return err
	}
	if f.Counts[mend.Crossing] > 0 {
		scan := p.Scan.Findings
		scan.Crosses = true
		r.Scan.judged(scan, scale)
	}
	s := &SurveyReport{Shells: []ShellReport{}, Counts: map[string]int{}, Places: []PlaceReport{}}
	for _, one := range f.Shells[:min(len(f.Shells), mostShells)] {
		s.Shells = append(s.Shells, ShellReport{one.Triangles, one.Volume * scale * scale * scale / perCm3, one.Closed, one.Inward, one.Cavity})
	}
	for kind, n := range f.Counts {
		if n > 0 {
			s.Counts[mend.Kind(kind).String()] = n
		}
	}
	for _, one := range f.List {
		s.Places = append(s.Places, PlaceReport{one.Kind.String(), [3]float64{one.At.X, one.At.Y, one.At.Z}, one.Size, one.Sentence(scale)})
	}
	r.Survey = s
	return nil
}
