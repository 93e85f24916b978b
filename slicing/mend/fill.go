package mend

import (
	"context"
	"slices"

	"grainstack/slicing/arrange"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

const (
	// wideRim is the share of the piece's longest side from which on an opening that looks out of the piece is its base.
	wideRim = 0.25
	// steepWalls is the mean cosine between the facets along a rim and its plane's normal up to which it is a base: with
	// walls less steep the surface goes on smoothly across the hole.
	steepWalls = 0.8
	// ragged is the share of a base's extent that its rim may stray from a plane and still be sawn level.
	ragged = 0.05
	// beyondBase is the share of the piece's facets that may begin beyond its base's plane.
	beyondBase = 0.002
	// nearlyFlat is the share of its extent that a long rim may stray from a plane to be filled seen from above.
	nearlyFlat = 0.25
)

// A filled mesh knows which of its facets close a hole.
type filled struct {
	m         *mesh.Mesh
	adj       mesh.Adjacency
	from      int     // facets from this number on are fillings
	hole      []int32 // of each filling its hole
	holes     int
	bases     int
	left      int     // rims that could not be closed
	sawnLevel float64 // how much of a ragged rim was sawn off at the most
}

// fill closes the rims of m that consist of open edges: wide ones that look out of the piece flat, sawn level first where
// they are ragged, the others flush.
func fill(ctx context.Context, m *mesh.Mesh, adj mesh.Adjacency) (*filled, error) {
	f := &filled{m: m, adj: adj, from: len(m.Triangles)}
	rims := rimsOf(m, adj, looseSides(m, adj))
	if len(rims) == 0 {
		return f, nil
	}
	level, off, err := levelBases(ctx, m, rims)
	if err != nil {
		return nil, err
	}
	if level != m {
		f.m, f.adj, f.sawnLevel = level, level.Adjacency(), off
		f.from = len(level.Triangles)
		rims = rimsOf(f.m, f.adj, looseSides(f.m, f.adj))
	}
	return f, f.close(ctx, rims)
}

// isBase reports whether a rim is wide, with steep walls, and all but a little of the piece lies behind it.
func isBase(m *mesh.Mesh, f *fit, longest float64) bool {
	if f.extent < wideRim*longest || f.uneven > ragged*f.extent || f.facing > steepWalls {
		return false
	}
	beyond := 0
	for _, t := range m.Triangles {
		if f.normal.Dot(m.Points[t[0]].Vec().Sub(f.middle)) > f.uneven+1e-6*longest {
			beyond++
		}
	}
	return float64(beyond) <= beyondBase*float64(len(m.Triangles))
}

func longestSide(m *mesh.Mesh) float64 {
	s := m.Box().Size()
	return max(s.X, s.Y, s.Z)
}

// levelBases saws ragged bases off where their rims come closest to the piece; off is the most that is sawn off.
func levelBases(ctx context.Context, m *mesh.Mesh, rims []rim) (out *mesh.Mesh, off float64, err error) {
	longest, tol := longestSide(m), arrange.Tolerance(m)
	out = m
	for _, r := range rims {
		if !r.open {
			continue
		}
		f := fitOf(m, &r)
		if f.extent < wideRim*longest || f.uneven <= 4*tol || !isBase(m, &f, longest) {
			continue
		}
		inner := 0.0
		for _, p := range r.points {
			inner = max(inner, -f.normal.Dot(m.Points[p].Vec().Sub(f.middle)))
		}
		back := geom.Vec{}.Sub(f.normal)
		cut, _, err := sawn(ctx, out, Plane{Normal: back, D: back.Dot(f.middle) + inner + 4*tol, On: true})
		if err != nil {
			if ctx.Err() != nil {
				return nil, 0, err
			}
			continue
		}
		out, off = cut, max(off, inner+f.uneven)
	}
	return out, off, nil
}

// close fills the rims.
func (f *filled) close(ctx context.Context, rims []rim) error {
	longest, tol := longestSide(f.m), arrange.Tolerance(f.m)
	out := &mesh.Mesh{Points: slices.Clone(f.m.Points), Triangles: slices.Clone(f.m.Triangles)}
	add := func(facets []mesh.Triangle) {
		out.Triangles = append(out.Triangles, facets...)
		for range facets {
			f.hole = append(f.hole, int32(f.holes+f.bases))
		}
	}
	var flat []rim
	var fits []fit
	for i := range rims {
		if err := ctx.Err(); err != nil {
			return err
		}
		r := &rims[i]
		if !r.open {
			f.left++
			continue
		}
		ft := fitOf(f.m, r)
		if isBase(f.m, &ft, longest) || ft.uneven <= 4*tol && ft.extent > wideRim*longest && ft.facing <= steepWalls {
			flat, fits = append(flat, *r), append(fits, ft)
			continue
		}
		facets, ok := f.flush(ctx, r, &ft)
		if !ok {
			f.left++
			continue
		}
		facets, points := refinePatch(ctx, f.m, f.adj, r, facets, int32(len(out.Points)))
		out.Points = append(out.Points, points...)
		add(facets)
		f.holes++
	}
	for len(flat) > 0 {
		same, rest, restFits := samePlane(flat, fits, longest)
		facets, _ := capRims(f.m, fits[0].normal, same)
		add(facets)
		f.bases++
		flat, fits = rest, restFits
	}
	if len(f.hole) > 0 {
		f.m = out
		f.adj = out.Adjacency()
	}
	return ctx.Err()
}

// flush triangulates one hole: the least-area way where the rim is short, seen from above where it is long but nearly flat.
func (f *filled) flush(ctx context.Context, r *rim, ft *fit) ([]mesh.Triangle, bool) {
	if len(r.points) <= smallRim {
		return patchRim(ctx, f.m, f.adj, r)
	}
	if ft.uneven > nearlyFlat*ft.extent {
		return nil, false
	}
	return capRims(f.m, ft.normal, []rim{*r})
}

// samePlane parts the rims that lie in the first one's plane from the rest.
func samePlane(rims []rim, fits []fit, longest float64) (same, rest []rim, restFits []fit) {
	a := fits[0]
	for i, b := range fits {
		if i == 0 || abs(a.normal.Dot(b.normal)) > 0.999 && abs(a.normal.Dot(b.middle.Sub(a.middle))) <= a.uneven+b.uneven+1e-5*longest {
			same = append(same, rims[i])
			continue
		}
		rest, restFits = append(rest, rims[i]), append(restFits, b)
	}
	return same, rest, restFits
}

// less is the mesh without the fillings of some holes.
func (f *filled) less(holes map[int32]bool) (*mesh.Mesh, mesh.Adjacency) {
	m := keeping(f.m, func(i int) bool { return i < f.from || !holes[f.hole[i-f.from]] })
	m = m.Compact()
	return m, m.Adjacency()
}
