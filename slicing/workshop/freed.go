package workshop

import (
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/plane"
	"grainstack/slicing/stack"
)

// freed are the parts of a layer with what the hollow cuts free of them as parts of their own, where that is large enough to be
// made, such as the tube round a bore: they come after the others.
func freed(parts []Part, hollow func(over geom.Box2) *hollowing) []Part {
	for i := range parts[:len(parts):len(parts)] {
		for _, q := range parts[i].free(hollow) {
			q.ID.Part, q.Of = len(parts), len(parts)
			parts = append(parts, q)
		}
	}
	return parts
}

// free takes out of a part what the hollow cuts free of the largest piece, and gives it piece by piece; splinters stay with the part.
func (p *Part) free(hollow func(over geom.Box2) *hollowing) (out []Part) {
	if p.through == nil {
		return nil
	}
	k := p.columns
	labels, n := plane.Components(k.nx, k.ny, func(i int) bool { return k.low[i] <= k.high[i] && !p.through[i] })
	if n < 2 {
		return nil
	}
	volumes := make([]float64, n)
	for i, at := range labels {
		if at > 0 {
			volumes[at-1] += k.column(i) * p.woodShare(i)
		}
	}
	main := slices.Index(volumes, slices.Max(volumes))
	room := plane.Distances(k.nx, k.ny, func(i int) bool { return labels[i] == 0 }, true)
	widest := make([]float64, n)
	for i, at := range labels {
		if at > 0 {
			widest[at-1] = math.Max(widest[at-1], (math.Sqrt(float64(room[i]))-0.5)*k.step)
		}
	}
	for piece, v := range volumes {
		if piece == main || v < stack.SliverVolume || widest[piece] < stack.SliverWidth/2 {
			continue
		}
		r := newRound(k, labels, int32(piece+1))
		if rim, ok := r.rim(hollow(r.area)); ok {
			out = append(out, p.piece(rim, labels, int32(piece+1)))
		}
	}
	return out
}

// piece takes one of the pieces out of the part, as a part. The hollow is all round it, so that its outline is the hollow's rim, with
// those holes of the part that lie within.
func (p *Part) piece(rim geom.Ring, labels []int32, number int32) (q Part) {
	q = *p
	q.rim, q.rims, q.through = rim, nil, slices.Clone(p.through)
	q.Shadow, q.seats = geom.Region{rim}, newSeats()
	rest := geom.Region{}
	for _, r := range p.Shadow {
		if (geom.Region{rim}).Contains(r[0]) {
			q.Shadow = append(q.Shadow, r)
		} else {
			rest = append(rest, r)
		}
	}
	q.columns = p.columns.only(func(i int) bool { return labels[i] == number })
	q.carve()
	p.columns = p.columns.only(func(i int) bool { return labels[i] > 0 && labels[i] != number })
	q.cover, p.cover = q.columns.cover, p.columns.cover
	p.Shadow, p.rims, p.seats = rest, append(slices.Clip(p.rims), rim), newSeats()
	in, hollow := plane.NewInside(geom.Region{rim}), p.hollow
	q.hollow = func(at geom.Vec2, z float64) bool { return !in.Contains(at) || hollow(at, z) }
	p.hollow = func(at geom.Vec2, z float64) bool { return in.Contains(at) || hollow(at, z) }
	return q
}

// only are the columns that are wanted.
func (k *columns) only(want func(i int) bool) *columns {
	c := *k.cover
	out := &columns{&c, slices.Clone(k.low), slices.Clone(k.high)}
	c.bits = slices.Clone(c.bits)
	for i := range c.bits {
		if !want(i) {
			c.bits[i], out.low[i], out.high[i] = 0, math.MaxFloat32, -math.MaxFloat32
		}
	}
	return out
}

// carve takes from the part's columns what of the hollow lies above and below their wood.
func (p *Part) carve() {
	k := p.columns
	for i := range k.low {
		if k.low[i] > k.high[i] {
			continue
		}
		at, low, high := k.middle(i), float64(k.low[i]), float64(k.high[i])
		const steps = 32
		first, last := steps, 0
		for n := range steps {
			if !p.hollow(at, low+(high-low)*(float64(n)+0.5)/steps) {
				first, last = min(first, n), max(last, n+1)
			}
		}
		if first < last {
			k.low[i], k.high[i] = float32(low+(high-low)*float64(first)/steps), float32(low+(high-low)*float64(last)/steps)
		}
	}
}

// mine are the rings of a region that lie on the part's side of the hollow that has cut pieces free.
func (p *Part) mine(g geom.Region) geom.Region {
	if p.rim == nil && p.rims == nil {
		return g
	}
	within, want := p.rims, false
	if p.rim != nil {
		within, want = geom.Region{p.rim}, true
	}
	return slices.DeleteFunc(slices.Clone(g), func(r geom.Ring) bool {
		in := 0
		for _, q := range r {
			if within.Contains(q) {
				in++
			}
		}
		return (2*in > len(r)) != want
	})
}

// Own is the part's solid out of those of its layer's bodies: of one that the hollow has cut in pieces those shells that lie on
// its side of the hollow rather than on another's.
func (p *Part) Own(bodies []*mesh.Mesh) *mesh.Mesh {
	whole := bodies[p.body]
	if p.rim == nil && p.rims == nil {
		return whole
	}
	shells := whole.Together(nil)
	over := make(map[int32]float64) // of each shell, how much more of it lies on the part's side than on others', seen from above, mm²
	for i, t := range whole.Triangles {
		a, b, c := whole.Corners(i)
		middle, area := a.Add(b).Add(c).Scale(1.0/3), math.Abs(b.Sub(a).Cross(c.Sub(a)).Z)/2
		if !p.side(geom.Vec2{X: middle.X, Y: middle.Y}) {
			area = -area
		}
		over[shells.Find(t[0])] += area
	}
	out := &mesh.Mesh{}
	number := make(map[int32]int32)
	for _, t := range whole.Triangles {
		if !(over[shells.Find(t[0])] > 0) {
			continue
		}
		for k, q := range t {
			if _, known := number[q]; !known {
				number[q] = int32(len(out.Points))
				out.Points = append(out.Points, whole.Points[q])
			}
			t[k] = number[q]
		}
		out.Triangles = append(out.Triangles, t)
	}
	return out
}

// side reports whether a point is on the part's side of the hollow that has cut pieces free.
func (p *Part) side(at geom.Vec2) bool {
	if p.rim != nil {
		return (geom.Region{p.rim}).Contains(at)
	}
	return !p.rims.Contains(at)
}
