package job

import (
	"slices"

	"grainstack/slicing/carve"
	"grainstack/slicing/finding"
	"grainstack/slicing/hours"
)

// Tied are the same figures with their minutes brought to what an earlier simulation of like settings has shown. Figures that
// are simulated already stay.
func (f *Figures) Tied(r hours.Ratio) *Figures {
	return f.timed(func(t hours.SideTime) hours.SideTime { return r.Of(t) })
}

// Learned are the same figures with the minutes that the maker's own machine has been seen to take.
func (f *Figures) Learned(k hours.Factor) *Figures {
	if !k.Known() || !f.Withheld.None() {
		return f
	}
	g := f.timed(k.Of)
	g.Factor = k
	return g
}

// timed are the figures with every side's minutes changed by one rule.
func (f *Figures) timed(change func(hours.SideTime) hours.SideTime) *Figures {
	if !f.Withheld.None() {
		return f
	}
	g := *f
	g.Layers = slices.Clone(f.Layers)
	g.Totals.RoughMin, g.Totals.FineMin = 0, 0
	for i := range g.Layers {
		m := &g.Layers[i].Minutes
		up := change(hours.SideTime{RoughMin: m.RoughTop, FinishMin: m.FineTop})
		down := change(hours.SideTime{RoughMin: m.RoughBottom, FinishMin: m.FineBottom})
		m.RoughTop, m.FineTop, m.RoughBottom, m.FineBottom = up.RoughMin, up.FinishMin, down.RoughMin, down.FinishMin
		g.Totals.RoughMin += m.Rough()
		g.Totals.FineMin += m.Fine()
	}
	return &g
}

// Onto are settled figures with what the cutters reach: simulated minutes for estimated ones, and the findings among what
// needs a look. The figures have to be for the settings that r is for.
func (r *Reached) Onto(f *Figures) *Figures {
	if !f.Withheld.None() || !f.For.CarvesLike(r.For) || len(r.Sides) != 2*len(f.Layers) {
		return f
	}
	g := *f
	g.Simulated, g.EstimateOff = true, r.Off()
	g.Layers = slices.Clone(f.Layers)
	for i := range g.Layers {
		m := &g.Layers[i].Minutes
		up, down := r.Sides[2*i+int(carve.Up)].Time, r.Sides[2*i+int(carve.Down)].Time
		m.RoughTop, m.FineTop, m.RoughBottom, m.FineBottom = up.RoughMin, up.FinishMin, down.RoughMin, down.FinishMin
	}
	g.Totals.RoughMin, g.Totals.FineMin = r.RoughMin, r.FineMin
	g.Cautions = finding.Gather(f.Cautions, r.Cautions)
	return &g
}

// TiedTo are the figures with what r has shown of the same piece: simulated where r is of the very settings (Onto), tied where
// it is of the same stand, machine and cutters (Tied), else as they are. r may be nil.
func (f *Figures) TiedTo(r *Reached) *Figures {
	switch {
	case r == nil || !f.Withheld.None():
		return f
	case f.For.CarvesLike(r.For) && f.Settled:
		return r.Onto(f)
	case f.For.worksLike(r.For):
		return f.Tied(r.Tie)
	}
	return f
}

// CarvesLike reports whether the cutters do the very same for two settings: they differ at most in how panels are laid and glued,
// finished, looked at and marked. Tabs are in the cutters' way.
func (s Settings) CarvesLike(o Settings) bool {
	a, b := s.Shop.Tabs, o.Shop.Tabs
	if a.TabLeft = b.TabLeft; a != b {
		return false
	}
	s.Shop, s.Finish, s.Glue, s.Tones, s.Chalk = o.Shop, o.Finish, o.Glue, o.Tones, o.Chalk
	return s == o
}

// worksLike reports whether the router does the same kind of work for two settings.
func (s Settings) worksLike(o Settings) bool {
	return s.Stand() == o.Stand() && s.Machine == o.Machine && s.Rough == o.Rough && s.Fine == o.Fine &&
		s.AcrossGrain == o.AcrossGrain && s.SafeHeight == o.SafeHeight && s.Clearance == o.Clearance && s.Core == o.Core
}
