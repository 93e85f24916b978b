package job

import (
	"cmp"
	"context"
	"math"
	"slices"

	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
)

// A Kept is a place that shall stay whole, and the joints that go through it all the same.
type Kept struct {
	Low, High float64 // mm above the floor
	Area      float64 // mm²
	Crossings []Crossing

	region chalk.Region
}

// A Crossing is a joint that goes through what shall stay whole.
type Crossing struct {
	Layer int      // the one above the joint
	At    geom.Vec // mm on the stand: the place's point that is nearest to the joint
}

// findKept looks for what shall stay whole, for the joints that go through it, and for a first joint that does better.
func (f *Figures) findKept(ctx context.Context, st *Standing) error {
	regions, err := f.For.Chalk.KeptWhole(ctx, st.Piece.Mesh, st.Piece.Adjacency)
	if err != nil || len(regions) == 0 {
		return err
	}
	place := st.Placed.Placement
	for _, r := range regions {
		k := Kept{Area: r.Area * place.Scale * place.Scale, region: r}
		k.Low, k.High = r.Heights(place)
		f.Kept = append(f.Kept, k.through(f.Layers, place))
	}
	slices.SortStableFunc(f.Kept, func(a, b Kept) int { return cmp.Compare(a.Low, b.Low) })
	if best, now := BestFirstJoint(st, f.For, f.Kept, f.Thickness); best.Crossings < now.Crossings {
		f.BetterJoint = best
	}
	return nil
}

// through is the place with the joints of a stack that go through it.
func (k Kept) through(layers []Layer, place geom.Placement) Kept {
	k.Crossings = nil
	for _, l := range layers[1:] {
		if k.Crossed(l.Bottom) {
			k.Crossings = append(k.Crossings, Crossing{l.Number, nearest(k.region, place, l.Bottom)})
		}
	}
	return k
}

// KeptFrom are instant figures with what earlier figures of the same marks and stand know of the places that shall stay whole, so
// that joints can be seen to leave them while a rule is dragged. Cautions and the better joint come with the settled figures.
// at is where the piece stands; it takes look-ups only.
func (f *Figures) KeptFrom(last *Figures, at *Standing) *Figures {
	if last == nil || f.Settled || !f.Withheld.None() || len(last.Kept) == 0 || last.For.Chalk != f.For.Chalk || last.For.Stand() != f.For.Stand() {
		return f
	}
	g := *f
	g.Kept = nil
	for _, k := range last.Kept {
		g.Kept = append(g.Kept, k.through(f.Layers, at.Placed.Placement))
	}
	return &g
}

// Crossed reports whether a joint at a height goes through the place; one at its very edge doesn't.
func (k Kept) Crossed(z float64) bool { return k.Low < z && z < k.High }

// nearest is the point of a region that is nearest in height to a joint, on the stand.
func nearest(r chalk.Region, place geom.Placement, z float64) geom.Vec {
	var best geom.Vec
	least := math.Inf(1)
	for _, p := range r.Points {
		if q := place.Apply(p); math.Abs(q.Z-z) < least {
			best, least = q, math.Abs(q.Z-z)
		}
	}
	return best
}

// CrossingCount is how often joints go through what shall stay whole.
func (f *Figures) CrossingCount() int {
	n := 0
	for _, k := range f.Kept {
		n += len(k.Crossings)
	}
	return n
}
