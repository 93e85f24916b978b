package plane

import "math/bits"

// A Run is what a row has side by side: places From up to and with To.
type Run struct{ Row, From, To int32 }

// Runs appends the runs of row j under the number row.
func (m *Mask) Runs(out []Run, j, row int) []Run {
	open, start := false, 0
	for k, v := range m.Row(j) {
		if open {
			v = ^v
		}
		for v != 0 {
			n := bits.TrailingZeros64(v)
			if open {
				out = append(out, Run{int32(row), int32(start), int32(k*64 + n - 1)})
			} else {
				start = k*64 + n
			}
			open = !open
			v = ^v &^ (1<<n - 1)
		}
	}
	if open {
		out = append(out, Run{int32(row), int32(start), int32(m.W - 1)})
	}
	return out
}
