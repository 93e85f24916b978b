package mend

import (
	"cmp"
	"context"
	"slices"

	"grainstack/slicing/arrange"
	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/sets"
)

// A Loop is a closed line of open edges.
type Loop struct {
	Length float64
	Box    geom.Box
	Center geom.Vec
	Normal geom.Vec // of the plane of best fit, pointing out of the solid; length 1
	Shell  int      // number in Findings.Shells
}

// Findings are what Survey found. Counts are complete, one for each place; List has at most listMost findings of a kind,
// the largest first.
type Findings struct {
	Shells    []Shell // largest volume first
	Loops     []Loop  // longest first
	List      []Finding
	Counts    [Crossing + 1]int // how many of each Kind
	Crossings bool              // whether self-crossing was looked for
}

// listMost is how many findings of one kind are listed.
const listMost = 100

// clean reports whether nothing was found.
func (f *Findings) clean() bool { return f.Counts == [Crossing + 1]int{} }

// Survey looks for all that keeps m from being a solid; adj is m.Adjacency(). Looking for places where the surface runs
// through itself takes most of the time and can be left out. Volumes and the sides of loops are those of the surface with
// facets that face against the greater part of their shell turned.
func Survey(ctx context.Context, m *mesh.Mesh, adj mesh.Adjacency, crossings bool) (Findings, error) {
	v := surveyor{ctx: ctx, m: m, adj: adj, sides: looseSides(m, adj)}
	v.out.Crossings = crossings
	steps := []func() error{v.shells, v.surveyEdges, v.facets, v.spikes, v.doubles}
	if crossings {
		steps = append(steps, v.crossings)
	}
	for _, do := range steps {
		if err := do(); err != nil {
			return Findings{}, err
		}
	}
	return v.finish(), ctx.Err()
}

// A surveyor collects findings.
type surveyor struct {
	ctx   context.Context
	m     *mesh.Mesh
	adj   mesh.Adjacency
	sides []side
	out   Findings
}

func (v *surveyor) list(k Kind, at geom.Vec, size float64) {
	v.out.List = append(v.out.List, Finding{k, at, size})
	v.out.Counts[k]++
}

// finish keeps the largest findings of each kind.
func (v *surveyor) finish() Findings {
	f := v.out
	slices.SortStableFunc(f.List, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(b.Size, a.Size))
	})
	kept := f.List[:0]
	n := 0
	for i, x := range f.List {
		if i > 0 && x.Kind != f.List[i-1].Kind {
			n = 0
		}
		if n++; n <= listMost {
			kept = append(kept, x)
		}
	}
	f.List = slices.Clone(kept)
	return f
}

// shells measures what hangs together, and the loops; it finds holes, debris, shells turned inside out and flipped areas.
func (v *surveyor) shells() error {
	g, err := groupsOf(v.ctx, v.adj, v.sides)
	if err != nil {
		return err
	}
	m, adj, sides := v.m, v.adj, v.sides
	if _, odd := g.minority(m); len(odd) > 0 {
		v.flipped(odd)
		m = turnedOver(m, odd)
		adj = m.Adjacency()
		sides = looseSides(m, adj)
	}
	rims := rimsOf(m, adj, sides)
	shells, err := measureShells(v.ctx, m, &g, rims)
	if err != nil {
		return err
	}
	if err := v.judge(m, &g, shells); err != nil {
		return err
	}
	place := v.order(shells)
	for _, r := range rims {
		if !r.open {
			continue
		}
		f := fitOf(m, &r)
		l := Loop{r.length(m), f.box, f.middle, f.normal, place[g.of[r.halves[0]/3]]}
		v.out.Loops = append(v.out.Loops, l)
		v.list(Hole, f.middle, l.Length)
	}
	slices.SortStableFunc(v.out.Loops, func(a, b Loop) int { return cmp.Compare(b.Length, a.Length) })
	return nil
}

// judge finds debris, hollows and shells turned inside out.
func (v *surveyor) judge(m *mesh.Mesh, g *groups, shells []Shell) error {
	var t *windingTree
	for i := range shells {
		s := &shells[i]
		at := s.Box.Center()
		small := isDebris(shells, i, DefaultDebris)
		if s.Closed && len(shells) > 1 && (s.Inward || small) {
			if t == nil {
				var err error
				if t, err = newWindingTree(v.ctx, m); err != nil {
					return err
				}
			}
			s.Cavity = s.Inward && around(t, g, shells, int32(i), arrange.Tolerance(m)) > 0.5
			small = small && !(shows(*s, m, Settings{}) && runsThrough(t, g, shells, int32(i), arrange.Tolerance(m)))
		}
		switch {
		case s.Cavity:
		case small:
			v.list(Debris, at, abs(s.Volume))
		case s.Inward:
			v.list(InsideOut, at, -s.Volume)
		}
	}
	return nil
}

// order sorts the shells by volume into the findings and says where each went.
func (v *surveyor) order(shells []Shell) []int {
	by := make([]int, len(shells))
	for i := range by {
		by[i] = i
	}
	slices.SortStableFunc(by, func(a, b int) int { return cmp.Compare(abs(shells[b].Volume), abs(shells[a].Volume)) })
	place := make([]int, len(shells))
	for n, i := range by {
		place[i] = n
		v.out.Shells = append(v.out.Shells, shells[i])
	}
	return place
}

// flipped finds the areas of facets that face against their shell.
func (v *surveyor) flipped(odd []int32) {
	for _, patch := range v.together(odd) {
		area := 0.0
		for _, i := range patch {
			a, b, c := v.m.Corners(int(i))
			area += b.Sub(a).Cross(c.Sub(a)).Len() / 2
		}
		v.list(FlippedArea, v.middleOf(patch), area)
	}
}

// together parts facets into groups that touch at points; the groups come by their first facet.
func (v *surveyor) together(facets []int32) [][]int32 {
	set := sets.New(len(facets))
	at := map[int32]int32{}
	for n, f := range facets {
		for _, p := range v.m.Triangles[f] {
			if o, ok := at[p]; ok {
				set.Join(o, int32(n))
			} else {
				at[p] = int32(n)
			}
		}
	}
	number := map[int32]int{}
	var out [][]int32
	for n, f := range facets {
		r := set.Find(int32(n))
		i, ok := number[r]
		if !ok {
			i = len(out)
			number[r] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], f)
	}
	return out
}

// middleOf is the middle of the facet that lies nearest to the middle of all: a place on the surface.
func (v *surveyor) middleOf(facets []int32) geom.Vec {
	mid := func(f int32) geom.Vec {
		a, b, c := v.m.Corners(int(f))
		return a.Add(b).Add(c).Scale(1.0 / 3)
	}
	all := geom.Vec{}
	for _, f := range facets {
		all = all.Add(mid(f).Scale(1 / float64(len(facets))))
	}
	best := mid(facets[0])
	for _, f := range facets {
		if p := mid(f); p.Sub(all).Len() < best.Sub(all).Len() {
			best = p
		}
	}
	return best
}

// surveyEdges finds where more than two facets meet.
func (v *surveyor) surveyEdges() error {
	var crowded []int32
	edgeGroups(v.sides, func(g []side) {
		if len(g) > 2 {
			crowded = append(crowded, g[0].half/3)
		}
	})
	v.spots(Crowded, crowded)
	return nil
}

// spots finds one thing for each group of facets that touch.
func (v *surveyor) spots(k Kind, facets []int32) {
	for _, g := range v.together(facets) {
		v.list(k, v.middleOf(g), float64(len(g)))
	}
}

// doubles finds facets that are there twice.
func (v *surveyor) doubles() error {
	twice, err := doubles(v.ctx, v.m)
	v.spots(Duplicate, twice)
	return err
}

// crossings finds where the surface runs through itself.
func (v *surveyor) crossings() error {
	h, err := boxtree.New(v.ctx, v.m)
	if err != nil {
		return err
	}
	pairs, err := arrange.Crossings(v.ctx, h, false)
	if err != nil {
		return err
	}
	var facets []int32
	for _, p := range pairs {
		facets = append(facets, p[0], p[1])
	}
	slices.Sort(facets)
	v.spots(Crossing, slices.Compact(facets))
	return nil
}
