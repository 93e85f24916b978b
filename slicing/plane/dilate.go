package plane

// Dilate makes the mask a with every place made a disc of the radius, in steps. It gives back scratch for the next time, which
// may be nil at first.
func (m *Mask) Dilate(a *Mask, radius float64, row []uint64) []uint64 {
	m.Reset(a.W, a.H)
	if cap(row) < 2*a.words {
		row = make([]uint64, 2*a.words)
	}
	out, scratch := row[:a.words], row[a.words:2*a.words]
	reach := int(radius)
	for j := range a.H {
		in := a.Row(j)
		if empty(in) {
			continue
		}
		for d := 0; d <= reach; d++ {
			copy(out, in)
			smear(out, scratch, HalfChord(radius, d))
			for _, y := range [2]int{j - d, j + d} {
				if y >= 0 && y < m.H {
					or(m.Row(y), out)
				}
			}
		}
	}
	m.trim()
	return row
}

func empty(row []uint64) bool {
	for _, v := range row {
		if v != 0 {
			return false
		}
	}
	return true
}

func or(to, from []uint64) {
	for i, v := range from {
		to[i] |= v
	}
}

// HalfChord is how many steps a disc reaches to either side in the row d steps from its middle.
func HalfChord(radius float64, d int) int {
	n := int(radius)
	for n > 0 && float64(n*n+d*d) > radius*radius {
		n--
	}
	return n
}

// smear makes every place of a row n steps wider to both sides, doubling its reach as it goes.
func smear(row, scratch []uint64, n int) {
	for done := 1; n > 0; done *= 2 {
		k := min(done, n)
		copy(scratch, row)
		left(row, scratch, k)
		right(row, scratch, k)
		n -= k
	}
}

// left adds from, moved k steps up.
func left(to, from []uint64, k int) {
	far, near := k>>6, uint(k&63)
	for i := len(to) - 1; i >= far; i-- {
		v := from[i-far] << near
		if near > 0 && i > far {
			v |= from[i-far-1] >> (64 - near)
		}
		to[i] |= v
	}
}

// right adds from, moved k steps down.
func right(to, from []uint64, k int) {
	far, near := k>>6, uint(k&63)
	for i := 0; i+far < len(to); i++ {
		v := from[i+far] >> near
		if near > 0 && i+far+1 < len(from) {
			v |= from[i+far+1] << (64 - near)
		}
		to[i] |= v
	}
}
