package workshop

import (
	"context"
	"math"
	"slices"

	"grainstack/slicing/glue"
	"grainstack/slicing/job"
	"grainstack/slicing/par"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
)

// pinDepth is how deep pins go into either layer of a joint, and how deep their holes are, mm; 0 where they have no room.
func (w *making) pinDepth(below, above *job.Layer, foot float64) (pin, hole float64) {
	room := math.Min(below.Top-below.Bottom, above.Top-above.Bottom) - leastSkin - foot
	d := math.Min(w.For.Shop.PinDepth, room)
	if d < w.For.Shop.PinDiameter/2 {
		return 0, 0
	}
	return d, d + foot
}

// pinFoot is how high the rounded foot is that the finishing cutter leaves in a pin's hole, mm: the pin's end stands above it.
// A cutter that doesn't go into the hole leaves it to a drill.
func pinFoot(s job.Settings, c *stock.Catalogue) float64 {
	fine, _ := c.Cutter(s.Fine.Key)
	if fine.Diameter > s.Shop.PinDiameter {
		return 0
	}
	return fine.TipRadius()
}

// join works out the joints, their pins and the order of gluing.
func (w *making) join(ctx context.Context) error {
	f := w.Figures
	n := len(f.Layers) - 1
	if n > 0 {
		if err := w.sections(ctx); err != nil {
			return err
		}
	}
	contacts := make([]glue.Contact, max(n, 0))
	for i := range contacts {
		l := &f.Layers[i+1]
		below := &f.Layers[i]
		contacts[i] = glue.Contact{Below: l.Number - 1, Above: l.Number, Area: l.Joint, Density: math.Min(below.Board.Density, l.Board.Density)}
	}
	err := par.Spans(ctx, n, 1, func(i, _ int) {
		contacts[i].Pairs, contacts[i].Rim = w.pairs(i, contacts[i].Area), w.Joints[i].rim()
	})
	if err != nil {
		return err
	}
	g, _ := w.For.GlueIn(w.c)
	h := w.For.Shop
	clamp := glue.Clamp{ForceN: h.ClampForceN, Opening: h.ClampOpens, Count: h.Clamps}
	for i, j := range glue.Join(contacts, g, clamp) {
		w.Joints[i].Joint = j
	}
	if err := w.pin(ctx); err != nil {
		return err
	}
	w.order(g, clamp)
	return nil
}

// sections cuts at every joint.
func (w *making) sections(ctx context.Context) error {
	f := w.Figures
	var planes []float64
	for _, l := range f.Layers[1:] {
		planes = append(planes, l.Bottom)
	}
	above, err := w.st.Slicer.SectionsAbove(ctx, planes)
	if err != nil {
		return err
	}
	below, err := w.st.Slicer.SectionsBelow(ctx, planes)
	if err != nil {
		return err
	}
	var faces []stack.Plane
	for i, z := range planes {
		faces = append(faces, stack.Plane{Slab: i, Z: z}, stack.Plane{Slab: i + 1, Z: z})
	}
	_, division := f.Made()
	bodies, err := division.Sections(ctx, faces)
	if err != nil {
		return err
	}
	w.Joints = make([]Joint, len(planes))
	foot := pinFoot(w.For, w.c)
	return par.Spans(ctx, len(planes), 1, func(i, _ int) {
		lower, upper := &f.Layers[i], &f.Layers[i+1]
		depth, hole := w.pinDepth(lower, upper, foot)
		w.Joints[i] = Joint{
			Z: planes[i], Lower: below[i].Region, Upper: above[i].Region, under: w.faces(bodies[2*i], lower.Number), over: w.faces(bodies[2*i+1], upper.Number), Depth: depth, Hole: hole,
			LowerCore: f.CoreAt(w.st, lower, planes[i]), UpperCore: f.CoreAt(w.st, upper, planes[i]),
			lowerPieces: w.pieces(bodies[2*i], lower.Number), upperPieces: w.pieces(bodies[2*i+1], upper.Number),
		}
	})
}

// pairs are the parts that meet at a joint, with their shares of its area.
func (w *making) pairs(i int, area float64) []glue.Pair {
	j := &w.Joints[i]
	lower, upper := j.under, j.over
	if len(lower) == 1 && len(upper) == 1 {
		return []glue.Pair{{Below: 1, Above: 1, Area: area}}
	}
	box := j.Lower.Box().Union(j.Upper.Box())
	if box.Empty() {
		return nil
	}
	c, below, above := newCover(box), newShares(box), newShares(box)
	c.middles(append(slices.Clone(j.LowerCore), j.UpperCore...), func(i int) { c.bits[i] = 1 })
	below.parts(lower)
	above.parts(upper)
	counts := make([]float64, len(lower)*len(upper))
	sum := 0.0
	for k, core := range c.bits {
		if core != 0 {
			continue
		}
		below.each(k, func(a int) {
			above.each(k, func(b int) {
				counts[a*len(upper)+b]++
				sum++
			})
		})
	}
	var out []glue.Pair
	for k, n := range counts {
		if n > 0 {
			out = append(out, glue.Pair{Below: k/len(upper) + 1, Above: k%len(upper) + 1, Area: n / sum * area})
		}
	}
	if out == nil {
		out = []glue.Pair{{Below: 1, Above: 1}}
	}
	return out
}
