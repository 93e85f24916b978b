package job

import (
	"context"
	"slices"

	"grainstack/slicing/carve"
	"grainstack/slicing/finding"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
)

// LimitsInUse are the maker's limits, those left at 0 at their usual figures.
func (s Settings) LimitsInUse() carve.Limits {
	l, usual := s.Limits, carve.UsualLimits()
	for _, f := range []struct {
		own   *float64
		usual float64
	}{
		{&l.Trapped, usual.Trapped}, {&l.Residue, usual.Residue}, {&l.Thin, usual.Thin}, {&l.PartSide, usual.PartSide},
		{&l.PartVolume, usual.PartVolume}, {&l.PlanArea, usual.PlanArea}, {&l.Neck, usual.Neck}, {&l.Nut, usual.Nut},
	} {
		if *f.own == 0 {
			*f.own = f.usual
		}
	}
	return l
}

// check looks for what is the matter: what the columns and the finish cutter show, the rough cutter's shank, and how deep
// each cutter really has to go. Findings come layer by layer from the floor up.
func (w *reaching) check(ctx context.Context) error {
	w.tell(0.6)
	parts := make([][]stack.Part, len(w.f.Layers))
	for i, l := range w.f.Layers {
		parts[i] = l.Parts
	}
	limits := w.f.For.LimitsInUse()
	task := carve.Task{Layers: w.layers, Work: w.fineWork(), Cuts: w.fine, Parts: parts, Limits: limits}
	found, err := task.Check(ctx)
	if err != nil {
		return err
	}
	if k := w.setup.Rough; k.Key != w.setup.Finish.Key && mayRub(k, limits.Nut, w.f.Thickness) {
		again := carve.Task{Layers: w.layers, Work: w.roughWork(), Cuts: w.rough, Limits: limits}
		rough, err := again.Check(ctx)
		if err != nil {
			return err
		}
		found = append(found, slices.DeleteFunc(rough, func(f carve.Finding) bool { return f.Kind != finding.ShankRubs })...)
	}
	found = slices.DeleteFunc(found, func(f carve.Finding) bool { return f.Kind == finding.BeyondEdge || f.Kind == finding.BeyondReach })
	w.found = append(found, w.depths()...)
	slices.SortStableFunc(w.found, func(a, b carve.Finding) int { return a.Layer - b.Layer })
	return nil
}

// mayRub reports whether something above the edge is wider than the cutter and low enough to meet wood.
func mayRub(k stock.Cutter, nut, thickness float64) bool {
	return k.Shank > k.Diameter && k.CutLength < thickness || nut > k.Diameter && k.Reach < thickness
}

// depths sets how deep both cutters go on each side against their edges and their reach. A side is carved only to where the
// other meets it, and the skim stands round the part: so deep is the way from the raw face.
func (w *reaching) depths() []carve.Finding {
	var out []carve.Finding
	for k, g := range w.grounds {
		if g == nil {
			continue
		}
		rough := g.Depth()
		if levels := g.Levels(w.setup); len(levels) > 0 {
			rough = g.Thickness - levels[len(levels)-1]
		}
		side := carve.Side(k % 2)
		l := &w.f.Layers[k/2]
		for _, use := range []struct {
			cutter *stock.Cutter
			deep   float64
			cut    *carve.Cut
		}{
			{&w.setup.Rough, rough, &w.rough[k/2].Sides[side]},
			{&w.setup.Finish, g.Depth(), &w.fine[k/2].Sides[side]},
		} {
			f := carve.Finding{Layer: l.Number, Side: side, At: use.cut.DepthAt}
			f.At.Z = min(max(f.At.Z, l.Bottom), l.Top)
			if deepFinding(&f, use.cutter, use.deep+g.Skim) {
				out = append(out, f)
			}
		}
	}
	return out
}

// deepFinding completes a finding where a cutter has to go too deep, worst kind first.
func deepFinding(f *carve.Finding, c *stock.Cutter, deep float64) bool {
	switch {
	case c.Reach > 0 && deep > c.Reach:
		f.Kind, f.Size, f.More, f.Cutter = finding.BeyondReach, deep-c.Reach, [2]float64{deep, c.Reach}, c.Name
	case c.CutLength > 0 && deep > c.CutLength:
		f.Kind, f.Size, f.More, f.Cutter = finding.BeyondEdge, deep-c.CutLength, [2]float64{deep, c.CutLength}, c.Name
	default:
		return false
	}
	return true
}
