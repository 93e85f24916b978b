package wayout

import (
	"context"
	"math"
	"slices"

	"grainstack/slicing/carve"
	"grainstack/slicing/finding"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// A leaving is what a cutter leaves where it doesn't fit.
type leaving struct{ most, volume float64 } // mm, mm³

// fit looks for the largest smaller ball nose that fits, or else the one that leaves least. A ball that is too short for the
// stack is none.
func (w *wayfinder) fit(ctx context.Context) error {
	if !w.has(finding.NoFit) {
		return nil
	}
	layers, err := carve.Reach(ctx, w.st.Placed.Mesh, w.now.Slabs(), carve.Options{
		Step: carve.DragStep, Thickness: w.now.Thickness, Hollow: w.now.Hollow(w.st)})
	if err != nil {
		return err
	}
	now := w.s.Fine.In(w.c)
	before, err := left(ctx, layers, now)
	if err != nil {
		return err
	}
	var best stock.Cutter
	after := leaving{before.most, (1 - worthIt) * before.volume}
	for _, k := range w.smaller(now) {
		l, err := left(ctx, layers, k)
		if err != nil {
			return err
		}
		if l.volume < after.volume {
			best, after = k, l
		}
		if l.most <= w.s.LimitsInUse().Residue {
			break
		}
	}
	if best.Key == "" {
		return nil
	}
	s := w.s
	s.Fine = job.CutterUse{Key: best.Key}
	return w.priceHere(ctx, finding.NoFit, s, unit.Say("Finish with the %s: where it doesn't fit %s stay instead of %s, up to %s instead of %s",
		phrase.Inside(best.Name), unit.Mm3(after.volume), unit.Mm3(before.volume), unit.Mm(after.most), unit.Mm(before.most)))
}

// smaller are the catalogue's ball noses and tapered balls with a smaller ball than a cutter's that reach as deep as has to
// be carved, the largest first.
func (w *wayfinder) smaller(now stock.Cutter) []stock.Cutter {
	deep := need(w.r, w.now)
	var out []stock.Cutter
	for _, k := range w.c.Cutters {
		if (k.Shape == stock.Ball || k.Shape == stock.Taper) && ball(k) < ball(now) && k.Reach >= deep && k.CutLength >= deep {
			out = append(out, k)
		}
	}
	slices.SortStableFunc(out, func(a, b stock.Cutter) int {
		switch {
		case ball(a) > ball(b):
			return -1
		case ball(a) < ball(b):
			return 1
		}
		return 0
	})
	return out
}

// ball is the diameter of a cutter's ball, or of the cutter where it has none.
func ball(k stock.Cutter) float64 {
	if k.Shape == stock.Taper {
		return 2 * k.CornerRadius
	}
	return k.Diameter
}

// left is what a cutter leaves on both sides of all layers.
func left(ctx context.Context, layers []carve.LayerColumns, k stock.Cutter) (l leaving, err error) {
	cuts, err := carve.Cuts(ctx, layers, carve.Work{Cutter: k}, nil)
	for _, c := range cuts {
		for _, side := range c.Sides {
			l.most = max(l.most, side.Residue.Max)
			l.volume += side.Residue.Volume
		}
	}
	return l, err
}

// longer looks for cutters of the same shape that are long enough, nearest in diameter to those that are not.
func (w *wayfinder) longer(ctx context.Context) error {
	if !w.has(finding.BeyondEdge, finding.BeyondReach, finding.ShankRubs) {
		return nil
	}
	deep := max(need(w.r, w.now), w.now.Thickness+w.s.Skim)
	s := w.s
	text := ""
	for _, use := range []*job.CutterUse{&s.Rough, &s.Fine} {
		now := use.In(w.c)
		if now.CutLength >= deep && now.Reach >= deep {
			continue
		}
		var best stock.Cutter
		for _, k := range w.c.Cutters {
			if k.Shape == now.Shape && k.CutLength >= deep && k.Reach >= deep &&
				(best.Key == "" || math.Abs(k.Diameter-now.Diameter) < math.Abs(best.Diameter-now.Diameter)) {
				best = k
			}
		}
		if best.Key == "" {
			return nil
		}
		*use = job.CutterUse{Key: best.Key}
		if text != "" {
			text += " and the "
		}
		text += best.Name
	}
	if text == "" {
		return nil
	}
	return w.priceHere(ctx, finding.BeyondEdge, s, unit.Say("Take the %s: long enough for %s", text, unit.Mm(deep)))
}

const (
	handleTries = 6   // heights of the first joint at which thin, small and loose places are counted
	handleStep  = 1.5 // mm between the columns that they are counted on
)

// hard are the kinds of wood that is hard to handle.
var hard = []finding.Kind{finding.ThinWood, finding.SmallPart, finding.LoosePart}

// handle looks for the first joint that leaves fewest thin, small and loose places.
func (w *wayfinder) handle(ctx context.Context) error {
	if !w.has(hard...) {
		return nil
	}
	before, err := w.hardPlaces(ctx, w.s)
	if err != nil || before == 0 {
		return err
	}
	least, at := before, -1
	var list []job.Settings
	for k := 1; k < handleTries; k++ {
		list = append(list, w.changed(change{joint: math.Round(float64(k)*w.now.Thickness/handleTries*10) / 10}))
	}
	for i, s := range list {
		n, err := w.hardPlaces(ctx, s)
		if err != nil {
			return err
		}
		if n < least {
			least, at = n, i
		}
	}
	if at < 0 || float64(least) > (1-worthIt)*float64(before) {
		return nil
	}
	s := list[at]
	after := w.trapped(w.still, s)
	return w.price(ctx, w.st, Way{Kind: finding.ThinWood, Settings: s, TrappedBefore: w.before, Trapped: after,
		Text: unit.Say("Put the first joint at %s: %d thin, small or loose places instead of %d", unit.Mm(s.FirstJoint), least, before)})
}

// hardPlaces counts the thin, small and loose places.
func (w *wayfinder) hardPlaces(ctx context.Context, s job.Settings) (int, error) {
	f, err := job.Instant(ctx, w.st, s, w.c)
	if err != nil || !f.Withheld.None() {
		return math.MaxInt, err
	}
	slabs := f.Slabs()
	layers, err := carve.Reach(ctx, w.st.Placed.Mesh, slabs, carve.Options{Step: handleStep, Thickness: f.Thickness, Hollow: f.Hollow(w.st)})
	if err != nil {
		return 0, err
	}
	division, err := stack.Divide(ctx, w.st.Slicer, slabs)
	if err != nil {
		return 0, err
	}
	task := carve.Task{Layers: layers, Parts: division.Parts, Limits: s.LimitsInUse()}
	found, err := task.Check(ctx)
	return countOf(found, hard), err
}

// rims looks for the wall that keeps the rings of wood at the joints as wide as is wanted.
func (w *wayfinder) rims(ctx context.Context) error {
	s := w.s
	least, ok, err := job.LeastRim(ctx, w.st, s, w.c)
	if err != nil || !ok || least >= s.RimWanted {
		return err
	}
	before := least
	for range 5 {
		s.Wall = math.Ceil((s.Wall+s.RimWanted-least)*2) / 2
		if least, ok, err = job.LeastRim(ctx, w.st, s, w.c); err != nil {
			return err
		}
		if !ok || least >= s.RimWanted {
			break
		}
	}
	if ok && least < s.RimWanted {
		return nil
	}
	return w.priceHere(ctx, finding.ThinRing, s, unit.Say("Take a wall of %s: no ring of wood at a joint is narrower than %s, instead of %s", unit.Mm(s.Wall), unit.Mm(s.RimWanted), unit.Mm(before)))
}

// open looks for the thickest wall at which every layer that is to be hollow is.
func (w *wayfinder) open(ctx context.Context) error {
	if w.s.Wall == 0 || w.st.Table == nil || solidLayers(w.now) == 0 {
		return nil
	}
	low, high := 0.0, w.s.Wall
	for range 8 {
		s := w.s
		s.Wall = (low + high) / 2
		f, err := job.Instant(ctx, w.st, s, w.c)
		if err != nil {
			return err
		}
		if solidLayers(f) == 0 {
			low = s.Wall
		} else {
			high = s.Wall
		}
	}
	s := w.s
	if s.Wall = math.Floor(low*2) / 2; s.Wall < job.Thinnest {
		return nil
	}
	return w.priceHere(ctx, finding.StaysSolid, s, unit.Say("Take a wall of %s: every layer that is to be hollow is", unit.Mm(s.Wall)))
}

// solidLayers counts the layers that are meant to be hollow and are not.
func solidLayers(f *job.Figures) int {
	n := 0
	for _, l := range f.Layers {
		if !l.Capped && l.Core <= 0 {
			n++
		}
	}
	return n
}

// need is how deep a cutter has to go from the raw face, mm: the deepest of all sides.
func need(r *job.Reached, f *job.Figures) float64 {
	deep := 0.0
	for _, s := range r.Sides {
		if i := s.Layer - 1; i < len(f.Layers) {
			deep = max(deep, s.Depth+f.Layers[i].Skim)
		}
	}
	return deep
}
