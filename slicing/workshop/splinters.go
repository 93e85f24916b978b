package workshop

import (
	"context"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

// findSplinters finds what comes off the parts.
func (w *making) findSplinters(ctx context.Context) error {
	return par.Spans(ctx, len(w.Parts), 1, func(i, _ int) { w.Parts[i].findSplinters() })
}

// Splinters is how many places there are at which wood comes off.
func (w *Workshop) Splinters() (n int) {
	for _, p := range w.Parts {
		n += len(p.Splinters)
	}
	return n
}

// saySplinters names the wood that comes off.
func (w *holder) saySplinters() {
	var places []finding.Place
	for _, p := range w.Parts {
		for _, s := range p.Splinters {
			at := finding.Place{Layer: p.Layer, Size: s.Volume, Reach: s.Box.Size().Len() / 2}
			if number, on, ok := w.Layout.Find(p.ID); ok {
				b := on.ApplyBox(s.Box)
				middle := b.Min.Add(b.Max).Scale(0.5)
				at.Panel, at.More = number, [2]float64{middle.X, middle.Y}
			}
			if l := p.Layer - 1; l >= 0 && l < len(w.Figures.Layers) {
				middle := s.Box.Min.Add(s.Box.Max).Scale(0.5)
				at.At, at.Placed = geom.Vec{X: middle.X, Y: middle.Y, Z: (w.Figures.Layers[l].Bottom + w.Figures.Layers[l].Top) / 2}, true
				at.Where = finding.Whereabouts(at.At, w.Figures.Size)
			}
			places = append(places, at)
		}
	}
	if len(places) > 0 {
		w.tell(finding.Of(finding.Splinter, places...).With(neckWidth))
	}
}
