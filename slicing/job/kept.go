package job

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
	"grainstack/slicing/stock"
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
func (f *Figures) findKept(ctx context.Context, st *Standing, c *stock.Catalogue) error {
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
	if best, now := BestFirstJoint(st, f.For, f.Kept, c); best.Crossings < now.Crossings {
		f.BetterJoint = best
	}
	return nil
}

// through is the place with the joints of a stack that go through it.
func (k Kept) through(layers []Layer, place geom.Placement) Kept {
	k.Crossings = nil
	for _, l := range layers[1:] {
		if k.crossed(l.Bottom) {
			k.Crossings = append(k.Crossings, Crossing{l.Number, nearest(k.region, place, l.Bottom)})
		}
	}
	return k
}

// KeptFrom are instant figures with what earlier figures of the same marks and stand know of the places that shall stay whole, so
// that joints can be seen to leave them while a rule is dragged. Cautions and the better joint come with the settled figures.
// at is where the piece stands; it takes look-ups only.
func (f *Figures) KeptFrom(last *Figures, at *Standing) *Figures {
	if last == nil || f.Settled || f.Withheld != "" || len(last.Kept) == 0 || last.For.Chalk != f.For.Chalk || last.For.Stand() != f.For.Stand() {
		return f
	}
	g := *f
	g.Kept = nil
	for _, k := range last.Kept {
		g.Kept = append(g.Kept, k.through(f.Layers, at.Placed.Placement))
	}
	return &g
}

// crossed reports whether a joint at a height goes through the place; one at its very edge doesn't.
func (k Kept) crossed(z float64) bool { return k.Low < z && z < k.High }

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

// mostKept is how many places are told of one by one.
const mostKept = 5

// cautionKept names the joints that go through what shall stay whole, and the way out.
func (f *Figures) cautionKept() []Caution {
	var out []Caution
	more := 0
	for _, k := range f.Kept {
		if len(k.Crossings) == 0 {
			continue
		}
		if len(out) == mostKept {
			more++
			continue
		}
		first := k.Crossings[0]
		out = append(out, Caution{Layer: first.Layer, At: first.At, Placed: true, Text: f.crossingWords(k) + f.wayOutOfKept(k)})
	}
	if more > 0 {
		out = append(out, Caution{Text: fmt.Sprintf("Joints go through %d more places that shall stay whole.", more)})
	}
	return out
}

// crossingWords say which joints go through a place.
func (f *Figures) crossingWords(k Kept) string {
	place := fmt.Sprintf("what shall stay whole from %.1f to %.1f mm", k.Low, k.High)
	first := k.Crossings[0].Layer
	if n := len(k.Crossings); n > 1 {
		return fmt.Sprintf("%d joints, between layers %d and %d, go through %s: ", n, first-1, k.Crossings[n-1].Layer, place)
	}
	return fmt.Sprintf("The joint between layers %d and %d, at %.1f mm, goes through %s: ", first-1, first, f.Layers[first-1].Bottom, place)
}

// wayOutOfKept says what to do about a place.
func (f *Figures) wayOutOfKept(k Kept) string {
	switch b := f.BetterJoint; {
	case b.Layers > 0 && b.Crossings == 0:
		return fmt.Sprintf("a first joint at %.4g mm clears it.", b.At)
	case b.Layers > 0:
		return fmt.Sprintf("a first joint at %.4g mm leaves %s instead of %d.", b.At, crossingCount(b.Crossings), f.crossings())
	case k.High-k.Low > f.Thickness:
		return fmt.Sprintf("no first joint clears it, as it is %.1f mm high and a layer %.4g mm. Take a thicker board, or turn the piece so that it lies lower.", k.High-k.Low, f.Thickness)
	}
	return "no first joint does better for all such places. Mark less, or take another stand or thickness."
}

// crossings is how often joints go through what shall stay whole.
func (f *Figures) crossings() int {
	n := 0
	for _, k := range f.Kept {
		n += len(k.Crossings)
	}
	return n
}

func crossingCount(n int) string {
	if n == 1 {
		return "one joint through such places"
	}
	return fmt.Sprintf("%d joints through such places", n)
}
