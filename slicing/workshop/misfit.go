package workshop

import (
	"math"
	"slices"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
)

// A Misfit is the first part of a workshop that no panel holds, with what would make it fit.
type Misfit struct {
	Part  panel.ID
	Size  geom.Vec2 // as its grain lies on a panel, mm
	Room  geom.Vec2 // that a panel offers, mm
	More  int       // parts that are too large as well
	Scale float64   // of the piece at which all of them fit, against the present one, rounded down to whole per cent
	Panel geom.Vec2 // a panel that holds all of them, rounded up to what is set at a saw, mm
}

// layingStep is how finely parts are laid on a small panel, mm.
const layingStep = 2.0

// Misfit names the first part that is too large for a panel; ok is false where all parts lie on one.
func (w *Workshop) Misfit() (m Misfit, ok bool) {
	all := w.Layout.TooLarge
	if len(all) == 0 {
		return m, false
	}
	first, ok := w.Part(all[0].Part)
	if !ok {
		return m, false
	}
	whole := geom.Vec2{X: w.For.PanelX, Y: w.For.PanelY}
	edges := geom.Vec2{X: 2 * w.Edge(), Y: 2 * w.Edge()}
	m = Misfit{Part: first.ID, Size: first.onPanel(), Room: whole.Sub(edges), More: len(all) - 1}
	largest := m.Size
	for _, one := range all {
		if p, ok := w.Part(one.Part); ok {
			s := p.onPanel()
			largest = geom.Vec2{X: math.Max(largest.X, s.X), Y: math.Max(largest.Y, s.Y)}
		}
	}
	off := w.keptOff()
	fits := math.Min((whole.X-off.X)/largest.X, (whole.Y-off.Y)/largest.Y)
	m.Scale = math.Floor(100*math.Min(1, fits)) / 100
	m.Panel = geom.Vec2{X: math.Max(whole.X, sawn(largest.X+off.X)), Y: math.Max(whole.Y, sawn(largest.Y+off.Y))}
	return m, true
}

// sawn is a panel's length rounded up to what is set at a saw, mm.
func sawn(mm float64) float64 { return 10 * math.Ceil(mm/10-1e-9) }

// onPanel is the extent of a part along the panel's grain and across, mm.
func (p *Part) onPanel() geom.Vec2 {
	size := p.Shadow.Box().Size()
	if p.Turned {
		size.X, size.Y = size.Y, size.X
	}
	return size
}

// keptOff is how much of a panel's length and width no part may lie on: the edges, and along the turning axis the ends where
// the register dowels stand.
func (w *Workshop) keptOff() geom.Vec2 {
	d, size := w.Register.Dowels, geom.Vec2{X: w.For.PanelX, Y: w.For.PanelY}
	along := w.Register.Axis == panel.AlongY
	flip := func(p geom.Vec2) geom.Vec2 { // the axis as x
		if along {
			return geom.Vec2{X: p.Y, Y: p.X}
		}
		return p
	}
	a, b, whole := flip(d[0].At), flip(d[1].At), flip(size)
	clear := w.Margin + d[0].Diameter/2
	ends := 0.0
	for _, low := range []bool{true, false} {
		end := w.Edge()
		for _, x := range []float64{a.X, b.X} {
			if low && x < whole.X/2 {
				end = math.Max(end, x+clear)
			} else if !low && x >= whole.X/2 {
				end = math.Max(end, whole.X-x+clear)
			}
		}
		ends += end
	}
	return flip(geom.Vec2{X: ends + layingStep, Y: 2*w.Edge() + layingStep})
}

// Halved is a joint line across the middle of a part, the way that makes it shorter where it is too long for a panel.
func (w *Workshop) Halved(id panel.ID) (s job.Split, ok bool) {
	of, ok := w.Part(id)
	if !ok {
		return s, false
	}
	box := of.Shadow.Box()
	mid, size := box.Min.Add(box.Max).Scale(0.5), of.onPanel()
	along := size.X-w.For.PanelX >= size.Y-w.For.PanelY // too long along the panel's grain
	if along == of.Turned {
		return job.Split{Part: id, A: geom.Vec2{X: box.Min.X, Y: mid.Y}, B: geom.Vec2{X: box.Max.X, Y: mid.Y}}, true
	}
	return job.Split{Part: id, A: geom.Vec2{X: mid.X, Y: box.Min.Y}, B: geom.Vec2{X: mid.X, Y: box.Max.Y}}, true
}

// StepOf is the number of the pressing in which a layer is put on; the lowest layer comes with the first joint.
func (w *Workshop) StepOf(layer int) (number int, ok bool) {
	for _, s := range w.GlueUp.Stages {
		for _, p := range s.Pressings {
			if p.Joint.Above == layer || layer == 1 && p.Joint.Below == 1 {
				number, ok = p.Number, true
			}
		}
	}
	return number, ok
}

// NeedsALook is what needs a look of figures and of their workshop, which may be nil: the worst first, like ones together. That a
// part is too large for its panel is left to the workshop, which knows of joint lines; a rim that is too
// narrow is told once.
func NeedsALook(f *job.Figures, w *Workshop) []finding.Finding {
	if w == nil {
		return finding.InWood(f.Cautions, f.Middle)
	}
	all := finding.Gather(f.Cautions, w.Cautions)
	wanted := 0.0 // of a ring of wood, where one is told
	if i := slices.IndexFunc(all, func(one finding.Finding) bool { return one.Kind == finding.ThinRing }); i >= 0 {
		wanted = all[i].Figures[0]
	}
	all = slices.DeleteFunc(all, func(one finding.Finding) bool {
		switch one.Kind {
		case finding.TooLargeGuess:
			return w.Withheld.None()
		case finding.ThinRim: // told with the rings, of which more is wanted
			return wanted >= one.Figures[0]
		}
		return false
	})
	return finding.InWood(all, func(p finding.Place) (at geom.Vec, reach float64, ok bool) {
		if at, reach, ok = w.middle(p); !ok {
			return f.Middle(p)
		}
		return at, reach, true
	})
}

// middle is where a place is looked at that is a whole layer, or a part of one: in the wood of that part, or of its largest part.
func (w *Workshop) middle(p finding.Place) (at geom.Vec, reach float64, ok bool) {
	var largest *Part
	area := 0.0
	for i := range w.Parts {
		one := &w.Parts[i]
		if one.Layer != p.Layer || p.Part > 0 && one.Of != p.Part-1 {
			continue
		}
		if a := one.Shadow.Area(); a > area {
			largest, area = one, a
		}
	}
	if largest == nil {
		return at, 0, false
	}
	spot := w.whole(largest)
	return spot.At, spot.Reach, spot.Placed
}
