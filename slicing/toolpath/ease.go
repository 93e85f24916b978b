package toolpath

import (
	"maps"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/program"
)

// near is how many moves may lie between two that take too much at once for all of them to be eased together.
const near = 3

// Eased is a program in which moves that take too much at once go that way higher up first, as often as it takes: there and back,
// by no more than most mm at once. deep is how much, by number, a move takes now, mm. Higher up nothing is met that isn't met below.
func Eased(m Made, deep map[int]float64, most float64) Made {
	out := m
	out.Moves = make([]program.Move, 0, len(m.Moves)+4*len(deep))
	done := 0
	for _, r := range deepRuns(m.Moves, deep) {
		if r.size <= most {
			continue
		}
		from := max(m.runUp(r, most), done)
		if from == 0 {
			continue
		}
		out.Moves = append(out.Moves, m.Moves[done:from]...)
		out.stairs(m.Moves[from-1].To, m.Moves[from:r.to], r.size, most)
		out.Moves = append(out.Moves, m.Moves[from:r.to]...)
		done = r.to
	}
	out.Moves = append(out.Moves, m.Moves[done:]...)
	return out
}

// A run is of moves from one on and before another, and the most that one of them takes at once.
type run struct {
	from, to int
	size     float64
}

// deepRuns are those that begin and end with a move that takes too much, with few others and no rapid in between.
func deepRuns(all []program.Move, deep map[int]float64) (out []run) {
	for _, i := range slices.Sorted(maps.Keys(deep)) {
		if n := len(out) - 1; n >= 0 && i-out[n].to < near && !slices.ContainsFunc(all[out[n].to:i], program.Move.Rapid) {
			out[n].to, out[n].size = i+1, max(out[n].size, deep[i])
			continue
		}
		out = append(out, run{i, i + 1, deep[i]})
	}
	return out
}

// runUp is the move with which easing a run has to begin: a cutter's width before it, so that nothing too deep lies before the
// cutter where it goes up, and on a ramp where that is no deeper than it may be.
func (m *Made) runUp(r run, most float64) int {
	way, from := 0.0, r.from
	high := m.Moves[r.from].To.Z + r.size - most
	for from > 1 && !m.Moves[from-1].Rapid() && (way < m.Cutter.Diameter || m.Moves[from-1].To.Z < high) {
		from--
		way += m.Moves[from].To.Sub(m.Moves[from-1].To).Len()
	}
	return from
}

// stairs goes along moves from a place and back, once for each step down to what they take.
func (m *Made) stairs(from geom.Vec, moves []program.Move, size, most float64) {
	last := from
	put := func(to geom.Vec, feed float64) {
		if to == last {
			return
		}
		feed = coarse(noSteeper(feed, last, to, m.Cutter.PlungeMmMin))
		m.add(to, feed)
		m.Metres += to.Sub(last).Len() / 1000
		m.Min += to.Sub(last).Len() / feed
		last = to
	}
	for n := math.Ceil(size/most) - 1; n > 0; n-- {
		lift := geom.Vec{Z: n * size / math.Ceil(size/most)}
		put(from.Add(lift), moves[0].FeedMmMin)
		for _, one := range moves {
			put(one.To.Add(lift), one.FeedMmMin)
		}
		for i := len(moves) - 2; i >= 0; i-- {
			put(moves[i].To.Add(lift), moves[i+1].FeedMmMin)
		}
		put(from.Add(lift), moves[0].FeedMmMin)
	}
	put(from, moves[0].FeedMmMin)
}
