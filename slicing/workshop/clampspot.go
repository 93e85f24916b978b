package workshop

import (
	"math"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
)

// clampedDowels names the clamps that lie over a register dowel: there the panel can't be drilled, nor set on its dowels.
func (w *making) clampedDowels() {
	for _, c := range w.ClampSpots() {
		for i, d := range w.Register.Dowels {
			off := geom.Vec2{X: math.Max(c.Min.X-d.At.X, d.At.X-c.Max.X), Y: math.Max(c.Min.Y-d.At.Y, d.At.Y-c.Max.Y)}
			off.X, off.Y = math.Max(0, off.X), math.Max(0, off.Y)
			if off.Len() >= d.Diameter/2 {
				continue
			}
			turned := 0.0
			if c.Turned {
				turned = 1
			}
			w.tell(finding.Of(finding.ClampOnDowel, finding.Place{Size: float64(c.Number), More: [2]float64{float64(i + 1), turned}}))
		}
	}
}

// ClampSpots are what the clamps cover of side A while it is up, and, where that is elsewhere, while side B is: the panel
// turns, they don't. What lies under a clamp while side A is up is where the clamp is on the machine, whichever side is up.
func (w *Workshop) ClampSpots() (out []panel.ClampSpot) {
	for i, p := range w.For.Shop.PanelClamps.List() {
		b := p.On(w.For.PanelX, w.For.PanelY)
		if b.Empty() {
			continue
		}
		out = append(out, panel.ClampSpot{Box2: b, Number: i + 1})
		if t := geom.EmptyBox2().Add(w.Register.TurnOver(b.Min)).Add(w.Register.TurnOver(b.Max)); t != b {
			out = append(out, panel.ClampSpot{Box2: t, Number: i + 1, Turned: true})
		}
	}
	return out
}
