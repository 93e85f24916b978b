package hours

import (
	"math"
	"math/bits"

	"grainstack/slicing/geom"
)

// A stencil is a raster of yes and no: row j is the words from j·words on, its lowest bit first.
type stencil struct {
	w, h, words int
	b           []uint64
}

// shape makes the stencil w x h and all no; memory is used again.
func (s *stencil) shape(w, h int) {
	s.w, s.h, s.words = w, h, (w+63)/64
	n := s.words * h
	if cap(s.b) < n {
		s.b = make([]uint64, n)
		return
	}
	s.b = s.b[:n]
	clear(s.b)
}

func (s *stencil) row(j int) []uint64 { return s.b[j*s.words:][:s.words] }

func (s *stencil) has(i, j int) bool {
	return i >= 0 && j >= 0 && i < s.w && j < s.h && s.b[j*s.words+i>>6]>>(i&63)&1 == 1
}

func (s *stencil) set(i, j int) { s.b[j*s.words+i>>6] |= 1 << (i & 63) }

func (s *stencil) clear(i, j int) { s.b[j*s.words+i>>6] &^= 1 << (i & 63) }

// turnOver is what a is not.
func (s *stencil) turnOver(a *stencil) {
	s.shape(a.w, a.h)
	for i, v := range a.b {
		s.b[i] = ^v
	}
	s.trim()
}

// trim clears what lies beyond the width.
func (s *stencil) trim() {
	if spare := s.w & 63; spare != 0 {
		for j := range s.h {
			s.row(j)[s.words-1] &= 1<<spare - 1
		}
	}
}

// transposed is the stencil with rows for columns.
func (s *stencil) transposed() stencil {
	var out stencil
	out.shape(s.h, s.w)
	for j := range s.h {
		for k, v := range s.row(j) {
			for ; v != 0; v &= v - 1 {
				out.set(j, k*64+bits.TrailingZeros64(v))
			}
		}
	}
	return out
}

// inside says yes at the places inside a region (non-zero winding); place 0, 0 is at origin.
func (s *stencil) inside(g geom.Region, origin geom.Vec2, step float64) {
	box := g.Box()
	j0, j1 := int(math.Floor((box.Min.Y-origin.Y)/step)), int(math.Ceil((box.Max.Y-origin.Y)/step))
	turns := make([]int32, s.w+1)
	for j := max(j0, 0); j <= min(j1, s.h-1); j++ {
		clear(turns)
		y := origin.Y + float64(j)*step
		for _, r := range g {
			for n, a := range r {
				b := r[(n+1)%len(r)]
				if (a.Y <= y) == (b.Y <= y) {
					continue
				}
				x := (a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y) - origin.X) / step
				at := int(min(max(math.Ceil(x), 0), float64(s.w)))
				if a.Y <= y {
					turns[at]--
				} else {
					turns[at]++
				}
			}
		}
		sum := int32(0)
		for i := range s.w {
			if sum += turns[i]; sum != 0 {
				s.set(i, j)
			}
		}
	}
}

// fill says yes where the figure of z is at most high, and only where within does.
func (s *stencil) fill(z []float32, high float32, within *stencil) {
	s.shape(within.w, within.h)
	for j := range s.h {
		row, in := s.row(j), within.row(j)
		for k, yes := range in {
			if yes == 0 {
				continue
			}
			var word uint64
			for n, v := range z[j*s.w+k*64 : min(j*s.w+k*64+64, (j+1)*s.w)] {
				if v <= high {
					word |= 1 << n
				}
			}
			row[k] = word & yes
		}
	}
}

// without takes out of s what o has.
func (s *stencil) without(o *stencil) {
	for i, v := range o.b {
		s.b[i] &^= v
	}
}

// lacks is what s has and o lacks.
func (s *stencil) lacks(a, b *stencil) {
	s.shape(a.w, a.h)
	for i, v := range a.b {
		s.b[i] = v &^ b.b[i]
	}
}

// none says that the stencil is empty.
func (s *stencil) none() bool {
	for _, v := range s.b {
		if v != 0 {
			return false
		}
	}
	return true
}

// wider is a with every yes made a disc of the radius, in steps. row is scratch.
func (s *stencil) wider(a *stencil, radius float64, row []uint64) []uint64 {
	s.shape(a.w, a.h)
	if cap(row) < 2*a.words {
		row = make([]uint64, 2*a.words)
	}
	out, scratch := row[:a.words], row[a.words:2*a.words]
	reach := int(radius)
	for j := range a.h {
		in := a.row(j)
		if empty(in) {
			continue
		}
		for d := 0; d <= reach; d++ {
			copy(out, in)
			smear(out, scratch, halfChord(radius, d))
			for _, y := range [2]int{j - d, j + d} {
				if y >= 0 && y < s.h {
					or(s.row(y), out)
				}
			}
		}
	}
	s.trim()
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

// halfChord is how many steps a disc reaches to either side in the row d steps from its middle.
func halfChord(radius float64, d int) int {
	n := int(radius)
	for n > 0 && float64(n*n+d*d) > radius*radius {
		n--
	}
	return n
}

// smear makes every yes of a row n steps wider to both sides, doubling its reach as it goes.
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

// A run is what a row has side by side: columns from up to and with to.
type run struct{ row, from, to int32 }

// runs appends the runs of row j under the number row.
func (s *stencil) runs(out []run, j, row int) []run {
	open, start := false, 0
	for k, v := range s.row(j) {
		if open {
			v = ^v
		}
		for v != 0 {
			n := bits.TrailingZeros64(v)
			if open {
				out = append(out, run{int32(row), int32(start), int32(k*64 + n - 1)})
			} else {
				start = k*64 + n
			}
			open = !open
			v = ^v &^ (1<<n - 1)
		}
	}
	if open {
		out = append(out, run{int32(row), int32(start), int32(s.w - 1)})
	}
	return out
}
