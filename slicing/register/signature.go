package register

import (
	"context"
	"math"

	"grainstack/slicing/cloud"
	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

const (
	bins   = 11       // of each of three angles
	traits = 3 * bins // of a signature
)

// A signature says how the surface round a point is bent, whichever way it lies and however large it is: histograms of three angles
// between the normals of the points round it.
type signature [traits]float32

// signatures are those of all points of a cloud, of what lies within r of each.
func signatures(ctx context.Context, l *level, r float64) ([]signature, error) {
	n := len(l.Points)
	own, out := make([]signature, n), make([]signature, n)
	around := make([][]int32, n)
	err := par.Spans(ctx, n, 64, func(from, to int) {
		for i := from; i < to; i++ {
			around[i] = l.tree.Around(l.Points[i].Vec(), r, nil)
			own[i] = simple(l.Cloud, int32(i), around[i])
		}
	})
	if err != nil {
		return nil, err
	}
	err = par.Spans(ctx, n, 64, func(from, to int) {
		for i := from; i < to; i++ {
			out[i] = widened(l.Cloud, own, int32(i), around[i], r)
		}
	})
	return out, err
}

// simple is the histogram of the pairs that a point makes with those around it, by their areas.
func simple(c *cloud.Cloud, i int32, around []int32) (s signature) {
	p, n := c.Points[i].Vec(), c.Normals[i].Vec()
	sum := float32(0)
	for _, j := range around {
		d := c.Points[j].Vec().Sub(p)
		if j == i || d == (geom.Vec{}) {
			continue
		}
		// The frame of the pair: its first axis is p's normal (Rusu and others, section II).
		m, u := c.Normals[j].Vec(), d.Unit()
		v := u.Cross(n).Unit()
		w := n.Cross(v)
		a := c.Areas[j]
		put(s[:bins], v.Dot(m), 1, a)
		put(s[bins:2*bins], n.Dot(u), 1, a)
		put(s[2*bins:], math.Atan2(w.Dot(m), n.Dot(m)), math.Pi, a)
		sum += a
	}
	if sum > 0 {
		for k := range s {
			s[k] /= sum
		}
	}
	return s
}

// put adds weight to the two bins that a value from -most to most lies between.
func put(h []float32, v, most float64, weight float32) {
	x := (v/most + 1) / 2 * bins
	at := math.Max(0, math.Min(bins-1.001, x-0.5))
	k := int(at)
	share := float32(at - float64(k))
	h[k] += (1 - share) * weight
	h[k+1] += share * weight
}

// widened is a point's histogram with those around it, nearer ones for more.
func widened(c *cloud.Cloud, own []signature, i int32, around []int32, r float64) (s signature) {
	p := c.Points[i].Vec()
	var sum float32
	for _, j := range around {
		if j == i {
			continue
		}
		w := c.Areas[j] / float32(math.Max(0.1, c.Points[j].Vec().Sub(p).Len()/r))
		sum += w
		for k, v := range own[j] {
			s[k] += w * v
		}
	}
	for k := range s {
		if sum > 0 {
			s[k] /= sum
		}
		s[k] += own[i][k]
	}
	return s
}

// unlike is the squared distance of two signatures, most or more where it is no less than that.
func (s *signature) unlike(o *signature, most float32) float32 {
	sum := float32(0)
	for part := 0; part < traits; part += bins {
		for k := part; k < part+bins; k++ {
			d := s[k] - o[k]
			sum += d * d
		}
		if sum >= most {
			return sum
		}
	}
	return sum
}
