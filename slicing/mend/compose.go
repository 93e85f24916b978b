package mend

import (
	"context"

	"grainstack/slicing/par"
)

// corners of a cell are numbered x + 2y + 4z; a cell's code has a bit for each corner that is inside.

// faces are the corners of a cell's six sides, going round.
var faces = [6][4]uint8{{0, 1, 3, 2}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 3, 7, 6}, {0, 2, 6, 4}, {1, 3, 7, 5}}

// pinched reports whether the cell with this code has a side on which only opposite corners are inside, or inside or
// outside only at two opposite corners of all: places where a surface would touch itself.
func pinched(code uint8) bool {
	if code == 0 || code == 255 {
		return false
	}
	for _, f := range faces {
		a, b, c, d := code>>f[0]&1, code>>f[1]&1, code>>f[2]&1, code>>f[3]&1
		if a == c && b == d && a != b {
			return true
		}
	}
	for i := range uint8(4) {
		if pair := uint8(1<<i | 1<<(7-i)); code == pair || code == ^pair {
			return true
		}
	}
	return false
}

// pinchedCodes is pinched for all codes.
func pinchedCodes() (out [256]bool) {
	for c := range out {
		out[c] = pinched(uint8(c))
	}
	return out
}

// code is the code of the cell whose corner 0 is node n.
func (l *lattice) code(n int) uint8 {
	s := l.inside
	ny, nz := l.n[0], l.n[0]*l.n[1]
	return s[n] | s[n+1]<<1 | s[n+ny]<<2 | s[n+ny+1]<<3 | s[n+nz]<<4 | s[n+nz+1]<<5 | s[n+nz+ny]<<6 | s[n+nz+ny+1]<<7
}

// compose adds nodes to the inside until no cell is pinched (a well-composed set: Latecki, Eckhardt, Rosenfeld, Computer
// Vision and Image Understanding 61(1), 1995). Each time the outer corner with the most neighbours inside is taken. It
// returns how many nodes were added.
func (l *lattice) compose(ctx context.Context) (added int, err error) {
	bad := pinchedCodes()
	nz := l.n[2] - 1
	lists := make([][]int32, nz)
	err = par.Spans(ctx, nz, 1, func(z, _ int) {
		for y := range l.n[1] - 1 {
			n := (z*l.n[1] + y) * l.n[0]
			for x := range l.n[0] - 1 {
				if bad[l.code(n+x)] {
					lists[z] = append(lists[z], int32(n+x))
				}
			}
		}
	})
	if err != nil {
		return 0, err
	}
	var todo []int32
	for i := nz - 1; i >= 0; i-- {
		todo = append(todo, lists[i]...)
	}
	for len(todo) > 0 {
		if added&255 == 0 && ctx.Err() != nil {
			return 0, ctx.Err()
		}
		n := int(todo[len(todo)-1])
		todo = todo[:len(todo)-1]
		if !bad[l.code(n)] {
			continue
		}
		p := l.filler(n)
		l.inside[p] = 1
		added++
		for c := range 8 {
			if q := p - l.cornerOffset(c); l.hasCell(q) && bad[l.code(q)] {
				todo = append(todo, int32(q))
			}
		}
	}
	return added, nil
}

func (l *lattice) cornerOffset(c int) int {
	return c&1 + (c>>1&1)*l.n[0] + (c>>2&1)*l.n[0]*l.n[1]
}

// hasCell reports whether a node is corner 0 of a cell.
func (l *lattice) hasCell(n int) bool {
	if n < 0 {
		return false
	}
	x, y, z := n%l.n[0], n/l.n[0]%l.n[1], n/(l.n[0]*l.n[1])
	return x < l.n[0]-1 && y < l.n[1]-1 && z < l.n[2]-1
}

// filler is the outer node of a pinched cell that has the most neighbours inside.
func (l *lattice) filler(n int) int {
	best, most := -1, -1
	code := l.code(n)
	for c := range 8 {
		if code>>c&1 == 1 {
			continue
		}
		p := n + l.cornerOffset(c)
		count := 0
		for a := range 3 {
			s := l.stride(a)
			for _, q := range [2]int{p - s, p + s} {
				if q >= 0 && q < len(l.inside) {
					count += int(l.inside[q])
				}
			}
		}
		if count > most {
			best, most = p, count
		}
	}
	return best
}
