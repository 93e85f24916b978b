package plane

import "grainstack/slicing/sets"

// Pieces are the runs of each connected piece of a mask, row by row. Places that touch at a side or a corner are connected.
func (m *Mask) Pieces() [][]Run {
	var runs []Run
	var rows []int // where each row's runs begin
	for j := range m.H {
		rows = append(rows, len(runs))
		runs = m.Runs(runs, j, j)
	}
	rows = append(rows, len(runs))
	joined := sets.New(len(runs))
	for j := 1; j < m.H; j++ {
		a, b := rows[j-1], rows[j]
		for a < rows[j] && b < rows[j+1] {
			if runs[a].From <= runs[b].To+1 && runs[b].From <= runs[a].To+1 {
				joined.Join(int32(a), int32(b))
			}
			if runs[a].To < runs[b].To {
				a++
			} else {
				b++
			}
		}
	}
	var out [][]Run
	at := make(map[int32]int)
	for i, r := range runs {
		root := joined.Find(int32(i))
		k, known := at[root]
		if !known {
			k, at[root] = len(out), len(out)
			out = append(out, nil)
		}
		out[k] = append(out[k], r)
	}
	return out
}
