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
func (f *Figures) cautions(c *stock.Catalogue) []finding.Finding {
	var out []finding.Finding
	add := func(one finding.Finding) { out = append(out, one) }
	if f.Size.Z < smallPiece {
		add(finding.Of(finding.TooLow).With(f.Size.Z))
	}
	if !f.Totals.FitsPanel {
		add(f.misfit(c))
	}
	f.cautionFaces(add, f.For.Veneers(c))
	f.cautionGrain(add, f.For.unmixed().Blanks(c))
	f.cautionBoards(add)
	if r := f.Remainder; !r.Whole && r.Last < thinLast && len(f.Layers) > 1 {
		add(finding.Of(finding.ThinLast, finding.Place{Layer: len(f.Layers), Size: r.Last}).With(r.Fewer))
	}
	f.cautionSlivers(add)
	f.cautionHollow(add)
	f.cautionRims(add)
	f.cautionMoved(add)
	return finding.Gather(out, f.cautionKept())
}

// cautionFaces looks at what the skim leaves.
func (f *Figures) cautionFaces(add func(finding.Finding), veneers []stock.Veneer) {
	for i, v := range []stock.Veneer{veneers[0], veneers[len(veneers)-1]} {
		if len(veneers) > 1 && v.Thickness < thinVeneer {
			add(finding.Of(finding.SkimSliver).With(v.Thickness, float64(i)))
			break
		}
	}
}

// cautionSlivers tells what is too small to be made.
func (f *Figures) cautionSlivers(add func(finding.Finding)) {
	var places []finding.Place
	for _, l := range f.Layers {
		for _, p := range l.Slivers {
			at := p.Box.Center()
			places = append(places, finding.Place{Layer: l.Number, At: at, Placed: true, Where: finding.Whereabouts(at, f.Size), Size: p.Volume, Reach: p.Box.Size().Len() / 2})
		}
	}
	if len(places) > 0 {
		add(finding.Of(finding.Sliver, places...).With(stack.SliverVolume, stack.SliverWidth))
	}
}

// cautionHollow looks at layers that have no room for the wall.
func (f *Figures) cautionHollow(add func(finding.Finding)) {
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
		add(finding.InLayers(finding.StaysSolid, solid...).With(f.For.Wall))
	}
	if len(shut) > 0 {
		add(finding.Of(finding.ShutHollow, shut...))
	}
}

// cautionRims looks for joints with less wood round the hollow than is wanted.
func (f *Figures) cautionRims(add func(finding.Finding)) {
	var narrow []finding.Place
	for i := range f.Layers {
		if l := &f.Layers[i]; l.Rim > 0 && l.Rim < f.For.RimWanted {
			at := geom.Vec{X: l.RimAt.X, Y: l.RimAt.Y, Z: l.RimZ}
			narrow = append(narrow, finding.Place{Layer: l.Number, At: at, Placed: true, Where: finding.Whereabouts(at, f.Size), Size: l.Rim, Reach: l.Rim})
		}
	}
	if len(narrow) > 0 {
		add(finding.Of(finding.ThinRing, narrow...).With(f.For.RimWanted))
	}
}

// cautionMoved tells where the piece is not where its scan was.
func (f *Figures) cautionMoved(add func(finding.Finding)) {
	for _, p := range f.moved {
		for i := range f.Layers {
			if l := &f.Layers[i]; p.At.Z < l.Top || i == len(f.Layers)-1 {
				p.Layer, p.Where = l.Number, finding.Whereabouts(p.At, f.Size)
				add(finding.Of(finding.Moved, p))
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
func (f *Figures) misfit(c *stock.Catalogue) finding.Finding {
	t := &f.Totals
	at := finding.Place{Layer: t.TooLargeLayer, Size: t.TooLarge.X, More: [2]float64{t.TooLarge.Y}}
	return finding.Of(finding.TooLargeGuess, at).With(f.For.Edge(f.margin(c)), f.For.PanelX, f.For.PanelY)
}
