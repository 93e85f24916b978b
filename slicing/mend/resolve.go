package mend

import (
	"context"
	"errors"
	"slices"

	"grainstack/slicing/arrange"
	"grainstack/slicing/boxtree"
	"grainstack/slicing/mesh"
)

const (
	// resolveRounds is how often what rounding left crossing is cut again before it is given up.
	resolveRounds = 3
	// dust is the share of the largest shell's volume under which a bit or a pocket that cutting left is no more than rounding.
	dust = 1e-6
)

// resolve cuts a closed surface where it runs through itself and keeps what bounds the inside; done is false, and all as it was,
// where that can't be had.
func (b *bench) resolve(ctx context.Context) (done bool, err error) {
	c := &bench{m: b.m, adj: b.adj, set: b.set, actions: b.actions, report: b.report}
	least, err := b.leastVolume(ctx)
	if err != nil {
		return false, err
	}
	var folded *cutting // the first that left no more than folds
	for w := (cutting{bench: c}); w.rounds < resolveRounds; {
		b.report("cutting it where it runs through itself", 0.12)
		err := w.round(ctx)
		if errors.Is(err, arrange.ErrOpen) || errors.Is(err, arrange.ErrMany) {
			return false, nil
		}
		if err != nil {
			return false, err
		}
		pairs, err := w.crossings(ctx)
		if err != nil {
			return false, err
		}
		if len(pairs) == 0 {
			return true, w.settle(ctx, b, least)
		}
		if folded == nil && allFlat(w.m, pairs) {
			now := w
			now.bench = &bench{m: w.m, adj: w.adj, set: b.set, actions: b.actions, report: b.report}
			folded = &now
		}
	}
	if folded == nil {
		return false, nil
	}
	return true, folded.settle(ctx, b, least)
}

// A cutting is a surface on its way to being cut where it runs through itself.
type cutting struct {
	*bench
	rounds, lines, touched int
	against                bit
}

// round cuts once.
func (c *cutting) round(ctx context.Context) error {
	r, err := arrange.Resolve(ctx, c.m)
	if err != nil {
		return err
	}
	c.rounds++
	c.lines, c.touched = c.lines+r.Lines, c.touched+r.Touched
	if r.Against > c.against.volume {
		c.against = bit{r.Against, r.At}
	}
	c.take(r.Mesh)
	return nil
}

// settle notes what was cut, sweeps up, and makes the bench what has become of it.
func (c *cutting) settle(ctx context.Context, b *bench, least float64) error {
	c.cut(c.lines, c.touched)
	if size := c.m.Box().Size(); c.against.volume > noVolume*size.X*size.Y*size.Z {
		c.leftOut(Against, []bit{c.against})
	}
	if err := c.sweep(ctx, least); err != nil {
		return err
	}
	*b = *c.bench
	return nil
}

// allFlat reports whether facets that cross do no more than lie on one another. Where sheets graze each other, points that were
// rounded leave folds that enclose nothing, and cutting these only leaves others.
func allFlat(m *mesh.Mesh, pairs []boxtree.Pair) bool {
	return !slices.ContainsFunc(pairs, func(p boxtree.Pair) bool { return !arrange.InOnePlane(m, p) })
}

// cut notes along how many lines the surface was cut, and how many facets that touched.
func (b *bench) cut(lines, touched int) {
	b.did(Cut, lines, 0)
	if a := &b.actions[len(b.actions)-1]; touched > 0 && a.Kind == Cut {
		a.Text += cutText(touched)
	}
}

// sweep leaves out the bits that came off and hold less than least, or are dust, and fills pockets that are dust.
func (b *bench) sweep(ctx context.Context, least float64) error {
	g, shells, err := b.shells(ctx)
	if err != nil || len(shells) < 2 {
		return err
	}
	small := make([]bool, len(shells))
	var bits, pockets []bit
	for i, s := range shells {
		one := bit{abs(s.Volume), s.Box.Center()}
		switch {
		case s.Inward && s.Share < dust:
			pockets = append(pockets, one)
		case !s.Inward && (s.Share < dust || s.Volume < least):
			bits = append(bits, one)
		default:
			continue
		}
		small[i] = true
	}
	if len(bits)+len(pockets) == 0 {
		return nil
	}
	b.take(keeping(b.m, func(i int) bool { return !small[g.of[i]] }))
	b.leftOut(CutOff, bits)
	b.leftOut(CutShut, pockets)
	return nil
}

// ownFill lists the holes whose filling runs through the very shell that it closes: such a filling is not to be believed.
func (b *bench) ownFill(ctx context.Context, f *filled, pairs []boxtree.Pair) (map[int32]bool, error) {
	holeOf := func(t int32) (int32, bool) {
		i := int(t) - f.from
		if i < 0 || i >= len(f.hole) {
			return 0, false
		}
		return f.hole[i], true
	}
	bad := map[int32]bool{}
	var g groups
	for _, p := range pairs {
		h, fills := holeOf(p[0])
		k, fillsToo := holeOf(p[1])
		if !fills && !fillsToo {
			continue
		}
		if g.of == nil {
			var err error
			if g, err = groupsOf(ctx, b.adj, looseSides(b.m, b.adj)); err != nil {
				return nil, err
			}
		}
		if g.of[p[0]] != g.of[p[1]] {
			continue
		}
		if fills {
			bad[h] = true
		}
		if fillsToo {
			bad[k] = true
		}
	}
	return bad, nil
}
