package panel

import "math"

// clearances gives for each cell of a mask the squared distance, in cells, from its middle to the middle of the nearest cell
// that is not marked; cells beyond the mask are not. After Felzenszwalb & Huttenlocher: the lower envelope of parabolas, one
// axis after the other.
func clearances(m *mask) []float32 {
	out := make([]float32, m.columns*m.rows)
	for i := range m.columns {
		columnDistance(m, i, out[i*m.rows:(i+1)*m.rows])
	}
	n := m.columns + 2 // with an empty column at either side
	line, at, from := make([]float64, n), make([]int, n), make([]float64, n+1)
	for j := range m.rows {
		line[0], line[n-1] = 0, 0
		for i := range m.columns {
			line[i+1] = float64(out[i*m.rows+j])
		}
		last := envelope(line, at, from)
		k := 0
		for i := 1; i < n-1; i++ {
			for k < last && from[k+1] < float64(i) {
				k++
			}
			d := float64(i - at[k])
			out[(i-1)*m.rows+j] = float32(d*d + line[at[k]])
		}
	}
	return out
}

// columnDistance is the squared distance along one column.
func columnDistance(m *mask, i int, out []float32) {
	col := m.column(i)
	away := 0
	for j := range out {
		away++
		if col[j>>6]>>(j&63)&1 == 0 {
			away = 0
		}
		out[j] = float32(away)
	}
	away = 0
	for j := len(out) - 1; j >= 0; j-- {
		away = min(away+1, int(out[j]))
		out[j] = float32(away * away)
	}
}

// envelope finds the parabolas that are lowest somewhere: at their places, from where each is the lowest; it gives the last.
func envelope(line []float64, at []int, from []float64) (last int) {
	at[0], from[0] = 0, math.Inf(-1)
	for q := 1; q < len(line); q++ {
		s := 0.0
		for {
			v := at[last]
			s = (line[q] + float64(q*q) - line[v] - float64(v*v)) / float64(2*(q-v))
			if s > from[last] {
				break
			}
			last--
		}
		last++
		at[last], from[last] = q, s
	}
	from[last+1] = math.Inf(1)
	return last
}
