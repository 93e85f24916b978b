package register

import (
	"context"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

const (
	// onIt is how far, by the first scan's reach, a place may lie off another scan to lie on it: about 0.3 % of a piece's longest side;
	// roughOn is how far by their roughness where that is more.
	onIt, roughOn = 0.01, 4.0
	// facing is how far off, by the reach, the other scan may be for a place to be held against it at all: farther than it lies on it, so
	// that surfaces that meet at an angle, or in one place only, are told from those that are the same.
	facing = 0.2
	// sound is the share of places that face another scan which have to lie on it where its place was given, and surely where it was found;
	// plainly where it would lie elsewhere nearly as well. Of scans with noise of 0.1 and 0.5 % of the size that were put where they belong
	// it was 0.81 and more, with 0.1 % alone 0.98, of scans of other pieces, made as small or large as fits best, up to 0.79, and 0.83
	// where two places were as good.
	sound, surely, plainly = 0.7, 0.8, 0.9
	// leastOverlap is how much of a scan has to lie on others: less could be chance.
	leastOverlap = 0.05
)

// unsure is the rival from which on a place may be the wrong one: it was 0.75 and more where a wrong one was taken, all of pieces that look
// alike from several sides, and of others 0.63 at the most.
const unsure = 0.7

// A Fit says how well a scan lies on others.
type Fit struct {
	Overlap float64 // share of its surface that lies on another scan
	Middle  float64 // half of the places that face another scan are nearer to it than this
	Sound   float64 // share of the places that face another scan and lie on it
	Rival   float64 // how well it would lie elsewhere, by how well it lies here; 0 where its place was given. Near 1 for a piece that looks alike from several sides
	area    float64 // that lies on another scan
}

// Good reports whether the scan belongs where it lies.
func (f Fit) Good() bool { return f.Sound >= sound && f.Overlap >= leastOverlap }

// found reports whether the scan belongs where it lies, and was not put there by chance.
func (f Fit) found() bool {
	return f.Good() && f.Sound >= surely && (!f.Unsure() || f.Sound >= plainly)
}

// Unsure reports whether the scan would lie elsewhere nearly as well.
func (f Fit) Unsure() bool { return f.Rival >= unsure }

// fitOf holds places of scan a, by number, against all others.
func (s *settling) fitOf(ctx context.Context, a int, places []int32) (Fit, error) {
	l := &s.levels[a]
	s.back = s.back[:0]
	for _, p := range s.at {
		s.back = append(s.back, p.Inverse())
	}
	away := make([]float64, len(places)) // infinite where it faces none as a surface does itself, negative where it faces none at all
	err := par.Spans(ctx, len(away), 512, func(from, to int) {
		for i := from; i < to; i++ {
			away[i] = -1
			for b := range s.levels {
				if b == a {
					continue
				}
				if d := s.apart(a, b, places[i]); d >= 0 && (away[i] < 0 || d < away[i]) {
					away[i] = d
				}
			}
		}
	})
	var f Fit
	faced, all := 0.0, 0.0
	var near []float64
	on := s.on()
	for i, d := range away {
		w := float64(l.Areas[places[i]])
		all += w
		if d < 0 {
			continue
		}
		faced += w
		if !math.IsInf(d, 1) {
			near = append(near, d)
		}
		if d <= on {
			f.area += w
		}
	}
	if len(near) == 0 {
		return f, err
	}
	slices.Sort(near)
	f.Middle, f.Overlap, f.Sound = near[len(near)/2], f.area/all, f.area/faced
	f.area *= s.at[a].Scale * s.at[a].Scale
	return f, err
}

// apart is how far place i of scan a lies from scan b: infinite where b looks another way there, negative where b lies far or was not
// seen.
func (s *settling) apart(a, b int, i int32) float64 {
	j, x := s.nearest(a, b, i, facing*s.reach)
	if j < 0 {
		return -1
	}
	if l := s.linked(a, b, i, j, x); l.n != (geom.Vec{}) {
		return math.Abs(l.away)
	}
	return math.Inf(1)
}

// on is how far a place may lie off another scan to lie on it.
func (s *settling) on() float64 {
	out := onIt * s.reach
	for i, l := range s.levels {
		out = math.Max(out, roughOn*l.rough*s.at[i].Scale)
	}
	return out
}
