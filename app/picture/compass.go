package picture

import (
	"fmt"
	"math"

	"grainstack/render/sheet"
	"grainstack/slicing/compass"
	"grainstack/slicing/geom"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// bestShown is how many of the best directions are numbered on the map.
const bestShown = 3

// Compass is what a map of directions shows of one measure, the best by the weights.
func Compass(m *compass.Map, of compass.Measure, w compass.Weights, u unit.System) sheet.CompassView {
	v := sheet.CompassView{Title: CompassTitle(of, u), More: of.More(), Whole: whole(of), Spacing: compass.Spacing(m.Even)}
	factor, _ := inUnits(of, u)
	free := m.Unbeaten(w)
	for i := range m.Bearings {
		b := &m.Bearings[i]
		v.Points = append(v.Points, sheet.CompassPoint{Axis: b.Axis(), Value: of.Of(b) * factor, Unbeaten: free[i], Rough: b.Rough})
		if b.Now {
			v.Now = b.Axis()
		}
	}
	v.Best = m.Peaks(w, bestShown, 2*v.Spacing)
	return v
}

// CompassTitle names a measure with its unit, and says which way better is.
func CompassTitle(of compass.Measure, u unit.System) string {
	title := phrase.Capital(of.Words())
	if _, name := inUnits(of, u); name != "" {
		title += ", " + name
	}
	if of.More() {
		return title + " · more is better"
	}
	return title + " · less is better"
}

func whole(of compass.Measure) bool {
	return of == compass.Layers || of == compass.Panels || of == compass.Whole
}

// inUnits is what a measure's figure is multiplied by to be shown, and the unit's name.
func inUnits(of compass.Measure, u unit.System) (factor float64, name string) {
	inch := u == unit.Inch
	const cubicInch, squareInch, pound = 25.4 * 25.4 * 25.4, 25.4 * 25.4, 0.45359237
	switch of {
	case compass.Trapped, compass.TrappedCore, compass.Residue:
		if inch {
			return 1 / cubicInch, "in³"
		}
		return 1e-3, "cm³"
	case compass.Hours:
		return 1.0 / 60, "h"
	case compass.Weight:
		if inch {
			return 1 / pound, "lb"
		}
		return 1, "kg"
	case compass.Joint:
		if inch {
			return 1 / squareInch, "in²"
		}
		return 1e-2, "cm²"
	case compass.Tip:
		return 1, "degrees"
	case compass.Stripes, compass.Rings, compass.Along:
		return 100, "%"
	}
	return 1, ""
}

// Bearing says what a bearing comes to, in four short lines.
func Bearing(b *compass.Bearing, u unit.System) [4]string {
	lines := [4]string{
		fmt.Sprintf("%s · %s · %s at the router · %s", phrase.Count(b.Layers, "layer"), phrase.Count(b.Panels, "panel"), unit.Duration(b.RouterMin), unit.Mass(b.WeightKg*1000, u)),
		"trapped " + unit.Volume(b.Trapped, u), "", "",
	}
	if b.TrappedCore > 0 {
		lines[1] += ", in the core " + unit.Volume(b.TrappedCore, u)
	}
	if b.Joints > 0 {
		lines[2] = "smallest joint " + unit.Area(b.JointMin, u) + " · "
	}
	if b.Stands() {
		lines[2] += fmt.Sprintf("stands up to a tilt of %.0f°", b.TipDeg)
	} else {
		lines[2] += "falls over: it stands on a point or an edge"
	}
	lines[3] = fmt.Sprintf("stripes wide enough to be told apart on %.0f %% of it, round its limbs on %.0f %%", 100*b.StripeShare, 100*b.RingShare)
	if b.WholeCut > 0 {
		lines[3] += fmt.Sprintf(" · %d %s through what stays whole", b.WholeCut, phrase.Plural(b.WholeCut, "joint", "joints"))
	}
	return lines
}

// sides are the sides of a piece as its file has it, from the right on round by the back, an eighth of a turn apart.
var sides = [8]string{"right", "right and back", "back", "left and back", "left", "left and front", "front", "right and front"}

// Lean says how far a direction leans from what is upwards in the piece's file, and which way.
func Lean(d geom.Vec) string {
	lean, round := compass.Lean(d)
	switch {
	case lean < 0.5:
		return "upright as in the file"
	case lean > 179.5:
		return "upside down against the file"
	}
	eighth := int(math.Round(round/45)) & 7
	return fmt.Sprintf("tilted %.0f° from upright as in the file, to its %s", lean, sides[eighth])
}
