package field

import (
	"context"
	"math"

	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

const (
	// slab is how many planes of nodes one goroutine scans at a time: few, so that the work spreads evenly; not fewer,
	// since a facet is looked at once for each slab that it comes near.
	slab = 4
	// reach is how far from a node in steps a facet may lie to make it a seed. Every surface point has a node within
	// 0.87 steps (half a cell's diagonal).
	reach = 1.0
	// chunk is how many triangles are sorted into buckets at a time, and are scanned between two looks at the context.
	chunk = 1 << 13
	// piece is the size in steps of what a large facet is cut into before the nodes round it are tried.
	piece = 4.0
)

// buckets lists for each slab the triangles within reach of it, in ascending order.
type buckets struct {
	start []int // of each slab in items, and one past the last
	items []int32
}

// slabsOf is the range of slabs that triangle t comes within reach of.
func (b *builder) slabsOf(t mesh.Triangle) (from, to int) {
	z0, z1, z2 := b.points[t[0]][2], b.points[t[1]][2], b.points[t[2]][2]
	lo, hi := min(z0, z1, z2), max(z0, z1, z2)
	last := (b.grid.nz - 1) / slab
	from = min(max(int(lo-reach), 0)/slab, last)
	to = min(max(int(math.Ceil(float64(hi)+reach)), 0)/slab, last) + 1
	return from, to
}

// bucket sorts the triangles into slabs: count, add up, write.
func (b *builder) bucket(ctx context.Context, m *meter) error {
	slabs := (b.grid.nz + slab - 1) / slab
	chunks := (len(b.triangles) + chunk - 1) / chunk
	at := make([]int, chunks*slabs)
	err := par.Spans(ctx, len(b.triangles), chunk, func(from, to int) {
		count := at[from/chunk*slabs:][:slabs]
		for _, t := range b.triangles[from:to] {
			for s, end := b.slabsOf(t); s < end; s++ {
				count[s]++
			}
		}
		m.add(0.5 / float64(chunks))
	})
	if err != nil {
		return err
	}
	b.buckets.start = make([]int, slabs+1)
	sum := 0
	for s := range slabs {
		b.buckets.start[s] = sum
		for c := range chunks {
			i := c*slabs + s
			at[i], sum = sum, sum+at[i]
		}
	}
	b.buckets.start[slabs] = sum
	b.buckets.items = make([]int32, sum)
	return par.Spans(ctx, len(b.triangles), chunk, func(from, to int) {
		next := at[from/chunk*slabs:][:slabs]
		for i := from; i < to; i++ {
			for s, end := b.slabsOf(b.triangles[i]); s < end; s++ {
				b.buckets.items[next[s]] = int32(i)
				next[s]++
			}
		}
		m.add(0.5 / float64(chunks))
	})
}

// scan tries each facet on the nodes round it and counts where it is crossed by the rays along Z.
func (b *builder) scan(ctx context.Context, m *meter) error {
	slabs := len(b.buckets.start) - 1
	return par.Spans(ctx, slabs, 1, func(s, _ int) {
		k0, k1 := s*slab, min((s+1)*slab, b.grid.nz)
		b.clearPlanes(k0, k1)
		rays := b.rays(alongZ, k0, k1)
		for n, t := range b.buckets.items[b.buckets.start[s]:b.buckets.start[s+1]] {
			f := b.facet(t)
			if (n%chunk == 0 || f.large()) && ctx.Err() != nil {
				return
			}
			rays.cross(&f)
			b.tryFacet(ctx, &f, t, k0, k1)
		}
		m.add(1 / float64(slabs))
	})
}

func (b *builder) clearPlanes(k0, k1 int) {
	area := b.grid.nx * b.grid.ny
	for n := k0 * area; n < k1*area; n++ {
		b.near[n] = -1
		b.best[n] = reach * reach
	}
}

// tryFacet makes t the nearest facet of those nodes in planes k0 to k1 that lie nearer to it than to any before. A large
// facet is cut in two across its longest side until only nodes close by need be tried.
func (b *builder) tryFacet(ctx context.Context, f *facet, t int32, k0, k1 int) {
	level := flatOf(f)
	var todo [64]facet
	todo[0] = *f
	for n := 1; n > 0; {
		n--
		part := todo[n]
		lo, hi := part.bounds()
		if lo.z > float64(k1-1)+reach || hi.z < float64(k0)-reach {
			continue
		}
		if max(hi.x-lo.x, hi.y-lo.y, hi.z-lo.z) <= piece || n+2 > len(todo) {
			b.tryNodes(f, t, level, lo, hi, k0, k1)
			continue
		}
		if ctx.Err() != nil {
			return
		}
		todo[n], todo[n+1] = part.halves()
		n += 2
	}
}

// tryNodes measures the nodes within reach of the box lo to hi against facet f.
func (b *builder) tryNodes(f *facet, t int32, level flat, lo, hi vec, k0, k1 int) {
	g := b.grid
	i0, i1 := max(int(math.Ceil(lo.x-reach)), 0), min(int(hi.x+reach), g.nx-1)
	j0, j1 := max(int(math.Ceil(lo.y-reach)), 0), min(int(hi.y+reach), g.ny-1)
	k0, k1 = max(int(math.Ceil(lo.z-reach)), k0), min(int(hi.z+reach), k1-1)
	for k := k0; k <= k1; k++ {
		for j := j0; j <= j1; j++ {
			row := (k*g.ny + j) * g.nx
			h := level.of(vec{float64(i0), float64(j), float64(k)})
			for i := i0; i <= i1; i, h = i+1, h+level.n.x {
				if n := row + i; h*h < float64(b.best[n]) {
					p := vec{float64(i), float64(j), float64(k)}
					q, _ := f.nearest(p)
					q = q.sub(p)
					if d := float32(q.dot(q)); d < b.best[n] {
						b.best[n], b.near[n] = d, t
					}
				}
			}
		}
	}
}

// A flat is the plane where n·p = at; n has length 1, or 0 for a facet without area, which is then never ruled out.
type flat struct {
	n  vec
	at float64
}

func flatOf(f *facet) flat {
	n := f.b.sub(f.a).cross(f.c.sub(f.a))
	l := n.dot(n)
	if l < 1e-20 {
		return flat{}
	}
	l = 1 / math.Sqrt(l)
	n = vec{n.x * l, n.y * l, n.z * l}
	return flat{n, n.dot(f.a)}
}

// of is the signed distance of p.
func (p flat) of(v vec) float64 { return p.n.dot(v) - p.at }

func (f *facet) bounds() (lo, hi vec) {
	return vec{min(f.a.x, f.b.x, f.c.x), min(f.a.y, f.b.y, f.c.y), min(f.a.z, f.b.z, f.c.z)},
		vec{max(f.a.x, f.b.x, f.c.x), max(f.a.y, f.b.y, f.c.y), max(f.a.z, f.b.z, f.c.z)}
}

// large reports whether the facet takes long enough to look at the context before.
func (f *facet) large() bool {
	lo, hi := f.bounds()
	return max(hi.x-lo.x, hi.y-lo.y, hi.z-lo.z) > 4*piece
}

// halves cuts the facet from the middle of its longest side to the corner opposite.
func (f *facet) halves() (facet, facet) {
	ab, bc, ca := f.b.sub(f.a), f.c.sub(f.b), f.a.sub(f.c)
	a, b, c := f.a, f.b, f.c
	switch l := max(ab.dot(ab), bc.dot(bc), ca.dot(ca)); l {
	case bc.dot(bc):
		a, b, c = f.b, f.c, f.a
	case ca.dot(ca):
		a, b, c = f.c, f.a, f.b
	}
	mid := a.along(b.sub(a), 0.5)
	return facet{a, mid, c}, facet{mid, b, c}
}
