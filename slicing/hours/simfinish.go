package hours

import (
	"math"

	"grainstack/slicing/plane"
)

// chord is how far the straight stretches of a row may lie off the tip's surface, mm (common practice, no source); true for a
// path that a machine is to follow.
const (
	chord     = 0.02
	trueChord = 0.01
)

// rowAt is where the k-th of rows lies that are so many raster rows apart: on a raster row where they are whole ones.
func rowAt(k int, rows float64) float64 {
	y := (float64(k) + 0.5) * rows
	if whole := math.Round(rows); math.Abs(rows-whole) < 1e-9 {
		return math.Floor(y + 1e-6)
	}
	return y
}

// finish goes over all that lies within the carve boundary in rows at the stepover, up and down with the tip's surface.
func (w *worker) finish() {
	over := w.setup.Finish.Stepover
	rows := over / w.Step
	w.chains.runs = w.chains.runs[:0]
	for k := 0; ; k++ {
		y := rowAt(k, rows)
		if y > float64(w.H-1) {
			break
		}
		w.chains.runs = w.mayFinish.Runs(w.chains.runs, int(math.Round(y)), k)
	}
	w.chains.build()
	w.chains.order(w.whereabouts(rows), rows, func(s start) {
		w.turn = w.chains.along(w.turn[:0], s)
		right := s.right
		for n, r := range w.turn {
			if n&15 == 0 && w.halt() {
				return
			}
			w.finishRow(w.turn[:n+1], rowAt(int(r.Row), rows), right)
			right = !right
		}
	})
}

// finishRow goes along the last of a chain's runs, that of the row at y, in steps of the raster.
func (w *worker) finishRow(runs []plane.Run, y float64, right bool) {
	n := len(runs) - 1
	z, x, dx := w.lay(w.Finish, runs[n], y, right)
	p := place{x, y * w.Step, float64(z[0])}
	if n == 0 || !w.step(p, runs[n-1], runs[n], w.Finish, 0, &w.mayFinish) {
		w.land(p)
	}
	w.strokes(z, x, dx, p.y)
}

// lay brings the heights of a run of the row at y, in steps of the raster, into the order in which they are gone along: from
// x on, dx apart.
func (w *worker) lay(tips []float32, r plane.Run, y float64, fromRight bool) (z []float32, x, dx float64) {
	j := min(int(y), w.H-2)
	t := float32(y - float64(j))
	n := int(r.To-r.From) + 1
	low, high := tips[j*w.W+int(r.From):][:n], tips[(j+1)*w.W+int(r.From):][:n]
	z = w.row[:n]
	if fromRight {
		for i, a := range low {
			z[n-1-i] = a + t*(high[i]-a)
		}
		x, dx = float64(r.To)*w.Step, -w.Step
	} else {
		for i, a := range low {
			z[i] = a + t*(high[i]-a)
		}
		x, dx = float64(r.From)*w.Step, w.Step
	}
	if w.probe != nil && t > 0 && t < 1 {
		for i := range z {
			z[i] = float32(w.probe(x+float64(i)*dx, y*w.Step, float64(z[i])))
		}
	}
	return z, x, dx
}

// strokes cuts along heights that are dx apart from x0 on, in straight stretches as long as they stay near enough to all: from
// the last corner on, the slopes that pass every height so far near enough are kept.
func (w *worker) strokes(z []float32, x0, dx, y float64) {
	w.between(z, x0, dx, y)
	within := chord
	if w.probe != nil {
		within = trueChord
	}
	xs, zs := w.xs, w.zs
	at, x, from := 0, xs[0], zs[0]
	low, high := math.Inf(-1), math.Inf(1)
	for i := 1; i < len(xs); i++ {
		share := 1 / math.Abs(xs[i]-x)
		rise := zs[i] - from
		if slope := rise * share; slope < low || slope > high {
			at, x, from = i-1, xs[i-1], zs[i-1]
			w.to(place{x, y, from})
			share, rise = 1/math.Abs(xs[i]-x), zs[i]-from
			low, high = (rise-within)*share, (rise+within)*share
			continue
		}
		low, high = max(low, (rise-within)*share), min(high, (rise+within)*share)
	}
	if n := len(xs) - 1; n > at {
		w.to(place{xs[n], y, zs[n]})
	}
}

// land brings the finish cutter to the start of a chain: along the surface where that is a few rows away at the most and
// within the boundary, or else with a hop that comes down at rapid to just above what the rough pass may have left.
func (w *worker) land(p place) {
	const few = 5
	if w.at.z < w.safe && math.Hypot(p.x-w.at.x, p.y-w.at.y) <= few*w.setup.Finish.Stepover && w.sees(p, &w.mayFinish) {
		w.across(p, w.Finish, 0)
		return
	}
	left := min(p.z+w.setup.Rough.Stepdown+w.setup.Leave, w.Thickness+w.Skim)
	w.hop(p, w.clearOf(p, left)+landing)
}
