package hours

import (
	"math"

	"grainstack/slicing/plane"
)

// chord is how far the straight stretches of a finish row may lie off the tip's surface, mm (common practice, no source).
const chord = 0.02

// finish goes over all that lies within the carve boundary in rows at the stepover, up and down with the tip's surface.
func (w *worker) finish() {
	over := w.setup.Finish.Stepover
	rows := over / w.Step
	w.chains.runs = w.chains.runs[:0]
	for k := 0; ; k++ {
		y := (float64(k) + 0.5) * rows
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
			w.finishRow(r, (float64(r.Row)+0.5)*rows, right, n == 0)
			right = !right
		}
	})
}

// prepare makes room for a row.
func (w *worker) prepare() {
	if len(w.row) < w.W {
		w.row = make([]float32, w.W)
	}
	for n := len(w.shares); n <= w.W; n++ {
		w.shares = append(w.shares, 1/(float64(n)*w.Step))
	}
}

// finishRow goes along one run of the row at y, in steps of the raster.
func (w *worker) finishRow(r plane.Run, y float64, right, first bool) {
	z, x, dx := w.lay(w.Finish, r, y, right)
	p := place{x, y * w.Step, float64(z[0])}
	if first {
		w.land(p)
	} else {
		w.to(p)
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
		return z, float64(r.To) * w.Step, -w.Step
	}
	for i, a := range low {
		z[i] = a + t*(high[i]-a)
	}
	return z, float64(r.From) * w.Step, w.Step
}

// strokes cuts along heights that are dx apart from x0 on, in straight stretches as long as they stay within chord of all:
// from the last corner on, the slopes that pass every height so far near enough are kept.
func (w *worker) strokes(z []float32, x0, dx, y float64) {
	at, from := 0, float64(z[0])
	low, high := math.Inf(-1), math.Inf(1)
	for i := 1; i < len(z); i++ {
		share := w.shares[i-at]
		rise := float64(z[i]) - from
		if slope := rise * share; slope < low || slope > high {
			at, from = i-1, float64(z[i-1])
			w.to(place{x0 + float64(at)*dx, y, from})
			share, rise = w.shares[1], float64(z[i])-from
			low, high = (rise-chord)*share, (rise+chord)*share
			continue
		}
		low, high = max(low, (rise-chord)*share), min(high, (rise+chord)*share)
	}
	if n := len(z) - 1; n > at {
		w.to(place{x0 + float64(n)*dx, y, float64(z[n])})
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
	w.hop(p, left+landing)
}
