package job

import (
	"grainstack/slicing/carve"
	"grainstack/slicing/hours"
)

// Machining is what is done with the panel of one layer, step by step, as if it had a panel of its own: layers that share one
// are clamped, turned and changed for together. f are the figures of r's settings; there is no plan for a layer that they
// don't have or that has no wood.
func (r *Reached) Machining(f *Figures, layer int) []hours.Step {
	if f == nil || layer < 1 || layer > len(f.Layers) || len(r.Sides) != 2*len(f.Layers) {
		return nil
	}
	l := &f.Layers[layer-1]
	side := func(of carve.Side) hours.SideWork {
		one := &r.Sides[2*(layer-1)+int(of)]
		return hours.SideWork{Depth: one.Depth, Levels: one.Levels, Time: one.Time}
	}
	work := hours.PartWork{Layer: layer, Turned: l.Turned, Thickness: f.Thickness, Skim: l.Skim,
		Up: side(carve.Up), Down: side(carve.Down), Sawn: len(l.Pocket) > 0}
	if work.Up.Levels+work.Down.Levels == 0 {
		return nil
	}
	return hours.Plan([]hours.PartWork{work}, r.setup)
}
