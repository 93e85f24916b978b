package plane

import (
	"math/bits"

	"grainstack/slicing/geom"
)

// A Border is what parts two sets of places, by the squares of Contours: lines between the middles of places, with the region
// on their left. Opposite corners of a square are kept apart. Where the grid or the places looked at end, lines are open.
type Border struct {
	w       int
	next    []int32 // from side to side, by sideOf; one more than the side, 0 is none
	into    []bool  // by side: the border comes here from another
	touched []int32
	z       []float32
	high    float32
	line    []geom.Vec2
	short   []geom.Vec2
}

// Trace finds the border between region and the rest of within. Where z has figures it passes between two places where they
// reach high, else half-way.
func (b *Border) Trace(region, within *Mask, z []float32, high float32) {
	b.w, b.z, b.high = region.W, z, high
	if n := 2 * region.W * region.H; cap(b.next) < n {
		b.next, b.into = make([]int32, n), make([]bool, n)
	} else {
		b.forget()
		b.next, b.into = b.next[:n], b.into[:n]
	}
	b.touched = b.touched[:0]
	for j := range region.H - 1 {
		lo, hi := region.Row(j), region.Row(j+1)
		inLo, inHi := within.Row(j), within.Row(j+1)
		for k := range lo {
			lo1, hi1 := shifted(lo, k), shifted(hi, k)
			all := inLo[k] & inHi[k] & shifted(inLo, k) & shifted(inHi, k)
			mixed := (lo[k] ^ hi[k]) | (lo1 ^ hi1) | (lo[k] ^ lo1)
			for v := mixed & all; v != 0; v &= v - 1 {
				n := bits.TrailingZeros64(v)
				b.square(j*b.w+k*64+n, lo[k]>>n&1|lo1>>n&1<<1|hi1>>n&1<<2|hi[k]>>n&1<<3)
			}
		}
	}
}

// shifted is word k of a row with each place's right neighbour in its stead.
func shifted(row []uint64, k int) uint64 {
	v := row[k] >> 1
	if k+1 < len(row) {
		v |= row[k+1] << 63
	}
	return v
}

func (b *Border) forget() {
	for _, e := range b.touched {
		b.next[e], b.into[e] = 0, false
	}
}

func (b *Border) square(at int, corners uint64) {
	sides := sidesOf(at, b.w)
	for _, l := range squares[corners] {
		from, to := sides[l.from], sides[l.to]
		b.next[from], b.into[to] = to+1, true
		b.touched = append(b.touched, from, to)
	}
}

// Each calls do for every line of the border, open ones first, drawn with as few corners as keep it true to within steps,
// places step apart; a line is only lent. The trace is used up.
func (b *Border) Each(step, within float64, do func(line []geom.Vec2, closed bool)) {
	for _, open := range [2]bool{true, false} {
		for _, e := range b.touched {
			if b.next[e] == 0 || open && b.into[e] {
				continue
			}
			b.line = b.line[:0]
			at := e
			for b.next[at] != 0 {
				b.line = append(b.line, b.crossing(at).Scale(step))
				to := b.next[at] - 1
				b.next[at] = 0
				at = to
			}
			if closed := at == e; !closed {
				b.line = append(b.line, b.crossing(at).Scale(step))
			}
			b.short = fewer(b.short[:0], b.line, at == e, within*step)
			do(b.short, at == e)
		}
	}
	b.forget()
	b.touched = b.touched[:0]
}

// crossing is where the border passes a side, in steps.
func (b *Border) crossing(side int32) geom.Vec2 {
	share := 0.5
	if b.z != nil {
		from, to := endsOf(side, b.w)
		if p, q := b.z[from], b.z[to]; p != q && max(p, q) >= b.high {
			share = min(max(float64((b.high-p)/(q-p)), 0), 1)
		}
	}
	return onSide(side, b.w, share)
}
