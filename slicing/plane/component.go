package plane

import "grainstack/slicing/sets"

// Components numbers the connected places of a grid of w by h where in holds, from 1 in the order in which their first places
// come; 0 elsewhere. Places that touch at a side or a corner are connected.
func Components(w, h int, in func(i int) bool) (labels []int32, n int) {
	var m Mask
	m.Reset(w, h)
	for j := range h {
		row := m.Row(j)
		for i := range w {
			if in(j*w + i) {
				row[i>>6] |= 1 << (i & 63)
			}
		}
	}
	labels = make([]int32, w*h)
	pieces := m.Pieces()
	for k, runs := range pieces {
		for _, r := range runs {
			row := labels[int(r.Row)*w:][:w]
			for i := r.From; i <= r.To; i++ {
				row[i] = int32(k + 1)
			}
		}
	}
	return labels, len(pieces)
}

// Pieces are the runs of each connected piece of a mask, row by row, in the order in which their first places come. Places that
// touch at a side or a corner are connected.
func (m *Mask) Pieces() (pieces [][]Run) {
	var runs []Run
	for j := range m.H {
		runs = m.Runs(runs, j, j)
	}
	joined := sets.New(len(runs))
	above := 0 // the first run that the next one may touch
	for i, r := range runs {
		for runs[above].Row < r.Row-1 || runs[above].Row < r.Row && runs[above].To+1 < r.From {
			above++
		}
		for k := above; k < i && runs[k].Row < r.Row && runs[k].From <= r.To+1; k++ {
			joined.Join(int32(k), int32(i))
		}
	}
	of := make([]int, len(runs)) // which piece a first run is of
	for i, r := range runs {
		first := joined.Find(int32(i))
		if first == int32(i) {
			of[i] = len(pieces)
			pieces = append(pieces, nil)
		}
		pieces[of[first]] = append(pieces[of[first]], r)
	}
	return pieces
}
