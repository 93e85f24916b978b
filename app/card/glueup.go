package card

import (
	"fmt"

	"grainstack/app/paper"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// NewGlueUp is the card of glue, clamps, balance and surface.
func NewGlueUp(b Bench) *Card {
	return newCard(10, "Glue-up", glueLine,
		pick(b, "glue", nil), pick(b, "spread", nil), figure(b, "glue-on-face", nil),
		figure(b, "clamp-force", nil), figure(b, "clamp-opening", nil), figure(b, "clamps", nil),
		(&presses{Each: []press{{Name: "Glue-up sheet", Do: func(State) { b.Run("sheet Glue-up") }}}}).on(),
		(&note{Ink: paper.Ink, Text: glueWords}).on(),
		(&note{Ink: paper.Ink, Text: liftWords}).on(),
		(&note{Ink: paper.Ink, Text: balanceWords}).on(),
		heading("Sanding and finish"),
		figure(b, "joint-step", nil),
		pick(b, "grits", nil),
		figure(b, "allowance", nil), figure(b, "coats", nil),
		(&note{Ink: paper.Ink, Text: surfaceWords}).on(),
		(&note{Ink: paper.Pencil, Text: func(State) string {
			return "Glue, sanding dust and finishes: gloves, mask and fresh air, and keep to the makers' data sheets. Solvent and oil rags can take fire by themselves. Local rules come first."
		}}).on(),
	)
}

// shopNow is the workshop where there is something in it.
func shopNow(s State) *workshop.Workshop {
	if s.Workshop == nil || !s.Workshop.Withheld.None() {
		return nil
	}
	return s.Workshop
}

func glueLine(s State) string {
	g, _ := s.Catalogue.Glue(s.Settings.Glue)
	line := g.Name
	if v := shopNow(s); v != nil && v.GlueUp.Pressings == 0 && len(v.Seams) == 0 {
		return "one layer, nothing to glue"
	} else if v != nil {
		line += fmt.Sprintf(" · %s · up to %s", unit.Mass(v.GlueUp.WetG, s.View.Units), phrase.Count(v.GlueUp.Clamps, "clamp"))
		if v.Balance.Stands {
			line += " · " + tipWords(v.Balance.TipDeg)
		}
	}
	return line
}

// glueWords say what the whole glue-up takes.
func glueWords(s State) string {
	v := shopNow(s)
	if v == nil {
		if s.Figures != nil && !s.Figures.Withheld.None() {
			return s.Figures.Withheld.In(s.View.Units)
		}
		if s.Off.Shop || s.Off.Reach || s.Off.Hollow {
			return "The glue-up is not known: what it hangs on was called off."
		}
		return "The glue-up is being worked out …"
	}
	if v.GlueUp.Pressings == 0 && len(v.Seams) == 0 {
		return "One layer: nothing has to be glued."
	}
	g, _ := s.Settings.GlueIn(s.Catalogue)
	faces := "one face"
	if g.Faces == 2 {
		faces = "both faces"
	}
	pressure, force := 0.0, 0.0
	for _, j := range v.Joints {
		pressure, force = j.PressureMPa, max(force, j.ForceN)
	}
	late := 0
	for _, t := range v.GlueUp.Stages {
		for _, p := range t.Pressings {
			if p.CloseMin > g.OpenMin {
				late++
			}
		}
	}
	text := fmt.Sprintf("%s in %s: %s of glue, %.0f g/m² on %s. It presses at %.2f N/mm², up to %.1f kN and %s a joint. Open for %.0f min, in the clamps for %.0f; %s in all.",
		phrase.Count(v.GlueUp.Pressings, "joint"), phrase.Count(len(v.GlueUp.Stages), "stage"), unit.Mass(v.GlueUp.WetG, s.View.Units), g.SpreadGM2, faces, pressure, force/1000, phrase.Count(v.GlueUp.Clamps, "clamp"),
		g.OpenMin, g.ClampMin, unit.Duration(v.GlueUp.Minutes))
	if late > 0 {
		text += fmt.Sprintf(" %s longer to close than the glue stays open: spread with a wider roller, or with help.", phrase.Plural(late, "1 joint takes", fmt.Sprint(late, " joints take")))
	}
	return text
}

// liftWords name what is heavy to lift.
func liftWords(s State) string {
	v := shopNow(s)
	if v == nil {
		return ""
	}
	heaviest, step, people := 0.0, 0, 1
	for _, t := range v.GlueUp.Stages {
		for _, p := range t.Pressings {
			if p.Upper.MassG > heaviest {
				heaviest, step, people = p.Upper.MassG, p.Number, p.People
			}
		}
	}
	if step == 0 {
		return ""
	}
	line := fmt.Sprintf("Heaviest to lift: %s in step %d", unit.Mass(heaviest, s.View.Units), step)
	switch {
	case people == 0:
		return line + ", not by hand: use a hoist or another order."
	case people > 1:
		return line + fmt.Sprintf(", by %d people.", people)
	}
	return line + ", by one person."
}

// balanceWords say how the piece stands.
func balanceWords(s State) string {
	v := shopNow(s)
	if v == nil {
		return ""
	}
	u := s.View.Units
	line := fmt.Sprintf("Centre of mass %s up; %s in all.", unit.Length(v.Balance.Centre.Z, u), unit.Mass(v.Balance.MassG, u))
	if !v.Balance.Stands {
		return line + " It does not stand by itself: see what needs a look."
	}
	if v.Balance.TipDeg < 0 {
		return line + fmt.Sprintf(" It falls over by itself: the plumb line is %s beyond the edge it stands on.", unit.Length(-v.Balance.Margin, u))
	}
	return line + fmt.Sprintf(" It falls over when tilted by %.0f°, %s from the plumb line to the edge it stands on.", v.Balance.TipDeg, unit.Length(v.Balance.Margin, u))
}

// surfaceWords say what sanding and varnish take.
func surfaceWords(s State) string {
	v := shopNow(s)
	if v == nil {
		return ""
	}
	u := s.View.Units
	text := fmt.Sprintf("Surface %s. Sanding takes off about %s.", unit.Area(v.Finish.Area, u), unit.Length(v.Finish.Sanding, u))
	if v.Finish.Coats > 0 {
		text += fmt.Sprintf(" %s: %s and %.0f h of drying.", phrase.Count(v.Finish.Coats, "coat"), unit.Liquid(v.Finish.Litres, u), v.Finish.DryHours)
	}
	return text
}

// tipWords say at which tilt a piece falls over, briefly.
func tipWords(degrees float64) string {
	if degrees < 0 {
		return "falls over"
	}
	return fmt.Sprintf("tips at %.0f°", degrees)
}
