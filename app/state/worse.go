package state

import (
	"grainstack/slicing/finding"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/trial"
	"grainstack/slicing/wayout"
)

// Worse is what there is more of with other settings that needs a look; known says that it is known at all, followed that cutters
// and panels were followed for it, on the bench and there.
func (b *Bench) Worse(s job.Settings) (all []finding.Worsening, known, followed bool) {
	then, ok := b.Tried.Tickets[b.Tried.Key(s)]
	if !ok || !then.Withheld.None() {
		return nil, false, false
	}
	if v, now := b.Shop.Newest(); then.Deep && now && v.Withheld.None() && b.Reached() != nil {
		open, aside := b.Snags()
		for _, a := range aside {
			open = append(open[:len(open):len(open)], a.Finding)
		}
		return finding.Worse(open, then.Found), true, true
	}
	now, ok := b.Tried.BenchTicket()
	if !ok {
		return nil, false, false
	}
	return finding.Worse(now.Settled, then.Settled), true, false
}

// Followed is a way out with the hours and panels that it comes to against the present ones, now that cutters and panels were
// followed for both.
func (b *Bench) Followed(o wayout.Way) wayout.Way {
	then := b.Tried.Tickets[b.Tried.Key(o.Settings)]
	v, now := b.Shop.Newest()
	if r := b.Reached(); r != nil && then.Worked[trial.RouterTime].Known {
		o.RouterMin = then.Worked[trial.RouterTime].Value - r.RouterMin()
		if k := hours.Learn(b.Reach.Records, o.Settings.Machine); k.Known() {
			o.RouterMin *= k.Times
		}
	}
	if p := then.Worked[trial.PanelCount]; now && p.Known {
		o.Panels = int(p.Value) - v.Panels()
	}
	return o
}
