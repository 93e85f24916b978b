package card

import (
	"fmt"
	"math"
	"strings"

	"grainstack/app/paper"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
	"grainstack/slicing/unit"
)

// NewMending is the card of how the scan is made one solid: what was found, what is to be done, what was done.
func NewMending(b Bench) *Card {
	held := func(m *quantity) { m.Off = func(s State) bool { return s.Settings.Mend.Off } }
	base := &sawn{}
	return newCard(2, "Mending", mendingLine,
		(&note{Ink: paper.Ink, Text: found}).on(),
		goOn(b, func(o Off) bool { return o.Survey }),
		(&places{}).on(b),
		walk(b),
		ticked(b, "mend"),
		figure(b, "debris", means(held, "loose bits that came along with the scan; those smaller than this share of the largest body are left out")),
		figure(b, "grid", means(held, "where the surface has to be built anew it is built on cubes so large: smaller ones keep finer forms and take longer")),
		figure(b, "smooth", means(held, "how far the surface may be moved to take the scanner's noise off")),
		figure(b, "thin", means(held, "facets that are not needed are taken away as long as the surface moves no farther than this")),
		(&tick{Name: "Saw the base off flat",
			Value: func(s State) bool { return s.Settings.Mend.Saw.On }, Set: base.turn}).on(b),
		figure(b, "saw-base", func(m *quantity) {
			m.Limits, m.Value, m.Set = base.reach, base.height, base.to
			m.Hidden = func(s State) bool { return !s.Settings.Mend.Saw.On }
		}),
		(&presses{Each: []press{{Do: func(State) { b.Run("saw") }, Show: func(s State) (string, bool) {
			if s.Picked.Click == "saw" {
				return "Click where the saw shall go through", true
			}
			return "Saw it off at a place", s.Piece != nil
		}}}}).on(),
		(&note{Ink: paper.Pencil, Text: done}).on(),
		(&presses{Each: []press{{Do: func(s State) {
			if s.Mend.Busy {
				b.Run("cancel")
			} else {
				b.Run("mend")
			}
		}, Show: func(s State) (string, bool) {
			switch {
			case s.Mend.Busy:
				return "Call it off", true
			case s.Mend.Fault != "":
				return "Mend it now", true
			}
			return "", false
		}}}}).on(),
	)
}

// means is a change of a measure with another one, which says what its name means.
func means(change func(*quantity), words string) func(*quantity) {
	return func(m *quantity) {
		change(m)
		m.Means = words
	}
}

// sawn keeps how low the scan reaches, so that it is not gone over for each repaint.
type sawn struct {
	scan   *mesh.Mesh
	normal geom.Vec
	at     float64 // units: height of the plane's zero above the scan's lowest point
}

// firstSaw is where the saw is set when it is first taken up, mm above the lowest point.
const firstSaw = 5.0

func (w *sawn) turn(s State, on bool) job.Settings {
	if on && !(s.Settings.Mend.Saw.Normal.Len() > 0) && s.Piece != nil {
		return w.to(s, firstSaw)
	}
	s.Settings.Mend.Saw.On = on
	return s.Settings
}

func (w *sawn) to(s State, mm float64) job.Settings {
	if s.Piece != nil {
		s.Settings.Mend.Saw = s.Piece.SawBase(s.Settings, mm)
	}
	return s.Settings
}

// height is how high above its lowest point the scan is sawn off, mm.
func (w *sawn) height(s State) float64 {
	saw := s.Settings.Mend.Saw
	if s.Piece == nil || !saw.On {
		return 0
	}
	if w.scan != s.Piece.Scan.Mesh || w.normal != saw.Normal {
		zero := s.Settings
		zero.Scale, zero.Mend.Saw.D = 1, 0
		w.scan, w.normal, w.at = s.Piece.Scan.Mesh, saw.Normal, s.Piece.SawnAt(zero)
	}
	return (w.at + saw.D/saw.Normal.Len()) * s.Settings.Scale
}

func (w *sawn) reach(s State) (least, most float64) {
	return 0, math.Max(1, math.Max(w.height(s), math.Floor(0.9*height(s))))
}

// found says in a few words what the scan has.
func found(s State) string {
	switch {
	case s.Piece == nil:
		return ""
	case s.Mend.Survey == nil && s.Off.Survey:
		return "Looking the scan over was called off: what it has is not known."
	case s.Mend.Survey == nil:
		return "The scan is being looked over."
	case len(s.Mend.Survey.List) == 0:
		return "The scan is clean: nothing was found." + shells(s)
	}
	line := "Found in the scan: " + strings.Join(counted(s.Mend.Survey), ", ") + "."
	if s.Off.Survey {
		line += " Looking for where it runs through itself was called off."
	} else if !s.Mend.Survey.Crossings && s.Piece.Mesh != s.Piece.Scan.Mesh {
		line += " Where it runs through itself is still being looked for."
	}
	return line + shells(s)
}

// mostShells is how many shells are named with their volumes.
const mostShells = 4

// shells says how large the scan's shells are, where there are several.
func shells(s State) string {
	all := s.Mend.Survey.Shells
	if len(all) < 2 {
		return ""
	}
	k := s.Settings.Scale
	var each []string
	for _, one := range all[:min(len(all), mostShells)] {
		text := unit.Volume(math.Abs(one.Volume)*k*k*k, s.View.Units)
		if one.Cavity {
			text += " (hollow)"
		}
		each = append(each, text)
	}
	line := fmt.Sprintf(" %s shells: %s", Thousands(len(all)), strings.Join(each, ", "))
	if len(all) > mostShells {
		line += " and smaller"
	}
	return line + "."
}

// done says what was done to the scan and how far it moved.
func done(s State) string {
	switch {
	case s.Piece == nil:
		return ""
	case s.Mend.Fault != "":
		return s.Mend.Fault
	case s.Mend.Busy:
		return "It is being mended; until then the piece is as before."
	case s.Piece.Mesh == s.Piece.Scan.Mesh && s.Settings.Mend.Off:
		return "The piece is the scan, as it was read."
	case s.Piece.Mesh == s.Piece.Scan.Mesh:
		return "Nothing had to be done: the piece is the scan, facet for facet."
	}
	m := s.Piece.Mended
	lines := strings.Join(m.Actions, " ")
	then := m.MmPerUnit
	m = m.At(s.Settings.Scale)
	if k := s.Settings.Scale; then > 0 && math.Abs(k/then-1) > 1e-6 {
		lines += fmt.Sprintf(" (Lengths in these words are at the scale × %.5g.)", then)
		if m.Rebuilt {
			lines += " Grid: " + unit.Length(m.ResolutionMm, s.View.Units) + "."
		}
	}
	return lines + " " + moved(s, m)
}

// moved says how far scan and piece are apart.
func moved(s State, m job.Mended) string {
	if m.DistanceMaxMm == 0 {
		return "What was kept of the scan has not moved."
	}
	return fmt.Sprintf("Scan and piece are at most %s apart, %s on average.", fine(m.DistanceMaxMm, s.View.Units), fine(m.DistanceMeanMm, s.View.Units))
}

// fine is a small length.
func fine(mm float64, u unit.System) string {
	switch {
	case u == unit.Inch && mm < 0.0001*25.4:
		return "less than 0.0001 in"
	case u == unit.Inch:
		return unit.Number(mm/25.4, 4) + " in"
	case mm < 0.01:
		return "less than 0.01 mm"
	}
	return unit.Number(mm, 2) + " mm"
}

// deeds are the kinds of what was done, one and many.
var deeds = map[mend.ActionKind][2]string{
	mend.Welded: {"seam point joined", "seam points joined"}, mend.Split: {"edge split", "edges split"},
	mend.Dropped: {"loose bit left out", "loose bits left out"}, mend.Deduplicated: {"doubled facet dropped", "doubled facets dropped"},
	mend.Turned: {"facet turned", "facets turned"}, mend.Reversed: {"shell turned", "shells turned"},
	mend.Swallowed: {"inner shell dropped", "inner shells dropped"}, mend.Filled: {"hole filled", "holes filled"},
	mend.Lost: {"bit too small for the grid", "bits too small for the grid"}, mend.Plugged: {"small pocket filled", "small pockets filled"},
	mend.Cut:   {"line cut where it ran through itself", "lines cut where it ran through itself"},
	mend.Sheet: {"open part dropped", "open parts dropped"}, mend.Against: {"place wound the wrong way dropped", "places wound the wrong way dropped"},
	mend.CutOff: {"bit cut off dropped", "bits cut off dropped"}, mend.CutShut: {"pocket from cutting filled", "pockets from cutting filled"},
	mend.Based: {"base closed flat", "bases closed flat"}, mend.Untied: {"touching point parted", "touching points parted"},
}

// mendingLine is the folded card.
func mendingLine(s State) string {
	switch {
	case s.Piece == nil:
		return "none yet"
	case s.Mend.Busy:
		return "being mended …"
	case s.Mend.Fault != "":
		return s.Mend.Fault
	case s.Piece.Mesh == s.Piece.Scan.Mesh && s.Settings.Mend.Off:
		return "left as it was read"
	case s.Piece.Mesh == s.Piece.Scan.Mesh:
		return "clean, nothing to do"
	}
	var parts []string
	for _, a := range s.Piece.Mended.Did {
		switch words, ok := deeds[a.Kind]; {
		case ok:
			parts = append(parts, number(a.Count, words))
		case a.Kind == mend.Sawn:
			parts = append(parts, "sawn off")
		case a.Kind == mend.Rebuilt:
			parts = append(parts, "built anew")
		case a.Kind == mend.RebuiltPart:
			parts = append(parts, "an open part built anew")
		}
	}
	if s.Settings.Mend.Smooth > 0 {
		parts = append(parts, "smoothed")
	}
	if s.Settings.Mend.Thin > 0 {
		parts = append(parts, "thinned")
	}
	m := s.Piece.Mended.At(s.Settings.Scale)
	if m.DistanceMaxMm > 0 {
		parts = append(parts, "moved by "+fine(m.DistanceMaxMm, s.View.Units)+" at the most")
	}
	return strings.Join(parts, " · ")
}
