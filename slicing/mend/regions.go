package mend

import (
	"context"

	"grainstack/slicing/sets"
)

// A run is a stretch of like nodes along x: first to past the last, in inside.
type run struct{ from, to int32 }

// dropSpecks turns regions that hang together over faces of cells and are smaller than least nodes: loose bits of inside,
// and pockets of outside that the world outside does not reach. It returns what went.
func (l *lattice) dropSpecks(ctx context.Context, least int) (bits, pockets []bit, err error) {
	for _, value := range []uint8{1, 0} {
		runs, rows := l.runs(value)
		set, sizes, err := l.regions(ctx, runs, rows)
		if err != nil {
			return nil, nil, err
		}
		var gone []bit
		for i, r := range runs {
			s := set[i]
			if sizes[s] >= least || value == 0 && s == set[0] {
				continue
			}
			if int(s) == i {
				x, y, z := int(r.from)%l.n[0], int(r.from)/l.n[0]%l.n[1], int(r.from)/(l.n[0]*l.n[1])
				gone = append(gone, bit{float64(sizes[s]) * l.step * l.step * l.step, l.node(float64(x), float64(y), float64(z))})
			}
			for n := r.from; n < r.to; n++ {
				l.inside[n] = 1 - value
			}
		}
		if value == 1 {
			bits = gone
		} else {
			pockets = gone
		}
	}
	return bits, pockets, nil
}

// runs lists the stretches of a value, row by row, and where each row's begin.
func (l *lattice) runs(value uint8) (runs []run, rows []int32) {
	nx := l.n[0]
	rows = make([]int32, 0, l.n[1]*l.n[2]+1)
	for from := 0; from < len(l.inside); from += nx {
		rows = append(rows, int32(len(runs)))
		row := l.inside[from : from+nx]
		for x := 0; x < nx; {
			for x < nx && row[x] != value {
				x++
			}
			start := x
			for x < nx && row[x] == value {
				x++
			}
			if x > start {
				runs = append(runs, run{int32(from + start), int32(from + x)})
			}
		}
	}
	return runs, append(rows, int32(len(runs)))
}

// regions joins runs that touch; it gives the number of each run's region, which is its first run, and their sizes by
// that number.
func (l *lattice) regions(ctx context.Context, runs []run, rows []int32) (set []int32, sizes []int, err error) {
	nx, ny := int32(l.n[0]), l.n[1]
	s := sets.New(len(runs))
	match := func(a, b int, by int32) {
		i, iEnd, j, jEnd := rows[a], rows[a+1], rows[b], rows[b+1]
		for i < iEnd && j < jEnd {
			if runs[i].from+by < runs[j].to && runs[j].from < runs[i].to+by {
				s.Join(i, j)
			}
			if runs[i].to+by < runs[j].to {
				i++
			} else {
				j++
			}
		}
	}
	for r := 0; r+1 < len(rows); r++ {
		if r%ny == 0 && ctx.Err() != nil {
			return nil, nil, ctx.Err()
		}
		if r%ny > 0 {
			match(r-1, r, nx)
		}
		if r >= ny {
			match(r-ny, r, nx*int32(ny))
		}
	}
	s.Flat()
	sizes = make([]int, len(runs))
	for i := range s {
		sizes[s[i]] += int(runs[i].to - runs[i].from)
	}
	return s, sizes, nil
}
