package mend

import (
	"context"
	"math"

	"grainstack/slicing/par"
)

const (
	// sure is how many of the six points that three axes can give settle a node; fewer, and the winding number decides.
	sure = 4
	// block is the edge of the cubes of nodes that are decided together where no facet is near.
	block = 4
	// clear is how far from one half a winding number must be to decide for a whole block.
	clearOfHalf = 0.3
)

// decide settles which nodes are inside: by the lines of three axes where they agree, by the winding number where not. It
// reports how many nodes the winding number was asked for.
func (l *lattice) decide(ctx context.Context, t *windingTree, report func(float64)) (asked int, err error) {
	votes := make([]int8, l.n[0]*l.n[1]*l.n[2])
	for a := range 3 {
		ls := &l.lines[a]
		nv := l.n[(a+2)%3]
		err := par.Spans(ctx, nv, 1, func(v, _ int) {
			for u := range ls.nu {
				l.vote(votes, a, u, v)
			}
		})
		if err != nil {
			return 0, err
		}
		report(0.1 * float64(a+1))
	}
	asked, err = l.ask(ctx, t, votes, report)
	l.inside = make([]uint8, len(votes))
	for i, v := range votes {
		if v > 0 {
			l.inside[i] = 1
		}
	}
	return asked, err
}

// vote adds what one line says of its nodes: 2 for or against where it comes out even and never leaves more than it has
// entered; 1 where it does not but says the same from both ends; nothing where the ends differ.
func (l *lattice) vote(votes []int8, a, u, v int) {
	meets := l.lines[a].of(u, v)
	first := u*l.stride((a+1)%3) + v*l.stride((a+2)%3)
	step, n := l.stride(a), l.n[a]
	all, even := 0, true
	for _, m := range meets {
		if m.into {
			all++
		} else {
			all--
		}
		even = even && all >= 0
	}
	even = even && all == 0
	from, sum := 0, 0
	give := func(to int) {
		vote := int8(-2)
		switch in, back := sum > 0, sum-all > 0; {
		case even && in:
			vote = 2
		case even:
		case in != back:
			vote = 0
		case in:
			vote = 1
		default:
			vote = -1
		}
		for i := from; i < to; i++ {
			votes[first+i*step] += vote
		}
		from = to
	}
	for _, m := range meets {
		if to := min(max(int(math.Ceil(float64(m.at))), from), n); to > from {
			give(to)
		}
		if m.into {
			sum++
		} else {
			sum--
		}
	}
	give(n)
}

// ask turns the votes that are not sure into sure ones by the winding number.
func (l *lattice) ask(ctx context.Context, t *windingTree, votes []int8, report func(float64)) (asked int, err error) {
	var nb [3]int
	for k := range nb {
		nb[k] = (l.n[k] + block - 1) / block
	}
	near := l.nearSurface(nb)
	counts := make([]int, nb[2]*nb[1])
	done := newShare(nb[1]*nb[2], 0.3, 0.7, report)
	err = par.Spans(ctx, nb[1]*nb[2], 1, func(row, _ int) {
		for x := 0; x < nb[0] && ctx.Err() == nil; x++ {
			counts[row] += l.askBlock(ctx, t, votes, [3]int{x, row % nb[1], row / nb[1]}, near[row*nb[0]+x])
		}
		done.add()
	})
	for _, c := range counts {
		asked += c
	}
	return asked, err
}

// nearSurface marks the blocks in or next to which a line meets a facet.
func (l *lattice) nearSurface(nb [3]int) []bool {
	hit := make([]bool, nb[0]*nb[1]*nb[2])
	for a := range 3 {
		ls := &l.lines[a]
		u, v := (a+1)%3, (a+2)%3
		for i := range len(ls.start) - 2 {
			for _, m := range ls.meets[ls.start[i]:ls.start[i+1]] {
				var at [3]int
				at[a], at[u], at[v] = int(m.at)/block, i%ls.nu/block, i/ls.nu/block
				hit[(at[2]*nb[1]+at[1])*nb[0]+at[0]] = true
			}
		}
	}
	out := make([]bool, len(hit))
	for z := range nb[2] {
		for y := range nb[1] {
			for x := range nb[0] {
				if !hit[(z*nb[1]+y)*nb[0]+x] {
					continue
				}
				for k := max(z-1, 0); k <= min(z+1, nb[2]-1); k++ {
					for j := max(y-1, 0); j <= min(y+1, nb[1]-1); j++ {
						for i := max(x-1, 0); i <= min(x+1, nb[0]-1); i++ {
							out[(k*nb[1]+j)*nb[0]+i] = true
						}
					}
				}
			}
		}
	}
	return out
}

// askBlock settles the unsure nodes of one block and says how many times it asked.
func (l *lattice) askBlock(ctx context.Context, t *windingTree, votes []int8, b [3]int, near bool) (asked int) {
	unsure := 0
	visit := func(do func(n, x, y, z int)) {
		for z := b[2] * block; z < min((b[2]+1)*block, l.n[2]); z++ {
			for y := b[1] * block; y < min((b[1]+1)*block, l.n[1]); y++ {
				for x := b[0] * block; x < min((b[0]+1)*block, l.n[0]); x++ {
					if n := (z*l.n[1]+y)*l.n[0] + x; votes[n] < sure && votes[n] > -sure {
						do(n, x, y, z)
					}
				}
			}
		}
	}
	visit(func(_, _, _, _ int) { unsure++ })
	if unsure == 0 || ctx.Err() != nil {
		return 0
	}
	if !near {
		const half = (block - 1) / 2.0
		w := t.winding(l.node(float64(b[0]*block)+half, float64(b[1]*block)+half, float64(b[2]*block)+half))
		asked++
		if math.Abs(w-0.5) > clearOfHalf {
			visit(func(n, _, _, _ int) { votes[n] = voteOf(w) })
			return asked
		}
	}
	visit(func(n, x, y, z int) {
		votes[n] = voteOf(t.winding(l.node(float64(x), float64(y), float64(z))))
		asked++
	})
	return asked
}

func voteOf(w float64) int8 {
	if w > 0.5 {
		return sure
	}
	return -sure
}
