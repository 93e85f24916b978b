package mend

import (
	"context"
	"fmt"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/sets"
)

// mostParts is how many parts are built anew one by one; with more a scan is a soup, and built anew as a whole.
const mostParts = 32

// A portion is shells that run through one another, or one that runs through none.
type portion struct {
	m    *mesh.Mesh
	bad  bool // it stays open, or cutting did not do
	flip bool // one of its shells faces inward
	at   geom.Vec
}

// rebuildParts builds what stays open anew, with what it runs through, each portion on a grid of its own, and leaves all other
// shells as they are. done is false, and all as it was, where the rest of the scan takes part in it.
func (b *bench) rebuildParts(ctx context.Context) (done bool, err error) {
	all, err := b.portions(ctx)
	if err != nil || len(all) < 2 {
		return false, err
	}
	bad := 0
	for _, p := range all {
		if p.bad {
			bad++
		}
		if p.bad && p.flip {
			return false, nil
		}
	}
	if b.set.Saw.On || bad == 0 || bad > mostParts {
		return false, nil
	}
	least, err := b.leastVolume(ctx)
	if err != nil {
		return false, err
	}
	c := *b
	c.m = &mesh.Mesh{}
	step, built, n := stepFor(b.m.Box(), b.set), 0, 0
	var sheets []geom.Vec
	var gone specks
	for _, p := range all {
		if !p.bad {
			c.m = joined(c.m, p.m)
			continue
		}
		out, lost, err := rebuilt(ctx, p.m, step, least, func(s string, f float64) { b.report(s, 0.2+0.65*(float64(n)+f)/float64(bad)) })
		if err != nil {
			return false, err
		}
		n++
		gone.bits, gone.pockets = append(gone.bits, lost.bits...), append(gone.pockets, lost.pockets...)
		if len(out.Triangles) == 0 {
			sheets = append(sheets, p.at)
			continue
		}
		w, err := apart(ctx, p.m, p.m.Adjacency(), out)
		if err != nil {
			return false, err
		}
		built++
		c.moved = c.moved.with(w)
		c.m = joined(c.m, out)
	}
	if len(c.m.Triangles) == 0 {
		return false, nil
	}
	c.noteParts(built, step, sheets, gone)
	if done, err = c.settle(ctx); done {
		*b = c
	}
	return done, err
}

// noteParts tells what building parts anew came to.
func (b *bench) noteParts(built int, step float64, sheets []geom.Vec, gone specks) {
	mm := b.set.MmPerUnit
	if b.did(Sheet, len(sheets), 0); len(sheets) > 0 {
		a := &b.actions[len(b.actions)-1]
		a.At = sheets[0]
		a.Text += " " + map[bool]string{true: "Its middle lay ", false: "The first one's middle lay "}[len(sheets) == 1] + placeIn(a.At, mm) + "."
	}
	if built == 0 {
		return
	}
	b.built = step
	b.did(Rebuilt, built, step)
	a := &b.actions[len(b.actions)-1]
	a.Text = fmt.Sprintf("%s parts of the surface could not be closed and were built anew on a grid of %s; everything else stays as it was.", thousands(built), lengthMm(step*mm))
	if built == 1 {
		a.Text = "One part of the surface could not be closed and was built anew on a grid of " + lengthMm(step*mm) + "; everything else stays as it was."
	}
	b.leftOut(Lost, gone.bits)
	b.leftOut(Plugged, gone.pockets)
	b.shifted()
}

// portions divides the mesh into shells that run through one another.
func (b *bench) portions(ctx context.Context) ([]portion, error) {
	g, shells, err := b.shells(ctx)
	if err != nil {
		return nil, err
	}
	pairs, err := b.crossings(ctx)
	if err != nil {
		return nil, err
	}
	set := sets.New(len(shells))
	for _, p := range pairs {
		set.Join(g.of[p[0]], g.of[p[1]])
	}
	set.Flat()
	out := make([]portion, len(shells))
	for i, s := range shells {
		p := &out[set[i]]
		p.bad = p.bad || !s.Closed
		p.flip = p.flip || s.Inward
		if i == int(set[i]) {
			p.at = s.Box.Center()
		}
	}
	var full []portion
	for i, p := range out {
		if int(set[i]) == i {
			p.m = compact(keeping(b.m, func(f int) bool { return int(set[g.of[f]]) == i }))
			full = append(full, p)
		}
	}
	return full, nil
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
