package hours

import (
	"math"

	"grainstack/slicing/geom"
)

const (
	// flatEnough is the least that is worth a ramp, mm.
	flatEnough = 0.2
	// mostPasses is how often a ramp goes to and fro on a short way at the most; then it is steeper than wanted.
	mostPasses = 40
)

// How steep a ramp is, in mm down for each mm along it, at the least and the most: about 3 and 10 degrees (common practice, no
// source).
const (
	gentle = 0.052
	steep  = 0.176
)

// rampSlope is how much a ramp falls for each mm along it: as much as takes the cutter down at half its plunge feed, so that it
// cuts with its sides rather than its end.
func (w *worker) rampSlope() float64 {
	return min(max(w.motion.plunge/w.motion.feed/2, gentle), steep)
}

// passes is over how much of a way a ramp of some depth goes, and how often: an even number of times, so that it ends where it
// begins. On a way too short for a ramp it is none.
func (w *worker) passes(way, deep float64) (length float64, n int) {
	slope := w.rampSlope()
	length = min(way, deep/slope/2)
	if !(length > w.radius()/2) {
		return 0, 0 // straight down, no deeper than the cutter takes at once
	}
	n = 2 * int(math.Ceil(deep/(2*length*slope)-1e-9))
	return length, min(max(n, 2), mostPasses)
}

// rampRow goes down from a height to and fro along the beginning of a row, and ends at the row's first place, on it. The row's
// heights are left as they are.
func (w *worker) rampRow(heights []float32, x, dx, y, above float64) {
	deep := above - float64(heights[0])
	for _, h := range heights {
		deep = max(deep, above-float64(h))
	}
	length, n := w.passes(float64(len(heights)-1)*w.Step, deep)
	cols := min(int(math.Ceil(length/w.Step)), len(heights)-1)
	if n == 0 || cols < 1 {
		w.plungeTo(place{x, y, float64(heights[0])})
		return
	}
	w.slope = w.slope[:0]
	for range cols + 1 {
		w.slope = append(w.slope, 0)
	}
	for k := range n {
		for i := range cols + 1 {
			share := (float64(k) + float64(i)/float64(cols)) / float64(n)
			at := i
			if k%2 == 1 {
				at = cols - i
			}
			w.slope[i] = max(float32(above-deep*share), heights[at])
		}
		if k%2 == 0 {
			w.strokes(w.slope, x, dx, y)
		} else {
			w.strokes(w.slope, x+float64(cols)*dx, -dx, y)
		}
	}
	w.to(place{x, y, float64(heights[0])})
}

// rampLine goes down to z to and fro along the beginning of a line, and ends where it begins.
func (w *worker) rampLine(line []geom.Vec2, z, above float64) {
	way := 0.0
	for k := 1; k < len(line); k++ {
		way += line[k].Sub(line[k-1]).Len()
	}
	length, n := w.passes(way, above-z)
	if n == 0 {
		w.plungeTo(place{line[0].X, line[0].Y, z})
		return
	}
	for k := range n {
		from, to := above-(above-z)*float64(k)/float64(n), above-(above-z)*float64(k+1)/float64(n)
		w.partOf(line, length, k%2 == 1, from, to)
	}
}

// partOf goes along so much of a line's beginning, or back, from one height to another.
func (w *worker) partOf(line []geom.Vec2, length float64, back bool, from, to float64) {
	places, gone := []geom.Vec2{line[0]}, []float64{0}
	for k := 1; k < len(line) && gone[len(gone)-1] < length; k++ {
		d := line[k].Sub(line[k-1])
		step, before := d.Len(), gone[len(gone)-1]
		share := 1.0
		if before+step > length {
			share = (length - before) / step
		}
		places, gone = append(places, line[k-1].Add(d.Scale(share))), append(gone, before+step*share)
	}
	all := gone[len(gone)-1]
	for i := range places {
		at, share := i, gone[i]/all
		if back {
			at = len(places) - 1 - i
			share = 1 - gone[at]/all
		}
		w.down(place{places[at].X, places[at].Y, from + (to-from)*share})
	}
}

// spiral goes down to z round a closed line, and says at which of its corners it has come to be there.
func (w *worker) spiral(line []geom.Vec2, first int, z, above float64) int {
	round := geom.Ring(line).Perimeter()
	if !(round > 0) {
		w.to(place{line[first].X, line[first].Y, z})
		return first
	}
	slope := max(w.rampSlope(), (above-z)/(mostPasses*round))
	down, k := above, first
	for down > z {
		p, q := line[k%len(line)], line[(k+1)%len(line)]
		d := q.Sub(p)
		if step := d.Len(); down-step*slope > z {
			down -= step * slope
			w.down(place{q.X, q.Y, down})
		} else {
			if share := (down - z) / slope / max(step, 1e-9); share < 1 {
				w.down(place{p.X + d.X*share, p.Y + d.Y*share, z})
			}
			down = z
			w.down(place{q.X, q.Y, z})
		}
		k++
	}
	return k % len(line)
}

// plungeShare is the share of the stepdown that is plunged: what is narrower than columns stands yet.
const plungeShare = 0.75

// plungeTo goes straight down to p, or as far as may be.
func (w *worker) plungeTo(p place) {
	if w.stands != nil && w.probing == 0 {
		p.z = max(p.z, w.bite(p.x, p.y)+(1-plungeShare)*w.stands.most)
	}
	w.to(p)
}

// down goes straight on to a place of a ramp, or as low there as the tip may.
func (w *worker) down(p place) {
	if w.probe == nil {
		w.to(p)
		return
	}
	p.z = w.probe(p.x, p.y, p.z)
	if w.stands != nil {
		p.z = max(p.z, w.bite(p.x, p.y)+(1-plungeShare)*w.stands.most)
	}
	w.held = false
	w.over(p, math.Inf(-1))
}
