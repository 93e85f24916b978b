package mend

import (
	"context"

	"grainstack/slicing/mesh"
	"grainstack/slicing/sets"
)

// rebuildOpen builds the shells that stay open anew, together with what runs through them, on one grid, for they may bound
// something only together; all other shells stay as they are. done is false, and all as it was, where nothing would stay.
func (b *bench) rebuildOpen(ctx context.Context) (done bool, err error) {
	open, sound, bits, err := b.openPart(ctx)
	if err != nil || b.set.Saw.On || len(open.Triangles) == 0 || len(sound.Triangles) == 0 {
		return false, err
	}
	least, err := b.leastVolume(ctx)
	if err != nil {
		return false, err
	}
	c := *b
	step := stepFor(b.m.Box(), b.set)
	out, gone, err := rebuilt(ctx, open, step, least, func(s string, f float64) { b.report(s, 0.2+0.65*f) })
	if err != nil {
		return false, err
	}
	if len(out.Triangles) == 0 {
		c.leftOut(Sheet, bits)
	} else {
		if c.moved, err = apart(ctx, open, open.Adjacency(), out); err != nil {
			return false, err
		}
		c.built = step
		c.did(RebuiltPart, 1, step)
		c.leftOut(Lost, gone.bits)
		c.leftOut(Plugged, gone.pockets)
		c.shifted()
	}
	c.m = joined(sound, out)
	if done, err = c.settle(ctx); done {
		*b = c
	}
	return done, err
}

// openPart divides the mesh into the shells that are open, with those that run through them, and the others. bits are the open
// ones. Where an open one faces inward, so that it may be a hollow of any other, all are of the first part.
func (b *bench) openPart(ctx context.Context) (open, sound *mesh.Mesh, bits []bit, err error) {
	g, shells, err := b.shells(ctx)
	if err != nil {
		return nil, nil, nil, err
	}
	pairs, err := b.crossings(ctx)
	if err != nil {
		return nil, nil, nil, err
	}
	set := sets.New(len(shells))
	for _, p := range pairs {
		set.Join(g.of[p[0]], g.of[p[1]])
	}
	set.Flat()
	isOpen := make([]bool, len(shells))
	inward := false
	for i, s := range shells {
		if !s.Closed {
			isOpen[set[i]] = true
			inward = inward || s.Inward
			bits = append(bits, bit{0, s.Box.Center()})
		}
	}
	part := func(f int) bool { return inward || isOpen[set[g.of[f]]] }
	return keeping(b.m, part).Compact(), keeping(b.m, func(f int) bool { return !part(f) }).Compact(), bits, nil
}

// settle lets closed shells stand together as one solid: it drops those within others and cuts where they run through one another.
func (b *bench) settle(ctx context.Context) (done bool, err error) {
	b.adj = b.m.Adjacency()
	pairs, err := b.crossings(ctx)
	if err != nil {
		return false, err
	}
	if err := b.stand(ctx, pairs); err != nil {
		return false, err
	}
	for _, twin := range b.adj {
		if twin < 0 {
			return false, nil
		}
	}
	if len(pairs) == 0 {
		return true, nil
	}
	return b.resolve(ctx)
}

// joined is one mesh of two.
func joined(a, b *mesh.Mesh) *mesh.Mesh {
	n := int32(len(a.Points))
	out := &mesh.Mesh{Points: append(a.Points[:n:n], b.Points...), Triangles: append(make([]mesh.Triangle, 0, len(a.Triangles)+len(b.Triangles)), a.Triangles...)}
	for _, t := range b.Triangles {
		out.Triangles = append(out.Triangles, mesh.Triangle{t[0] + n, t[1] + n, t[2] + n})
	}
	return out
}
