package wayout

import (
	"cmp"
	"context"
	"slices"

	"grainstack/slicing/carve"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/par"
	"grainstack/slicing/phrase"
	"grainstack/slicing/stack"
	"grainstack/slicing/unit"
)

// An undercut is one that is named: trapped places that hang together.
type undercut struct {
	worst carve.Finding
	own   []geom.Vec // the places, in the piece's own frame
}

// about is how far round a trapped place air counts to it, mm: half a hand's breadth.
const about = 40

// mostNamed is how many undercuts ways out are looked for one by one.
const mostNamed = 5

// cleared is the share of the limit for a finding under which an undercut counts as gone: other columns than those that it was
// looked for on are to find nothing either.
const cleared = 0.7

// name gathers the undercuts that are named one by one.
func (w *wayfinder) name() {
	var air []carve.Finding
	for _, f := range w.r.Findings {
		if f.Kind == finding.Undercut {
			air = append(air, f)
		}
	}
	groups := carve.Together(air)
	for _, g := range groups[:min(len(groups), mostNamed)] {
		worst, _ := carve.Gathered(g)
		u := undercut{worst: worst}
		for _, f := range g {
			u.own = append(u.own, w.st.Placed.Placement.Back(f.At))
		}
		w.named = append(w.named, u)
	}
}

// gone reports whether layers of a thickness free an undercut, by the gaps near it; extra are joints within them.
func (w *wayfinder) gone(near *carve.GapPlace, thickness, joint float64, extra ...float64) bool {
	return near.Largest(thickness, joint, extra...) < cleared*w.s.LimitsInUse().Trapped
}

// on are an undercut's places where the piece is placed.
func (u undercut) on(placed *stack.Placed) []geom.Vec {
	at := make([]geom.Vec, len(u.own))
	for i, p := range u.own {
		at[i] = placed.Placement.Apply(p)
	}
	return at
}

// freed are the named undercuts that settings free, by the gaps of the piece itself where it stands for them.
func (w *wayfinder) freed(placed *stack.Placed, g *carve.Gaps, s job.Settings) []undercut {
	t := s.LayerThickness(w.c)
	var out []undercut
	for _, u := range w.named {
		if w.gone(g.Near(u.on(placed), about), t, s.FirstJointIn(t)) {
			out = append(out, u)
		}
	}
	return out
}

// goneWords name undercuts that are gone.
func (w *wayfinder) goneWords(all []undercut) unit.Said {
	places := make([]unit.Said, len(all))
	for i, u := range all {
		places[i] = unit.Say("%s", spot{u.worst.At, w.figures.Size})
	}
	return unit.Say("gone: the %s %s", phrase.Plural(len(all), "undercut", "undercuts"), row{places, "; ", " and "})
}

// each looks for what frees each named undercut at the least expense: first another first joint, then a tilt with it,
// then other layers, then all of them. Of what frees it, that which traps least in all is taken.
func (w *stackSearch) each(ctx context.Context) error {
	same, others := []float64{w.now.Thickness}, []float64{}
	for _, s := range w.thicknesses() {
		others = append(others, s.LayerThickness(w.c))
	}
	for _, u := range w.named {
		for _, tier := range []struct {
			tilts  []tiltTried
			layers []float64
		}{{w.grid[:1], same}, {w.grid[1:], same}, {w.grid[:1], others}, {w.grid[1:], every(others, 2)}} {
			found, err := w.free(ctx, u, tier.tilts, tier.layers)
			if err != nil {
				return err
			}
			if found {
				break
			}
		}
	}
	return ctx.Err()
}

// every is each nth of a list.
func every(list []float64, n int) []float64 {
	var out []float64
	for i := 0; i < len(list); i += n {
		out = append(out, list[i])
	}
	return out
}

// mostTries is how many of the likeliest ways out of one undercut are tried on the piece itself.
const mostTries = 3

// A freeing is a change that frees an undercut, by the thinned piece.
type freeing struct {
	change
	cost float64
}

// free looks among tilts and layers for what frees an undercut, and offers the best that holds on the piece itself; it
// reports whether there was one, now or among what was offered before.
func (w *stackSearch) free(ctx context.Context, u undercut, tilts []tiltTried, layers []float64) (bool, error) {
	lists := make([][]freeing, len(tilts))
	err := par.Spans(ctx, len(tilts), 1, func(i, _ int) { lists[i] = w.frees(u, tilts[i], layers) })
	if err != nil {
		return false, err
	}
	all := slices.Concat(lists...)
	slices.SortStableFunc(all, func(a, b freeing) int { return cmp.Compare(a.cost, b.cost) })
	for _, f := range all[:min(len(all), mostTries)] {
		s := w.changed(f.change)
		at, g, err := w.placed(ctx, s)
		if err != nil {
			return false, err
		}
		if !slices.ContainsFunc(w.freed(at, g, s), func(o undercut) bool { return o.worst == u.worst }) || w.trapped(g, s) > w.before {
			continue
		}
		return true, w.offer(ctx, s, f.words())
	}
	return false, nil
}

// lean is the share of what is trapped now that a degree of tilt counts as, where an undercut is to be freed: a piece is not
// laid on its side for it.
const lean = 0.015

// frees are the changes of one tilt that free an undercut and trap no more in all than now: for each layer the best.
func (w *stackSearch) frees(u undercut, t tiltTried, layers []float64) []freeing {
	near := t.gaps.Near(u.own, about)
	now := w.trapped(w.grid[0].gaps, w.s)
	var out []freeing
	for _, layer := range layers {
		joints, trapped := t.gaps.ByJoint(layer, triedEvery)
		order := make([]int, len(joints))
		for k := range order {
			order[k] = k
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(trapped[a], trapped[b]) })
		for _, k := range order {
			if trapped[k] > now {
				break
			}
			if !w.gone(near, layer, joints[k]) {
				continue
			}
			f := freeing{change{x: t.x, y: t.y, joint: joints[k]}, trapped[k] + now*lean*t.angle()}
			if layer != w.now.Thickness {
				f.layer = layer
			}
			out = append(out, f)
			break
		}
	}
	return out
}
