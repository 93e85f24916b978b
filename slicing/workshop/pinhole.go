package workshop

import "grainstack/slicing/geom"

// A PinHole is the hole of an alignment pin in a part.
type PinHole struct {
	At        geom.Vec2 // its axis, on the stand
	Lower     bool      // it goes into the part's lower face, which is up on side B; else into its upper face
	Diameter  float64   // mm
	Depth     float64   // from the part's face, mm: the pin's, and what a round-ended cutter needs below it
	Dowel     float64   // how deep the dowel goes in from the part's face, mm
	FromPanel float64   // from the face of the planed panel, mm: more where the part's face lies below that
}

// PinHoles are the holes of a part's alignment pins: in its upper face those of the joint above it, in its lower face those of
// the joint below.
func (w *Workshop) PinHoles(p *Part) (out []PinHole) {
	l := &w.Figures.Layers[p.Layer-1]
	for i := range w.Joints {
		j := &w.Joints[i]
		h := PinHole{Diameter: w.For.Shop.PinDiameter, Depth: j.Hole, Dowel: j.Depth}
		face := uint16(1)
		switch p.Layer {
		case j.Above:
			h.Lower, h.FromPanel = true, l.Bottom-p.PanelLow+j.Hole
		case j.Contact.Below:
			h.FromPanel = p.PanelLow + w.Figures.Thickness - l.Top + j.Hole
			face = 1 << (partHeights - 1)
		default:
			continue
		}
		for _, pin := range j.Pins {
			if h.At = pin.At; p.Shadow.Contains(h.At) && p.cover.at(h.At)&face != 0 {
				out = append(out, h)
			}
		}
	}
	return out
}
