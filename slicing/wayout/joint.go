package wayout

import (
	"cmp"
	"context"
	"math"
	"slices"

	"grainstack/slicing/carve"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// A Parting is one layer made of two boards, with one more joint between them. Without a layer it is none.
type Parting struct {
	Layer        int
	At           float64  // of the joint, mm above the floor
	Lower, Upper float64  // thickness of the two boards, mm
	Place        geom.Vec // of the finding that the joint is for, on the stand
	Before, Left float64  // mm³ trapped there
	Joint        float64  // mm² more to glue
	GlueG        float64  // for it, wet
}

// ByHand reports whether a way out can't be taken by settings, as all layers of a stack have one thickness: its settings are
// the present ones.
func (o *Way) ByHand() bool { return o.Parting.Layer > 0 }

const (
	// thinBoard is the thinnest board that a layer is parted into, mm: a thinner one bends under the planer and in the glue
	// (common practice, no source).
	thinBoard = 3.0
	// asGood is the share of the most that a joint frees which a joint for another finding of the layer has to free to do for
	// this one as well.
	asGood = 0.9
	// sameVolume is the share by which volumes have to differ to count as different: sums of float32 are no truer.
	sameVolume = 1e-6
)

// joints look for each finding of trapped wood where in its layer one more joint frees most of it; a joint that frees as much of
// another finding of the layer is named once. What shall stay whole is not gone through.
func (w *wayfinder) joints(ctx context.Context) error {
	for i := range w.now.Layers {
		l := &w.now.Layers[i]
		found := slices.DeleteFunc(slices.Clone(w.r.Findings), func(f carve.Finding) bool {
			return f.Kind != finding.Undercut || f.Layer != l.Number
		})
		if len(found) == 0 {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		slices.SortStableFunc(found, func(a, b carve.Finding) int { return cmp.Compare(b.Size, a.Size) })
		k := w.joiner(l)
		if len(k.at) == 0 || len(k.places) == 0 {
			continue
		}
		for _, f := range found {
			if place, joint, ok := k.best(f); ok {
				w.part(i, k, place, joint, f)
			}
		}
	}
	return nil
}

// A joiner is a search for joints in one layer.
type joiner struct {
	at     []float64         // heights that are tried, mm
	places []*carve.GapPlace // that the layer traps
	freed  [][]float64       // of each place by each joint, mm³
	all    []float64         // by each joint, of all places
	shut   []bool            // joints that go through what shall stay whole
	taken  []int             // joints that were named
}

// joiner is the search in one layer: at heights that give boards of tenths of a millimetre.
func (w *wayfinder) joiner(l *job.Layer) *joiner {
	first := math.Ceil((l.Bottom+thinBoard-l.PanelBottom)/job.RuleStep - sameVolume)
	last := math.Floor((l.Top-thinBoard-l.PanelBottom)/job.RuleStep + sameVolume)
	k := &joiner{places: w.still.Within(l.Bottom, l.Top)}
	for n := first; n <= last; n++ {
		z := l.PanelBottom + n*job.RuleStep
		k.at = append(k.at, z)
		k.shut = append(k.shut, slices.ContainsFunc(w.figures.Kept, func(one job.Kept) bool { return one.Crossed(z) }))
	}
	if len(k.at) == 0 {
		return k
	}
	k.all = make([]float64, len(k.at))
	for _, p := range k.places {
		freed := p.Freed(k.at[0], job.RuleStep, len(k.at))
		k.freed = append(k.freed, freed)
		for n, v := range freed {
			k.all[n] += v
		}
	}
	return k
}

// nearest is the number of the place that a finding is of.
func (k *joiner) nearest(f carve.Finding) int {
	best, least := 0, math.Inf(1)
	for i, p := range k.places {
		if d := p.Center().Sub(f.At).Len(); d < least {
			best, least = i, d
		}
	}
	return best
}

// best is the joint that frees most of a finding's place, of those that free as much the one that frees most in the layer, of
// those the middle of the longest stretch; ok is false where it isn't worth it or where a joint that was named does as well.
func (k *joiner) best(f carve.Finding) (place, joint int, ok bool) {
	place = k.nearest(f)
	here := k.freed[place]
	most, inAll := 0.0, 0.0
	for j, v := range here {
		if !k.shut[j] {
			most = max(most, v)
		}
	}
	if most < worthIt*k.places[place].Volume() || slices.ContainsFunc(k.taken, func(j int) bool { return here[j] >= asGood*most }) {
		return place, 0, false
	}
	good := func(j int) bool { return !k.shut[j] && here[j] >= (1-sameVolume)*most }
	for j := range here {
		if good(j) {
			inAll = max(inAll, k.all[j])
		}
	}
	longest, length := 0, 0
	for j := range here {
		if !good(j) || k.all[j] < (1-sameVolume)*inAll {
			length = 0
			continue
		}
		if length++; length > longest {
			longest, joint = length, j-length/2
		}
	}
	k.taken = append(k.taken, joint)
	return place, joint, true
}

// part keeps the way out that parts a layer for a finding.
func (w *wayfinder) part(i int, k *joiner, place, joint int, f carve.Finding) {
	l, at, before := &w.now.Layers[i], k.at[joint], k.places[place].Volume()
	o := Way{Kind: finding.Undercut, Settings: w.s, TrappedBefore: w.before, Trapped: max(w.before-k.all[joint], 0)}
	p := Parting{Layer: l.Number, At: at, Lower: at - l.PanelBottom, Upper: l.PanelBottom + w.now.Thickness - at,
		Place: f.At, Before: before, Left: max(before-k.freed[place][joint], 0)}
	o.Text = unit.Say("Make layer %d of two boards, %s with %s on it and one more joint %s up: %s stay %s instead of %s; in all %s stays out of reach",
		l.Number, unit.Mm(p.Lower), unit.Mm(p.Upper), unit.Mm(at), unit.Mm3(p.Left), spot{f.At, w.figures.Size}, unit.Mm3(before),
		w.lessTrapped(o.Trapped))
	var free []undercut
	for _, u := range w.named {
		if w.gone(w.still.Near(u.on(w.st.Placed), about), w.now.Thickness, w.s.FirstJointIn(w.now.Thickness), at) {
			free = append(free, u)
		}
	}
	if o.Frees = len(free); o.Frees > 0 {
		o.FreedAt, o.Freed, o.Gone = free[0].worst.At, places(free), w.goneWords(free)
	}
	g, area := w.now.Parted(w.st, i, at)
	glue, _ := w.s.GlueIn(w.c)
	p.Joint, p.GlueG = area, glue.Wet(area)
	o.Parting = p
	w.keep(o, g)
}
