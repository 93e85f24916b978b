package program

import "math"

const (
	// chordOff is how far chords in place of an arc may lie off it, mm.
	chordOff = 0.005
	// oddRadius is how much an arc's radius may differ between its ends once they are rounded, in counts: the standard bears two
	// (see package rs274).
	oddRadius = 1.9
)

// arc writes an arc as G2 or G3. It is false, and nothing is written, where the controller takes none or where rounding would
// make another arc of it.
func (w *writer) arc(m Move) bool {
	if !w.m.Arcs || !w.set[0] || !w.set[1] || !w.set[2] {
		return false
	}
	to := [3]int64{w.counts(0, m.To.X), w.counts(1, m.To.Y), w.counts(2, m.To.Z)}
	i, j := w.counts(0, m.Middle.X)-w.at[0], w.counts(1, m.Middle.Y)-w.at[1]
	r, end := math.Hypot(float64(i), float64(j)), math.Hypot(float64(w.at[0]+i-to[0]), float64(w.at[1]+j-to[1]))
	round := m.To.X == w.last.X && m.To.Y == w.last.Y
	same := to[0] == w.at[0] && to[1] == w.at[1]
	if math.Abs(r-end) > oddRadius || r < 10 || same != round {
		return false
	}
	place, _ := w.decimals()
	start, mode := len(w.buf), 3
	if m.Turn == Clockwise {
		mode = 2
	}
	if mode != w.mode {
		w.buf = append(w.buf, 'G', '0'+byte(mode))
	}
	w.word('X', to[0], place, start)
	w.word('Y', to[1], place, start)
	if to[2] != w.at[2] {
		w.word('Z', to[2], place, start)
	}
	w.word('I', i, place, start)
	w.word('J', j, place, start)
	w.at, w.mode = to, mode
	w.feedWord(m.FeedMmMin, start)
	w.end()
	return true
}
