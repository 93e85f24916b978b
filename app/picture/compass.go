package picture

import (
	"fmt"
	"strings"

	"grainstack/render/sheet"
	"grainstack/slicing/compass"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// bestShown is how many of the best directions are numbered on the map.
const bestShown = 3

// Compass is what a map of directions shows of one measure, the best by the weights.
func Compass(m *compass.Map, of compass.Measure, w compass.Weights, u unit.System) sheet.CompassView {
	v := sheet.CompassView{More: of.More(), Whole: whole(of), Spacing: compass.Spacing(m.Even)}
	factor, name := inUnits(of, u)
	v.Title = strings.ToUpper(of.Words()[:1]) + of.Words()[1:]
	if name != "" {
		v.Title += ", " + name
	}
	if of.More() {
		v.Title += " · more is better"
	} else {
		v.Title += " · less is better"
	}
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

// Bearing says what a bearing comes to, in two lines.
func Bearing(b *compass.Bearing, u unit.System) [2]string {
	one := fmt.Sprintf("%d layers · %d panels · %s at the router · %s", b.Layers, b.Panels, unit.Duration(b.RouterMin), unit.Mass(b.WeightKg*1000, u))
	two := unit.Volume(b.Trapped, u) + " trapped"
	if b.TrappedCore > 0 {
		two += ", in the core " + unit.Volume(b.TrappedCore, u)
	}
	if b.Joints > 0 {
		two += " · smallest joint " + unit.Area(b.JointMin, u)
	}
	if b.TipDeg > 0 {
		two += fmt.Sprintf(" · stands to %.0f°", b.TipDeg)
	} else {
		two += " · stands on a point or an edge"
	}
	two += fmt.Sprintf(" · stripes read on %.0f %%, ring %.0f %%", 100*b.StripeShare, 100*b.RingShare)
	if b.WholeCut > 0 {
		two += fmt.Sprintf(" · %d joints through what is kept whole", b.WholeCut)
	}
	return [2]string{one, two}
}

// Degrees are the angles of a direction as a maker says them: how far it leans from the piece's own Z, and which way.
func Degrees(d geom.Vec) string {
	lean, round := compass.Lean(d)
	return fmt.Sprintf("%.0f° from Z, towards %.0f°", lean, round)
}
