package proof

import (
	"math"

	"grainstack/slicing/panel"
)

// A board is the wood of a panel as it lies with one side up. Heights are counts above the bed.
type board struct {
	want  *Wanted
	side  panel.Face
	full  int16   // its thickness
	top   []int16 // where a column's wood ends; at or below floor where there is none
	floor []int16 // where it begins
	keep  []int16 // how low the cutter may go
	high  []int16 // where the wood that is to stay ends on this side
	kind  []Kind
	whose []int16
	stood bool  // the dowels stand in their holes
	left  int16 // how thick tabs have to be left on side A, 0 for whole
}

// The marks of a board's columns beyond those of a Wanted.
const (
	dowel Kind = iota + 16 // a register dowel
	bore                   // the rim of its hole
	edge                   // of the frame, within the fuzz of its outline
)

// Counts are a height as a Wanted has it, for one in mm.
func Counts(mm float64) int16 { return int16(math.Round(max(min(mm/unit, 32000), -32000))) }

func newBoard(w *Wanted) *board {
	n := w.W * w.H
	b := &board{want: w, full: Counts(w.Blank.Board)}
	b.top, b.floor, b.keep, b.high = make([]int16, n), make([]int16, n), make([]int16, n), make([]int16, n)
	b.kind, b.whose = make([]Kind, n), make([]int16, n)
	copy(b.kind, w.Kind)
	copy(b.whose, w.Whose)
	copy(b.high, w.High)
	for i := range b.top {
		b.top[i] = b.full
	}
	b.rims()
	b.bounds()
	return b
}

// fuzz is how many columns wide the frame's outline isn't sure: a part's outline ends between columns.
const fuzz = 2

// rims marks what of the frame lies nearest to what is carved away, and the register dowels.
func (b *board) rims() {
	w := b.want
	for range fuzz {
		for j := range w.H {
			for i := range w.W {
				n := j*w.W + i
				if b.kind[n] != Frame {
					continue
				}
				for _, d := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
					x, y := i+d[0], j+d[1]
					if x >= 0 && y >= 0 && x < w.W && y < w.H && (b.kind[y*w.W+x] == Free || b.kind[y*w.W+x] == edge) {
						b.kind[n] = edge + 1
						break
					}
				}
			}
		}
		for n, k := range b.kind {
			if k == edge+1 {
				b.kind[n] = edge
			}
		}
	}
	for _, d := range w.Dowels {
		b.disc(d.At.X, d.At.Y, d.Diameter/2+rimWide, func(n int, apart float64) {
			switch {
			case apart <= d.Diameter/2:
				b.kind[n] = dowel
			case apart <= d.Diameter/2+boreFit:
				b.kind[n] = edge
			default:
				b.kind[n] = bore
			}
		})
	}
}

// The wood round a dowel's hole that has to stay, and how much wider than the dowel its hole may be, mm.
const (
	rimWide = 1.5
	boreFit = 0.3
)

// disc visits the columns of side A's lattice within a circle.
func (b *board) disc(x, y, r float64, visit func(n int, apart float64)) {
	w := b.want
	i0, i1 := max(int(math.Ceil((x-r)/w.StepX)), 0), min(int((x+r)/w.StepX), w.W-1)
	j0, j1 := max(int(math.Ceil((y-r)/w.StepY)), 0), min(int((y+r)/w.StepY), w.H-1)
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			if d := math.Hypot(float64(i)*w.StepX-x, float64(j)*w.StepY-y); d <= r {
				visit(j*w.W+i, d)
			}
		}
	}
}

// stand lets the register dowels stand in their holes.
func (b *board) stand() {
	b.stood = true
	for n, k := range b.kind {
		if k == dowel {
			b.top[n], b.floor[n] = b.full, 0
		}
	}
	b.bounds()
}

// anyDepth is a keep that nothing reaches.
const anyDepth = math.MinInt16

// bounds says for every column how low the cutter may go from the side that lies up.
func (b *board) bounds() {
	skimmed := b.full - Counts(b.want.Skim)
	for n, k := range b.kind {
		switch k {
		case Part, Tab, Pin:
			if b.keep[n] = b.high[n]; k == Tab && b.left > 0 && b.side == panel.SideA {
				b.keep[n] = min(b.keep[n], b.want.Low[n]+b.left)
			}
		case Frame, bore:
			b.keep[n] = skimmed
		case dowel:
			if b.keep[n] = anyDepth; b.stood {
				b.keep[n] = b.full
			}
		default:
			b.keep[n] = anyDepth
		}
	}
}

// turn turns the board over.
func (b *board) turn() {
	b.side = 1 - b.side
	w := b.want
	if b.side == panel.SideA {
		copy(b.high, w.High)
	} else {
		for n, low := range w.Low {
			b.high[n] = b.full - low
		}
		mirror(b.high, w)
	}
	for n, t := range b.top {
		if f := b.floor[n]; t > f {
			b.top[n], b.floor[n] = b.full-f, b.full-t
		} else {
			b.top[n], b.floor[n] = 0, 0
		}
	}
	mirror(b.top, w)
	mirror(b.floor, w)
	mirror(b.kind, w)
	mirror(b.whose, w)
	b.bounds()
}

// mirror brings figures to where their columns lie once the panel is turned over.
func mirror[T any](v []T, w *Wanted) {
	if w.TurnAlongY {
		for j := range w.H {
			row := v[j*w.W:][:w.W]
			for i, k := 0, w.W-1; i < k; i, k = i+1, k-1 {
				row[i], row[k] = row[k], row[i]
			}
		}
		return
	}
	for j, k := 0, w.H-1; j < k; j, k = j+1, k-1 {
		a, c := v[j*w.W:][:w.W], v[k*w.W:][:w.W]
		for i := range a {
			a[i], c[i] = c[i], a[i]
		}
	}
}
