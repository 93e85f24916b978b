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
	// facing is how many times that the other scan may be off for a place to be held against it at all.
	facing = 6
	// sound is the share of places that face another scan which have to lie on it. Scans that belong together have 0.85 and more,
	// scans of other pieces seldom half.
	sound = 0.7
	// leastOverlap is how much of a scan has to lie on others: less could be chance.
	leastOverlap = 0.05
)

// unsure is the rival from which on a place may be the wrong one. On pieces that look alike from several sides it was 0.76 and more where
// the wrong one was taken, on others 0.57 at the most, but for one coarse animal that is told with 0.93 though it lies where it belongs.
const unsure = 0.7

// chance and ample tell a place that was found from one that is chance: a scan of another piece, made small or large enough, lies
// somewhere on anything. Of 42 pairs of scans of seven pieces that don't belong together 19 had a good fit, with rivals from 0.58 up and
// overlaps up to 0.52; of 14 that do, all with a rival over 0.35 overlapped by 0.66 and more.
const (
	chance = 0.57
	ample  = 0.58
)

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
func (f Fit) found() bool { return f.Good() && (f.Rival < chance || f.Overlap >= ample) }

// Unsure reports whether the scan would lie elsewhere nearly as well.
func (f Fit) Unsure() bool { return f.Rival >= unsure }

// fitOf holds scan a against all others.
func (s *settling) fitOf(ctx context.Context, a int) (Fit, error) {
	l := &s.levels[a]
	s.back = s.back[:0]
	for _, p := range s.at {
		s.back = append(s.back, p.Inverse())
	}
	away := make([]float64, len(l.Points)) // infinite where no scan is faced
	err := par.Spans(ctx, len(away), 512, func(from, to int) {
		for i := from; i < to; i++ {
			away[i] = math.Inf(1)
			for b := range s.levels {
				if b == a {
					continue
				}
				if k := s.link(a, b, int32(i), facing*s.on()); k.n != (geom.Vec{}) {
					away[i] = math.Min(away[i], math.Abs(k.away))
				}
			}
		}
	})
	var f Fit
	faced, all := 0.0, 0.0
	var near []float64
	for i, d := range away {
		w := float64(l.Areas[i])
		all += w
		if math.IsInf(d, 1) {
			continue
		}
		faced += w
		near = append(near, d)
		if d <= s.on() {
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

// on is how far a place may lie off another scan to lie on it.
func (s *settling) on() float64 {
	out := onIt * s.reach
	for i, l := range s.levels {
		out = math.Max(out, roughOn*l.rough*s.at[i].Scale)
	}
	return out
}
