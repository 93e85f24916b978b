package mend

import (
	"context"
	"errors"
	"maps"
	"math"
	"slices"

	"grainstack/slicing/arrange"
	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

const (
	// autoCells is how many steps the longest side has where no resolution is asked for: 1 mm on a 300 mm piece.
	autoCells = 300
	// leastNodes is the smallest region of inside or outside that a grid can tell from chance.
	leastNodes = 8
	// untangleRounds is how often points of facets that cross are drawn back before it is left at that.
	untangleRounds = 6
)

// rebuild makes the solid anew from a prepared bench; tried is the same bench after exact mending failed.
func (b *bench) rebuild(ctx context.Context, tried *bench) (*Result, error) {
	step := stepFor(b.m.Box(), b.set)
	plane := b.set.Saw
	if plane.On { // a little is left on for the saw to cut off clean afterwards
		plane.D -= 3 * step * plane.Normal.Len()
		tried = &bench{m: b.m, adj: b.adj, set: b.set, actions: b.actions, report: b.report}
		if _, err := tried.closed(ctx, plane); err != nil {
			return nil, err
		}
		pairs, err := tried.crossings(ctx)
		if err != nil {
			return nil, err
		}
		if err := tried.stand(ctx, pairs); err != nil {
			return nil, err
		}
	}
	report := func(s string, f float64) { b.report(s, 0.2+0.65*f) }
	least, err := tried.leastVolume(ctx)
	if err != nil {
		return nil, err
	}
	out, gone, err := rebuilt(ctx, tried.m, step, least, report)
	if err != nil {
		return nil, err
	}
	if len(out.Triangles) == 0 {
		return nil, errors.New("mend: the surface encloses nothing that could be built")
	}
	done := &bench{m: out, adj: out.Adjacency(), set: b.set, actions: tried.actions, report: b.report}
	done.did(Rebuilt, 1, step)
	done.leftOut(Lost, gone.bits)
	done.leftOut(Plugged, gone.pockets)
	if err := done.saw(ctx); err != nil {
		return nil, err
	}
	b.report("measuring how near the solid is to the scan", 0.95)
	scan := &bench{m: tried.m, adj: tried.adj, set: b.set, report: func(string, float64) {}}
	if err := scan.saw(ctx); err != nil {
		return nil, err
	}
	w, err := apart(ctx, scan.m, scan.adj, done.m)
	if err != nil {
		return nil, err
	}
	done.built, done.moved = step, w
	done.shifted()
	return done.result(), nil
}

// shifted tells by how much the surface moved where it was built anew, and where most, if that is to be noticed.
func (b *bench) shifted() {
	mm := b.set.MmPerUnit
	if b.moved.most*mm > Noticed {
		b.did(Shifted, 1, b.moved.most)
		a := &b.actions[len(b.actions)-1]
		a.At, a.Moved = b.moved.at, b.moved.most*mm
		a.Text += " The farthest place lies " + placeIn(a.At, mm) + "."
	}
}

// leastVolume is the volume under which a loose bit is debris: the settings' share of the largest shell, as for the shells
// of the scan. A share of what the shells make together would be more than a shell that counts may have.
func (b *bench) leastVolume(ctx context.Context) (float64, error) {
	_, shells, err := b.shells(ctx)
	most := 0.0
	for _, s := range shells {
		most = max(most, abs(s.Volume))
	}
	return max(b.set.DebrisShare, 0) * most, err
}

// specks are what a grid lost and what it filled.
type specks struct{ bits, pockets []bit }

// rebuilt is the outside of what m encloses, made anew on a grid of the given step. Loose regions of less volume than least
// go, and so do closed pockets of that size.
func rebuilt(ctx context.Context, m *mesh.Mesh, step, least float64, report func(step string, done float64)) (*mesh.Mesh, specks, error) {
	report("sorting the facets by place", 0)
	t, err := newWindingTree(ctx, m)
	if err != nil {
		return nil, specks{}, err
	}
	report("looking through the scan along three axes", 0.15)
	l, err := newLattice(ctx, m, step)
	if err != nil {
		return nil, specks{}, err
	}
	if _, err = l.decide(ctx, t, func(f float64) { report("deciding what is inside", 0.25+0.35*f) }); err != nil {
		return nil, specks{}, err
	}
	gone, err := l.tidy(ctx, least)
	if err != nil {
		return nil, specks{}, err
	}
	s, err := newSkin(ctx, l, t, func(f float64) { report("laying a new surface", 0.65+0.15*f) })
	if err != nil {
		return nil, specks{}, err
	}
	out, err := s.facets(ctx)
	if err != nil {
		return nil, specks{}, err
	}
	report("checking the new surface", 0.85)
	return out, gone, s.untangle(ctx, out)
}

// tidy drops specks of less volume than least and makes the inside such that its surface touches itself nowhere.
func (l *lattice) tidy(ctx context.Context, least float64) (gone specks, err error) {
	nodes := max(leastNodes, int(least/(l.step*l.step*l.step)))
	for range 2 { // making it so may close off pockets
		bits, pockets, err := l.dropSpecks(ctx, nodes)
		if err != nil {
			return gone, err
		}
		gone.bits, gone.pockets = append(gone.bits, bits...), append(gone.pockets, pockets...)
		if _, err := l.compose(ctx); err != nil {
			return gone, err
		}
	}
	return gone, nil
}

// untangle draws the points of facets that cross or fold over back to the middle of the meetings round them, then their
// neighbours, then towards the middle of the cell, until none cross.
func (s *skin) untangle(ctx context.Context, out *mesh.Mesh) error {
	adj := out.Adjacency()
	for round := range untangleRounds {
		h, err := boxtree.New(ctx, out)
		if err != nil {
			return err
		}
		pairs, err := arrange.Crossings(ctx, h, false)
		if err != nil {
			return err
		}
		bad := make([]int32, 0, 2*len(pairs))
		for _, p := range pairs {
			bad = append(bad, p[0], p[1])
		}
		if round == 0 {
			bad = append(bad, folds(out, adj)...)
		}
		if len(bad) == 0 {
			return nil
		}
		for _, p := range pointsOf(out, bad, round%2 == 1) {
			s.drawBack(p, round)
		}
	}
	return nil
}

// folded is the cosine between the normals of neighbours from which on they fold over one another.
const folded = -0.9

// folds lists the facets that fold over a neighbour.
func folds(m *mesh.Mesh, adj mesh.Adjacency) (out []int32) {
	normals := make([][3]float32, len(m.Triangles))
	for i, t := range m.Triangles {
		c := cornersOf(m, t)
		n := normalOf(&c)
		normals[i] = [3]float32{float32(n.X), float32(n.Y), float32(n.Z)}
	}
	for h, twin := range adj {
		if int(twin) < h {
			continue
		}
		a, b := normals[h/3], normals[twin/3]
		if a[0]*b[0]+a[1]*b[1]+a[2]*b[2] < folded {
			out = append(out, int32(h/3), twin/3)
		}
	}
	return out
}

// pointsOf are the points of some facets, each once; with around those of the facets that touch them too.
func pointsOf(m *mesh.Mesh, facets []int32, around bool) []int32 {
	var points []int32
	hit := make(map[int32]bool)
	mark := func(f int32) {
		for _, p := range m.Triangles[f] {
			if !hit[p] {
				hit[p] = true
				points = append(points, p)
			}
		}
	}
	for _, f := range facets {
		mark(f)
	}
	if around {
		near := maps.Clone(hit)
		for f, t := range m.Triangles {
			if near[t[0]] || near[t[1]] || near[t[2]] {
				mark(int32(f))
			}
		}
	}
	return points
}

// drawBack moves a point to the middle of its meetings; in later rounds half the way on to the middle of its cell.
func (s *skin) drawBack(p int32, round int) {
	z, _ := slices.BinarySearchFunc(s.base, p, func(b, p int32) int {
		if b <= p {
			return -1
		}
		return 1
	})
	z--
	c := int(s.cells[z][p-s.base[z]])
	x, y := c%s.n[0], c/s.n[0]
	if round < 2 {
		s.put(p, x, y, z, math.Inf(1))
		return
	}
	v := s.place[p].Add(geom.Vec{X: 0.5, Y: 0.5, Z: 0.5}).Scale(0.5)
	s.place[p] = v
	s.at[p] = mesh.PointOf(s.node(float64(x)+v.X, float64(y)+v.Y, float64(z)+v.Z))
}
