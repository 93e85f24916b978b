package compass

import (
	"math"
	"slices"

	"grainstack/slicing/geom"
)

// A Map is what has been found. It never changes: With gives another one.
type Map struct {
	Bearings []Bearing // the present stand first, then in the order in which they were asked for
	Rough    bool      // some are rough
	Moved    float64   // mm between the piece and the surface that most are taken from, at the most
	Even     int       // directions spread evenly; the others lie round the best places
}

// worthwhile is how many grains apart the best and the worst have to be for a measure to count in full.
const worthwhile = 5

// Score is what a bearing costs by the weights: each measure runs from 0 for the best found to 1 for the worst, and the sum
// is divided by the weights' sum. It is 0 where all weights are. Where the found differ by less than a few grains of a measure,
// the worst of them costs less than 1: what nobody minds decides nothing.
func (m *Map) Score(w Weights) []float64 {
	scores := make([]float64, len(m.Bearings))
	total := 0.0
	for k, weight := range w {
		if !(weight > 0) {
			continue
		}
		total += weight
		low, high := m.span(Measure(k))
		span := math.Max(high-low, worthwhile*traits[k].grain)
		if !(span > 0) {
			continue
		}
		for i := range m.Bearings {
			v := Measure(k).Of(&m.Bearings[i])
			if Measure(k).More() {
				v = high - v
			} else {
				v -= low
			}
			scores[i] += weight * v / span
		}
	}
	for i := range scores {
		if total > 0 {
			scores[i] /= total
		}
	}
	return scores
}

// Range is the least and the greatest figure of a measure; both 0 for an empty map.
func (m *Map) span(of Measure) (low, high float64) {
	for i := range m.Bearings {
		v := of.Of(&m.Bearings[i])
		if i == 0 {
			low, high = v, v
		}
		low, high = math.Min(low, v), math.Max(high, v)
	}
	return low, high
}

// Stands reports whether the piece stands on its foot by itself.
func (b *Bearing) Stands() bool { return b.TipDeg > 0 }

// offered marks the bearings that may be called best: those on which the piece stands, where the weights say that this counts and
// there are any; else all.
func (m *Map) offered(w Weights) []bool {
	free, any := make([]bool, len(m.Bearings)), false
	for i := range free {
		free[i] = !(w[Tip] > 0) || m.Bearings[i].Stands()
		any = any || free[i]
	}
	for i := range free {
		free[i] = free[i] || !any
	}
	return free
}

// allBearings marks every bearing.
func (m *Map) allBearings() []bool {
	free := make([]bool, len(m.Bearings))
	for i := range free {
		free[i] = true
	}
	return free
}

// Best is the bearing that costs least by the weights, the earlier where two cost the same; ok is false for an empty map. One on
// which the piece falls over is never the best while the tilt that it stands has a weight, unless it falls over on all.
func (m *Map) Best(w Weights) (index int, ok bool) {
	best := m.Peaks(w, 1, 0)
	if len(best) == 0 {
		return 0, false
	}
	return best[0], true
}

// Peaks are up to n bearings that cost least by the weights, the best first, no two within an angle of each other; of those on
// which the piece falls over as Best.
func (m *Map) Peaks(w Weights, n int, apart float64) []int {
	return m.peaks(m.Score(w), m.offered(w), n, apart)
}

// peaks are those that cost least of the ones that are free.
func (m *Map) peaks(scores []float64, free []bool, n int, apart float64) (out []int) {
	free = slices.Clone(free)
	for len(out) < n {
		best := -1
		for i := range scores {
			if free[i] && (best < 0 || scores[i] < scores[best]) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		out = append(out, best)
		for i := range free {
			free[i] = free[i] && i != best && between(m.Bearings[i].Up, m.Bearings[best].Up) >= apart
		}
	}
	return out
}

// Unbeaten marks the bearings that no other beats: one that is worse in no measure that has a weight, and better in one.
// Figures are told in steps of the measure's grain, so that what nobody minds beats nothing. With all weights 0 nothing
// beats anything.
func (m *Map) Unbeaten(w Weights) []bool {
	steps := make([][Measures]float64, len(m.Bearings))
	for i := range steps {
		steps[i] = costs(&m.Bearings[i], w)
	}
	free := make([]bool, len(steps))
	for i := range free {
		free[i] = true
		for k := range steps {
			if beats(&steps[k], &steps[i]) {
				free[i] = false
				break
			}
		}
	}
	return free
}

// costs are a bearing's figures in steps of the grain, less being better; 0 for measures without a weight.
func costs(b *Bearing, w Weights) (c [Measures]float64) {
	for k, weight := range w {
		if !(weight > 0) {
			continue
		}
		c[k] = Measure(k).Of(b)
		if g := traits[k].grain; g > 0 {
			c[k] = math.Round(c[k] / g)
		}
		if Measure(k).More() {
			c[k] = -c[k]
		}
	}
	return c
}

func beats(a, b *[Measures]float64) bool {
	better := false
	for k := range a {
		if a[k] > b[k] {
			return false
		}
		better = better || a[k] < b[k]
	}
	return better
}

// Nearest is the bearing whose axis is nearest to that along d; ok is false for an empty map.
func (m *Map) Nearest(d geom.Vec) (index int, ok bool) {
	for i := range m.Bearings {
		if between(m.Bearings[i].Up, d) < between(m.Bearings[index].Up, d) {
			index = i
		}
	}
	return index, len(m.Bearings) > 0
}
