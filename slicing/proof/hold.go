package proof

import "slices"

// hold checks that every part hangs together with the panel's edges once all is carved, by wood at the same height in columns
// beside one another. Less than half of a part that comes off is a splinter: it is the piece's way, and told as such before.
func (p *prover) hold() {
	b, w := p.board, p.want
	p.line = 0
	wood := func(n int) bool { return b.top[n] > b.floor[n] }
	held := make([]bool, len(b.top))
	var todo []int32
	start := func(n int) {
		if wood(n) && !held[n] {
			held[n] = true
			todo = append(todo, int32(n))
		}
	}
	for i := range w.W {
		start(i)
		start((w.H-1)*w.W + i)
	}
	for j := range w.H {
		start(j * w.W)
		start(j*w.W + w.W - 1)
	}
	p.spread(held, todo)
	loose, all, at := map[int16]int{}, map[int16]int{}, map[int16]int{}
	for n := range held {
		if b.kind[n] != Part || !wood(n) {
			continue
		}
		all[b.whose[n]]++
		if !held[n] {
			loose[b.whose[n]]++
			at[b.whose[n]] = n
		}
	}
	tabbed := b.tabbed()
	for part, n := range loose {
		if size := float64(n) * w.StepX * w.StepY; 2*n > all[part] && !tabbed[part] {
			p.out.Unheld = append(p.out.Unheld, int(part))
		} else if 2*n > all[part] {
			p.tell(Fault{What: Loose, Part: int(part), Size: size, At: p.place(at[part], int32(b.top[at[part]]))})
		} else {
			p.out.Splintered += size
		}
	}
	slices.Sort(p.out.Unheld)
	for n := range held { // what is left is waste, each piece counted once
		if !held[n] && wood(n) {
			p.out.Loose++
			held[n] = true
			p.spread(held, []int32{int32(n)})
		}
	}
}

// tabbed are the parts that tabs stand at. What has none is for the maker to screw down, which no program knows.
func (b *board) tabbed() map[int16]bool {
	out := map[int16]bool{}
	for n, k := range b.kind {
		if k != Tab {
			continue
		}
		for _, to := range [4]int{n - 1, n + 1, n - b.want.W, n + b.want.W} {
			if to >= 0 && to < len(b.kind) && b.whose[to] > 0 {
				out[b.whose[to]] = true
			}
		}
	}
	return out
}

// spread marks what hangs together with columns.
func (p *prover) spread(held []bool, todo []int32) {
	b, w := p.board, p.want
	for len(todo) > 0 {
		n := int(todo[len(todo)-1])
		todo = todo[:len(todo)-1]
		i := n % w.W
		for k, to := range [4]int{n - 1, n + 1, n - w.W, n + w.W} {
			if k == 0 && i == 0 || k == 1 && i == w.W-1 || to < 0 || to >= len(held) || held[to] {
				continue
			}
			if min(b.top[n], b.top[to]) > max(b.floor[n], b.floor[to]) {
				held[to] = true
				todo = append(todo, int32(to))
			}
		}
	}
}
