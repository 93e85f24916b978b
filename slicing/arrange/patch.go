package arrange

import (
	"context"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/sets"
)

// asMesh are the facets and parts as triangles of one mesh; its points are not filled in.
func (a *arrangement) asMesh() *mesh.Mesh {
	out := &mesh.Mesh{Points: make([]mesh.Point, len(a.m.Points)+len(a.made)), Triangles: make([]mesh.Triangle, 0, len(a.whole)+len(a.parts))}
	for _, f := range a.whole {
		out.Triangles = append(out.Triangles, a.m.Triangles[f])
	}
	for _, p := range a.parts {
		out.Triangles = append(out.Triangles, p.Triangle)
	}
	return out
}

// times is how often triangle i of all bounds wood.
func (a *arrangement) times(i int32) int {
	if n := int(i) - len(a.whole); n >= 0 {
		return int(a.parts[n].times)
	}
	return 1
}

// patches are the sets of triangles of all that hang together without a line on which others meet them: round all of one patch
// the surface winds equally often.
func (a *arrangement) patches() (sets.Sets, error) {
	m := a.asMesh()
	adj := m.Simple()
	set := sets.New(len(m.Triangles))
	open := map[[2]int32]int{}
	for h, twin := range adj {
		f := int32(h / 3)
		if twin >= 0 {
			if a.times(f) != a.times(twin/3) {
				return nil, ErrOpen
			}
			set.Join(f, twin/3)
			continue
		}
		from, to := m.Triangles[f][h%3], m.Triangles[f][(h+1)%3]
		if from < to {
			open[[2]int32{from, to}] += a.times(f)
		} else {
			open[[2]int32{to, from}] -= a.times(f)
		}
	}
	for _, n := range open {
		if n != 0 {
			return nil, ErrOpen
		}
	}
	set.Flat()
	return set, nil
}

// choose keeps the patches that bound what the surface winds round.
func (a *arrangement) choose(ctx context.Context, patches sets.Sets) (*Result, error) {
	r := &Result{Lines: a.lines, Touched: a.touched}
	out := &rounding{arrangement: a, kept: make([]bool, len(patches))}
	front := make(map[int32]int)
	for i, f := range a.largest(patches) {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		front[i] = a.infront(f)
	}
	against := 0.0
	for i, p := range patches {
		before := front[p]
		behind := before + a.times(int32(i))
		out.kept[i] = before <= 0 && behind > 0
		if before < 0 && behind >= 0 {
			v, at := a.wedge(int32(i))
			r.Against -= v
			if -v > against {
				against, r.At = -v, at
			}
		}
	}
	r.Mesh = out.rounded()
	return r, nil
}

// largest is the triangle of the greatest area of each patch.
func (a *arrangement) largest(patches sets.Sets) map[int32]int32 {
	type most struct {
		area float64
		at   int32
	}
	found := map[int32]*most{}
	var last *most
	lastPatch := int32(-1)
	for i, p := range patches {
		if p != lastPatch {
			if last = found[p]; last == nil {
				last = &most{-1, int32(i)}
				found[p] = last
			}
			lastPatch = p
		}
		x, y, z := a.corners(int32(i))
		if w := y.Sub(x).Cross(z.Sub(x)).Len(); w > last.area {
			last.area, last.at = w, int32(i)
		}
	}
	out := make(map[int32]int32, len(found))
	for p, m := range found {
		out[p] = m.at
	}
	return out
}

// triangle is the points of triangle i of all.
func (a *arrangement) triangle(i int32) mesh.Triangle {
	if n := int(i) - len(a.whole); n >= 0 {
		return a.parts[n].Triangle
	}
	return a.m.Triangles[a.whole[i]]
}

// corners are those of triangle i of all.
func (a *arrangement) corners(i int32) (x, y, z geom.Vec) {
	t := a.triangle(i)
	return a.place(t[0]), a.place(t[1]), a.place(t[2])
}

// place is about where a point lies.
func (p *points) place(id int32) geom.Vec {
	if n := int(id) - len(p.m.Points); n >= 0 {
		at := p.made[n].at
		return geom.Vec{X: at[0], Y: at[1], Z: at[2]}
	}
	return p.m.Points[id].Vec()
}

// wedge is the volume between the middle of the piece and triangle i, and the triangle's middle.
func (a *arrangement) wedge(i int32) (float64, geom.Vec) {
	o := a.place(a.m.Triangles[0][0])
	x, y, z := a.corners(i)
	return x.Sub(o).Dot(y.Sub(o).Cross(z.Sub(o))) / 6, x.Add(y).Add(z).Scale(1.0 / 3)
}
