package plane

import (
	"math/bits"

	"grainstack/slicing/geom"
)

// A Mask is a set of places on a grid of W by H. The zero Mask has none, and no size.
type Mask struct {
	W, H  int
	words int      // a row
	b     []uint64 // row by row, the lowest bit of a word first
}

// Reset makes the mask w x h and empty; memory is used again.
func (m *Mask) Reset(w, h int) {
	m.W, m.H, m.words = w, h, (w+63)/64
	n := m.words * h
	if cap(m.b) < n {
		m.b = make([]uint64, n)
		return
	}
	m.b = m.b[:n]
	clear(m.b)
}

// Row is row j in words, the lowest bit of a word first; what is written to it must not lie beyond the width.
func (m *Mask) Row(j int) []uint64 { return m.b[j*m.words:][:m.words] }

// Has reports whether the mask has place i, j, which may lie outside the grid.
func (m *Mask) Has(i, j int) bool {
	return i >= 0 && j >= 0 && i < m.W && j < m.H && m.b[j*m.words+i>>6]>>(i&63)&1 == 1
}

// Set takes in place i, j of the grid.
func (m *Mask) Set(i, j int) { m.b[j*m.words+i>>6] |= 1 << (i & 63) }

// SetAll makes the mask w x h with all its places.
func (m *Mask) SetAll(w, h int) {
	m.Reset(w, h)
	for i := range m.b {
		m.b[i] = ^uint64(0)
	}
	m.trim()
}

// Complement makes the mask all that a lacks.
func (m *Mask) Complement(a *Mask) {
	m.Reset(a.W, a.H)
	for i, v := range a.b {
		m.b[i] = ^v
	}
	m.trim()
}

// trim clears what lies beyond the width.
func (m *Mask) trim() {
	if spare := m.W & 63; spare != 0 {
		for j := range m.H {
			m.Row(j)[m.words-1] &= 1<<spare - 1
		}
	}
}

// Transposed is the mask with rows for columns.
func (m *Mask) Transposed() Mask {
	var out Mask
	out.Reset(m.H, m.W)
	for j := range m.H {
		for k, v := range m.Row(j) {
			for ; v != 0; v &= v - 1 {
				out.Set(j, k*64+bits.TrailingZeros64(v))
			}
		}
	}
	return out
}

// Fill takes in the places inside a region; place 0, 0 is at origin.
func (m *Mask) Fill(g geom.Region, origin geom.Vec2, step float64) {
	Spans(g, origin, step, m.W, m.H, m.SetSpan)
}

// AtMost makes the mask the places of within where the figure of z is at most high.
func (m *Mask) AtMost(z []float32, high float32, within *Mask) {
	m.Reset(within.W, within.H)
	for j := range m.H {
		row, in := m.Row(j), within.Row(j)
		for k, yes := range in {
			if yes == 0 {
				continue
			}
			var word uint64
			for n, v := range z[j*m.W+k*64 : min(j*m.W+k*64+64, (j+1)*m.W)] {
				if v <= high {
					word |= 1 << n
				}
			}
			row[k] = word & yes
		}
	}
}

// Keep takes out what o lacks.
func (m *Mask) Keep(o *Mask) {
	for i, v := range o.b {
		m.b[i] &= v
	}
}

// Remove takes out what o has.
func (m *Mask) Remove(o *Mask) {
	for i, v := range o.b {
		m.b[i] &^= v
	}
}

// Difference makes the mask what a has and b lacks.
func (m *Mask) Difference(a, b *Mask) {
	m.Reset(a.W, a.H)
	for i, v := range a.b {
		m.b[i] = v &^ b.b[i]
	}
}

// Empty reports whether the mask has no place.
func (m *Mask) Empty() bool {
	for _, v := range m.b {
		if v != 0 {
			return false
		}
	}
	return true
}

// Cropped is a window of the mask, w by h places from i0, j0 on, all of which the mask has.
func (m *Mask) Cropped(i0, j0, w, h int) Mask {
	var out Mask
	out.Reset(w, h)
	word, off := i0>>6, i0&63
	for j := range h {
		from, to := m.Row(j0 + j)[word:], out.Row(j)
		for k := range to {
			to[k] = from[k] >> off
			if off > 0 && k+1 < len(from) {
				to[k] |= from[k+1] << (64 - off)
			}
		}
	}
	out.trim()
	return out
}
