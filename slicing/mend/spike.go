package mend

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

const (
	// spikeCone is how alike the directions of all edges at a point must be for a spike's tip: the length of their mean;
	// they lie within about 10° of one line.
	spikeCone = 0.985
	// spikeLong is how many times the mesh's mean edge a spike is long.
	spikeLong = 3
)

// facets finds facets without area.
func (v *surveyor) facets() error {
	n := len(v.m.Triangles)
	lists := make([][]int32, (n+span-1)/span)
	err := par.Spans(v.ctx, n, span, func(from, to int) {
		for i := from; i < to; i++ {
			a, b, c := v.m.Corners(i)
			if w := b.Sub(a).Cross(c.Sub(a)); w == (geom.Vec{}) {
				lists[from/span] = append(lists[from/span], int32(i))
			}
		}
	})
	var all []int32
	for _, l := range lists {
		all = append(all, l...)
	}
	v.spots(ZeroArea, all)
	return err
}

// A lean is the sum of the directions of the edges that leave a point, and of their lengths.
type lean struct{ x, y, z, length, count float32 }

// spikes finds points from which all edges go almost the same way, and far.
func (v *surveyor) spikes() error {
	leans := make([]lean, len(v.m.Points))
	total, edges := 0.0, 0
	for i, t := range v.m.Triangles {
		if i&(1<<16-1) == 0 && v.ctx.Err() != nil {
			return v.ctx.Err()
		}
		for k := range 3 { // each facet's side counts at both ends: rims once, others twice
			p, q := v.m.Points[t[k]], v.m.Points[t[(k+1)%3]]
			x, y, z := q[0]-p[0], q[1]-p[1], q[2]-p[2]
			l := float32(math.Sqrt(float64(x*x + y*y + z*z)))
			if !(l > 0) {
				continue
			}
			total += float64(l)
			edges++
			inv := 1 / l
			leans[t[k]].add(x*inv, y*inv, z*inv, l)
			leans[t[(k+1)%3]].add(-x*inv, -y*inv, -z*inv, l)
		}
	}
	if edges == 0 {
		return nil
	}
	long := float32(spikeLong * total / float64(edges))
	for p, s := range leans {
		if s.count < 4 || s.length < long*s.count {
			continue
		}
		if s.x*s.x+s.y*s.y+s.z*s.z > spikeCone*spikeCone*s.count*s.count {
			v.list(Spike, v.m.Points[p].Vec(), float64(s.length/s.count))
		}
	}
	return nil
}

func (s *lean) add(x, y, z, l float32) {
	s.x, s.y, s.z = s.x+x, s.y+y, s.z+z
	s.length += l
	s.count++
}
