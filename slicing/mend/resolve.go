package mend

import (
	"context"
	"errors"

	"grainstack/slicing/arrange"
	"grainstack/slicing/boxtree"
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
	lines, touched, against := 0, 0, bit{}
	for range resolveRounds {
		b.report("cutting it where it runs through itself", 0.12)
		r, err := arrange.Resolve(ctx, c.m)
		if errors.Is(err, arrange.ErrOpen) || errors.Is(err, arrange.ErrMany) {
			return false, nil
		}
		if err != nil {
			return false, err
		}
		lines, touched = lines+r.Lines, touched+r.Touched
		if r.Against > against.volume {
			against = bit{r.Against, r.At}
		}
		c.take(r.Mesh)
		pairs, err := c.crossings(ctx)
		if err != nil {
			return false, err
		}
		if len(pairs) > 0 {
			continue
		}
		c.cut(lines, touched)
		if size := c.m.Box().Size(); against.volume > noVolume*size.X*size.Y*size.Z {
			c.leftOut(Against, []bit{against})
		}
		if err := c.sweep(ctx, least); err != nil {
			return false, err
		}
		*b = *c
		return true, nil
	}
	return false, nil
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
