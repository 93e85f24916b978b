// Package decimate thins the facets of a surface: edges are drawn together while the surface stays within a tolerance of what it
// was, and how far off it is is measured.
package decimate

import (
	"context"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// Measured is how far two surfaces lie apart, in the mesh's own units, looked at from samples of either.
type Measured struct{ MaxDistance, MeanDistance float64 }

// Thin is m with as few triangles as it takes to stay within tolerance, in the units of m; adj is m.Adjacency(). Edges are
// drawn together to the point of least squared distance to the planes of the triangles they stood for (M. Garland,
// P. S. Heckbert, Surface Simplification Using Quadric Error Metrics, SIGGRAPH 1997), only where that keeps the surface's
// connections (T. K. Dey, H. Edelsbrunner, S. Guha, D. V. Nekhayev, Topology Preserving Edge Contraction, 1999), turns no
// triangle over, and leaves every point of m that was near within tolerance of the new triangles. Open rims stay as they are.
// A closed 2-manifold stays one.
//
// Measured is taken afterwards: from every point of m to the new surface, and from the corners and the middles of the new
// triangles and edges to m. A tolerance of zero or less gives m itself. Two runs give the same, on any number of cores. progress may
// be nil. Called off by ctx it returns within 100 ms.
func Thin(ctx context.Context, m *mesh.Mesh, adj mesh.Adjacency, tolerance float64, progress func(float64)) (*mesh.Mesh, Measured, error) {
	if !(tolerance > 0) || len(m.Triangles) == 0 {
		return m, Measured{}, ctx.Err()
	}
	if progress == nil {
		progress = func(float64) {}
	}
	out, _, err := thin(ctx, m, adj, tolerance, nil, progress)
	if err != nil {
		return nil, Measured{}, err
	}
	if len(out.Triangles) == len(m.Triangles) {
		return m, Measured{}, ctx.Err()
	}
	gap, err := measureGap(ctx, m, out)
	if err != nil {
		return nil, Measured{}, err
	}
	progress(1)
	return out, gap, nil
}

// Keeping is Thin without a look at the result, where points that stays names stay too; it may be nil. It also gives what number
// each point of m has in the result, -1 where it is gone.
func Keeping(ctx context.Context, m *mesh.Mesh, adj mesh.Adjacency, tolerance float64, stays func(point int) bool) (*mesh.Mesh, []int32, error) {
	return thin(ctx, m, adj, tolerance, stays, func(float64) {})
}

// thin takes facets out until that isn't worth it any more.
func thin(ctx context.Context, m *mesh.Mesh, adj mesh.Adjacency, tolerance float64, stays func(point int) bool, progress func(float64)) (*mesh.Mesh, []int32, error) {
	t, err := newThinning(ctx, m, adj, tolerance)
	if err != nil {
		return nil, nil, err
	}
	for i := range t.fixed {
		t.fixed[i] = t.fixed[i] || stays != nil && stays(i)
	}
	for round := range rounds {
		before := len(t.triangles)
		if err := t.round(ctx, round); err != nil {
			return nil, nil, err
		}
		progress(shareOf[round])
		if len(t.triangles) > before-before/worth {
			break
		}
	}
	out, number := t.mesh()
	return out, number, nil
}

const (
	rounds    = 6
	worth     = 100     // a round that takes away less than this part of the triangles is the last
	lookEvery = 1 << 14 // triangles between looks at the context
	partSize  = 1 << 13 // triangles worked on at a time: they fit the processor's cache
)

// shareOf is how much of all work is done after each round.
var shareOf = [rounds]float64{0.6, 0.7, 0.75, 0.78, 0.79, 0.8}

// A thinning is the surface between rounds. In each round it is cut into parts that are thinned one by one; what lies
// across the cuts is left to the next round, which cuts elsewhere.
type thinning struct {
	origin    []mesh.Point // as read
	surface   []mesh.Triangle
	twins     mesh.Adjacency
	corner    []int32 // one of each point's corners, as in twins
	flats     []flat
	tolerance float64
	middle    geom.Vec // planes are kept relative to this point, for precision
	points    []mesh.Point
	planes    []planes
	fixed     []bool // on a rim: stays where it is
	tried     []bool // has been inside a part
	triangles []mesh.Triangle
	uses      []int32 // triangles at each point
	first     []int32 // for each triangle the first point of origin that it stands for, -1 for none
	next      []int32 // the following one, per point of origin
}

func newThinning(ctx context.Context, m *mesh.Mesh, adj mesh.Adjacency, tolerance float64) (*thinning, error) {
	flats, err := flatness(ctx, m)
	if err != nil {
		return nil, err
	}
	t := &thinning{
		origin: m.Points, surface: m.Triangles, twins: adj, corner: make([]int32, len(m.Points)), flats: flats,
		tolerance: tolerance, middle: m.Box().Center(),
		points: append([]mesh.Point(nil), m.Points...), planes: make([]planes, len(m.Points)),
		fixed: make([]bool, len(m.Points)), tried: make([]bool, len(m.Points)), uses: make([]int32, len(m.Points)),
		triangles: append([]mesh.Triangle(nil), m.Triangles...),
		first:     make([]int32, len(m.Triangles)), next: make([]int32, len(m.Points)),
	}
	for h, twin := range adj {
		if twin < 0 {
			c := m.Triangles[h/3]
			t.fixed[c[h%3]], t.fixed[c[(h+1)%3]] = true, true
		}
	}
	for i, c := range m.Triangles {
		if i%lookEvery == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		t.first[i] = -1
		for k, p := range c {
			if t.uses[p] == 0 {
				t.next[p], t.first[i], t.corner[p] = t.first[i], p, int32(3*i+k)
			}
			t.uses[p]++
		}
	}
	return t, nil
}

// round thins all parts once.
func (t *thinning) round(ctx context.Context, round int) error {
	clear(t.uses)
	for i, c := range t.triangles {
		if i%lookEvery == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		t.uses[c[0]]++
		t.uses[c[1]]++
		t.uses[c[2]]++
	}
	order, err := t.order(ctx, round)
	if err != nil {
		return err
	}
	scratch := make([]*patch, par.Count())
	done := make([]thinned, (len(order)+partSize-1)/partSize)
	err = par.Workers(ctx, len(order), partSize, func(worker, from, to int) {
		p := scratch[worker]
		if p == nil {
			p = newPatch(t)
			scratch[worker] = p
		}
		p.take(order[from:to], round == 0)
		p.thin(ctx)
		done[from/partSize] = p.give(round == 0)
	})
	if err != nil {
		return err
	}
	t.join(done)
	return nil
}

// A thinned part is what is left of its triangles, and, in the first round, the planes that belong to points on its cut.
type thinned struct {
	triangles []mesh.Triangle
	first     []int32
	cut       []int32
	planes    []planes
}

// join puts the parts together in order.
func (t *thinning) join(parts []thinned) {
	t.triangles, t.first = t.triangles[:0], t.first[:0]
	for _, p := range parts {
		t.triangles = append(t.triangles, p.triangles...)
		t.first = append(t.first, p.first...)
		for i, v := range p.cut {
			t.planes[v].add(&p.planes[i])
		}
	}
}

// mesh is what is left, points numbered by first use, and those numbers, -1 for points that are gone.
func (t *thinning) mesh() (out *mesh.Mesh, number []int32) {
	out = &mesh.Mesh{Triangles: make([]mesh.Triangle, len(t.triangles))}
	number = make([]int32, len(t.points))
	for i, c := range t.triangles {
		for k, p := range c {
			if number[p] == 0 {
				out.Points = append(out.Points, t.points[p])
				number[p] = int32(len(out.Points))
			}
			out.Triangles[i][k] = number[p] - 1
		}
	}
	for p := range number {
		number[p]--
	}
	return out, number
}
