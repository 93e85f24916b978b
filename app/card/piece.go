package card

import (
	"fmt"
	"path/filepath"
	"strings"

	"grainstack/app/paper"
	"grainstack/app/session"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// NewPiece is the card of the piece: what its file holds, and how large a unit of it is.
func NewPiece(b Bench) *Card {
	return newCard(1, "Piece", pieceLine,
		(&facts{Each: []fact{
			{Name: "file", Say: func(s State) string { return inPiece(s, fileName) }},
			{Name: "facets", Means: "the small triangles that the surface is made of", Say: func(s State) string {
				return inPiece(s, func(p *job.Piece) string { return Thousands(p.Findings.Triangles) })
			}},
			{Name: "shells", Means: "surfaces that hang together; a piece of one body has one, and one more for each hollow inside", Say: func(s State) string {
				return inPiece(s, func(p *job.Piece) string { return Thousands(p.Findings.Shells) })
			}},
			{Name: "open edges", Means: "edges where the surface ends, as round a hole", Say: func(s State) string { return inPiece(s, edges) }},
			{Name: "volume", Say: volume}, {Name: "area", Say: area}, {Name: "size", Say: SizeWords},
		}}).on(),
		(&note{Ink: paper.Pencil, Text: findings}).on(),
		figure(b, "scale", nil),
		figure(b, "height", func(m *quantity) {
			m.Value, m.Off = height, func(s State) bool { return s.Standing == nil }
			m.Set = func(s State, v float64) job.Settings {
				return scaled(s.Settings, s.Standing.ScaleForHeight(s.Settings.Turn, v))
			}
		}),
		newMeasure(b, quantity{Name: "distance", Moves: "what it truly is", Range: job.Range{Kind: unit.Lengths, Log: true, Least: 0.5, Most: 5000, Low: 20, High: 500},
			Value:  func(s State) float64 { return s.Picked.Distance * s.Settings.Scale },
			Set:    func(s State, v float64) job.Settings { return scaled(s.Settings, v/s.Picked.Distance) },
			Hidden: func(s State) bool { return s.Picked.Distance == 0 }}),
		(&tick{Name: "show the scan's own colours", Value: func(s State) bool { return s.View.Over == session.ScanTints },
			View:   func(State, bool) { b.Look(func(v *session.View) { v.Over = v.Over.Turned(session.ScanTints) }) },
			Hidden: func(s State) bool { return s.Piece == nil || s.Piece.Raw.Colours == nil }}).on(b),
		(&presses{Each: []press{{Name: "Measure between two points", Do: func(State) { b.Run("measure") },
			Show: func(s State) (string, bool) {
				switch {
				case s.Picked.Click == "measure":
					return "Click two points on the piece", true
				case s.Picked.Distance > 0:
					return "Measure again", true
				}
				return "Measure between two points", s.Piece != nil
			}}}}).on(),
	)
}

func inPiece(s State, say func(*job.Piece) string) string {
	if s.Piece == nil {
		return "–"
	}
	return say(s.Piece)
}

func fileName(p *job.Piece) string {
	if p.File == "" {
		return "made here, not from a file"
	}
	if p.Joined != nil && !p.Joined.Plan.Alone() {
		return fmt.Sprintf("%s and %s", filepath.Base(p.File), phrase.Count(len(p.Joined.Set.Scans)-1, "more scan"))
	}
	return filepath.Base(p.File)
}

func edges(p *job.Piece) string {
	return fmt.Sprintf("%s · shared by three or more: %s", Thousands(p.Findings.OpenEdges), Thousands(p.Findings.NonManifoldEdges))
}

func volume(s State) string {
	if s.Piece == nil || !s.Piece.Solid() {
		return "– (needs a solid)"
	}
	k := s.Settings.Scale
	return unit.Volume(s.Piece.Findings.Volume*k*k*k, s.View.Units)
}

func area(s State) string {
	if s.Piece == nil {
		return "–"
	}
	k := s.Settings.Scale
	return unit.Area(s.Piece.Findings.Area*k*k, s.View.Units)
}

// SizeWords is how large the piece is as it stands: length, width and height.
func SizeWords(s State) string {
	if s.Standing == nil {
		return "–"
	}
	z := s.Standing.Placed.Box.Size().Scale(s.Settings.Scale / s.Standing.Stand.Scale)
	short := func(mm float64) string {
		text, _, _ := strings.Cut(unit.Length(mm, s.View.Units), " ")
		return text
	}
	return short(z.X) + " × " + short(z.Y) + " × " + unit.Length(z.Z, s.View.Units)
}

func findings(s State) string {
	if s.Piece == nil {
		return ""
	}
	return strings.Join(s.Piece.Findings.Sentences(s.Settings.Scale), " ")
}

func pieceLine(s State) string {
	if s.Piece == nil {
		return "none yet"
	}
	return Thousands(s.Piece.Findings.Triangles) + " facets · " + Solidity(s)
}

// Solidity is the state of the piece in a word or two. A scan that nobody has looked through yet may pass for a solid.
func Solidity(s State) string {
	p := s.Piece
	raw := p.Mesh == p.Scan.Mesh
	switch {
	case raw && s.Mend.Busy:
		return "being mended"
	case raw && s.Mend.Fault != "":
		return "not mended"
	case p.Findings.Crosses:
		return "runs through itself"
	case p.Solid() && p.Findings.Shells == 1:
		return "one solid"
	case p.Solid():
		return fmt.Sprintf("solid in %d shells", p.Findings.Shells)
	case p.Findings.OpenEdges > 0:
		return "not closed"
	}
	return "not a solid"
}

func scaled(s job.Settings, scale float64) job.Settings {
	s.Scale = scale
	return s
}

// height is that of the scan, which is what the scale is set by: what mending takes off doesn't change it.
func height(s State) float64 {
	if s.Standing == nil {
		return 0
	}
	return s.Standing.ScanSize.Z * s.Settings.Scale / s.Standing.Stand.Scale
}
