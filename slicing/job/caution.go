package job

import (
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/mend"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
)

// Limits from which a maker would want to know, lengths in mm (common practice, no source).
const (
	thinVeneer = 0.25 // an outermost veneer thinner than this shows as a sliver at every joint
	thinLast   = 3    // a last layer lower than this is hard to hold and to glue
	smallPiece = 20   // lower than this a unit was mistaken
	mostlyShut = 1    // times the hollow that is cut away: with more that stays wood, the layer is hardly hollow
)

// cautions are what needs a look, worst first.
func (f *Figures) cautions() []finding.Finding {
	w := &warner{Figures: f}
	if f.Size.Z < smallPiece {
		w.add(finding.Of(finding.TooLow).With(f.Size.Z))
	}
	if !f.Totals.FitsPanel {
		w.add(f.misfit())
	}
	w.faces(f.chosen.usual.Veneers)
	w.grain(Blanks{usual: f.chosen.usual, alternate: f.For.Alternate})
	w.boards()
	if r := f.Remainder; !r.Whole && r.Last < thinLast && len(f.Layers) > 1 {
		w.add(finding.Of(finding.ThinLast, finding.Place{Layer: len(f.Layers), Size: r.Last}).With(r.Fewer))
	}
	w.slivers()
	w.hollow()
	w.rims()
	w.scan()
	return finding.Gather(w.found, w.kept())
}

// A warner looks over figures for what needs a look.
type warner struct {
	*Figures
	found []finding.Finding
}

func (f *warner) add(one finding.Finding) { f.found = append(f.found, one) }

// faces looks at what the skim leaves.
func (f *warner) faces(veneers []stock.Veneer) {
	for i, v := range []stock.Veneer{veneers[0], veneers[len(veneers)-1]} {
		if len(veneers) > 1 && v.Thickness < thinVeneer {
			f.add(finding.Of(finding.SkimSliver).With(v.Thickness, float64(i)))
			break
		}
	}
}

// slivers tells what is too small to be made.
func (f *warner) slivers() {
	var places []finding.Place
	for _, l := range f.Layers {
		for _, p := range l.Slivers {
			at := p.Box.Center()
			places = append(places, finding.Place{Layer: l.Number, At: at, Placed: true, Where: finding.Whereabouts(at, f.Size), Size: p.Volume, Reach: p.Box.Size().Len() / 2})
		}
	}
	if len(places) > 0 {
		f.add(finding.Of(finding.Sliver, places...).With(stack.SliverVolume, stack.SliverWidth))
	}
}

// hollow looks at layers that have no room for the wall.
func (f *warner) hollow() {
	if f.For.Wall == 0 || !f.CoreKnown {
		return
	}
	var solid []int
	var shut []finding.Place
	for i := range f.Layers {
		if l := &f.Layers[i]; !l.Capped && l.Core <= 0 && l.Shut <= 0 && l.Wood > 0 {
			solid = append(solid, l.Number)
		} else if l.Shut > mostlyShut*l.Core {
			shut = append(shut, finding.Place{Layer: l.Number, Size: l.Shut})
		}
	}
	if len(solid) > 0 {
		f.add(finding.InLayers(finding.StaysSolid, solid...).With(f.For.Wall))
	}
	if len(shut) > 0 {
		f.add(finding.Of(finding.ShutHollow, shut...))
	}
}

// rims looks for joints with less wood round the hollow than is wanted.
func (f *warner) rims() {
	var narrow []finding.Place
	for i := range f.Layers {
		if l := &f.Layers[i]; l.Rim > 0 && l.Rim < f.For.RimWanted {
			at := geom.Vec{X: l.RimAt.X, Y: l.RimAt.Y, Z: l.RimZ}
			narrow = append(narrow, finding.Place{Layer: l.Number, At: at, Placed: true, Where: finding.Whereabouts(at, f.Size), Size: l.Rim, Reach: l.Rim})
		}
	}
	if len(narrow) > 0 {
		f.add(finding.Of(finding.ThinRing, narrow...).With(f.For.RimWanted))
	}
}

// scan tells where the piece is not where its scan was.
func (f *warner) scan() {
	for _, p := range f.moved {
		for i := range f.Layers {
			if l := &f.Layers[i]; p.At.Z < l.Top || i == len(f.Layers)-1 {
				p.Layer, p.Where = l.Number, finding.Whereabouts(p.At, f.Size)
				f.add(finding.Of(finding.Moved, p))
				break
			}
		}
	}
}

// moved are the places where mending moved the surface by more than is to be passed over.
func (st *Standing) moved() (out []finding.Place) {
	did := st.Piece.Mended
	for _, a := range did.Did {
		if mm := a.Moved * st.Stand.Scale / did.MmPerUnit; mm > mend.Noticed {
			out = append(out, finding.Place{At: st.Placed.Placement.Apply(a.At), Placed: true, Size: mm, Reach: mm})
		}
	}
	return out
}

// misfit says that the largest part has no room on a panel, as far as is known before parts are laid or split.
func (f *Figures) misfit() finding.Finding {
	t := &f.Totals
	at := finding.Place{Layer: t.TooLargeLayer, Size: t.TooLarge.X, More: [2]float64{t.TooLarge.Y}}
	return finding.Of(finding.TooLargeGuess, at).With(f.For.Edge(f.chosen.setup.Margin()), f.For.PanelX, f.For.PanelY)
}

// kept names the joints that go through what shall stay whole.
func (f *warner) kept() []finding.Finding {
	var out []finding.Finding
	for _, k := range f.Kept {
		if len(k.Crossings) == 0 {
			continue
		}
		first, last := k.Crossings[0], k.Crossings[len(k.Crossings)-1]
		at := finding.Place{Layer: first.Layer, To: last.Layer, At: first.At, Placed: true, Where: finding.Whereabouts(first.At, f.Size),
			Size: float64(len(k.Crossings)), Reach: (k.High - k.Low) / 2, More: [2]float64{k.Low, k.High}}
		if b := f.BetterJoint; b.Layers == 0 && k.High-k.Low > f.Thickness {
			out = append(out, finding.Of(finding.TooHigh, at).With(f.Thickness))
		} else if b.Layers > 0 {
			out = append(out, finding.Of(finding.Crossed, at).With(b.At, float64(b.Crossings), float64(f.CrossingCount())))
		} else {
			out = append(out, finding.Of(finding.Crossed, at))
		}
	}
	return finding.Gather(out)
}

// grain looks at joints where the grain doesn't cross: those of the stack as it would be with all layers alike, and
// those that a layer's own board or turn has made so. That neighbours cross, so that each holds the other where it swells and
// shrinks most, is common practice, no source.
func (f *warner) grain(alike Blanks) {
	var own []int
	for i := 1; i < len(f.Layers); i++ {
		l := &f.Layers[i]
		below, above := alike.Of(l.Number-1), alike.Of(l.Number)
		if l.Grain == stack.Doubles && stack.JointGrain(below.Veneers, above.Veneers, below.Turned, above.Turned) != stack.Doubles {
			own = append(own, l.Number)
		}
	}
	if len(own) > 0 {
		f.add(finding.InLayers(finding.OwnDoubled, own...))
	}
	rest := f.Totals.DoubledJoints - len(own)
	switch {
	case rest > 0 && f.For.Alternate && rest == len(f.Layers)-1:
		f.add(finding.Of(finding.AllDoubled))
	case rest > 0 && f.For.Alternate:
		f.add(finding.Of(finding.Doubled).With(float64(rest), 1))
	case rest > 0:
		f.add(finding.Of(finding.Doubled).With(float64(rest)))
	}
}

// boards looks at what planing leaves of boards that only single layers are of.
func (f *warner) boards() {
	seen := map[string]bool{f.For.Board: true}
	for i := range f.Layers {
		l := &f.Layers[i]
		if seen[l.Board.Key] || len(l.Veneers) < 2 {
			continue
		}
		seen[l.Board.Key] = true
		if v := l.Veneers[0].Thickness; v < thinVeneer {
			f.add(finding.InLayers(finding.PlanedThin, l.Number).With(f.Thickness, v, f.Thickness-2*v).Named(l.Board.Name))
		}
	}
}
