package panel

import (
	"context"
	"math/rand/v2"
	"slices"

	"grainstack/slicing/par"
)

// chains is how many searches run side by side, each with a share of the steps; the best of them counts.
const chains = 2

// search improves loads for so many steps, or until ctx ends.
func (s *shop) search(ctx context.Context, loads []load, steps int, done *tally) []load {
	results := make([][]load, chains)
	// A ctx that ends is no failure here: what was reached by then counts.
	_ = par.Spans(context.WithoutCancel(ctx), chains, 1, func(c, _ int) {
		r := newRuin(s, loads, s.bench.rules.Seed, uint64(c))
		r.run(ctx, steps/chains+steps%chains, done)
		results[c] = r.best
	})
	best := loads
	for _, r := range results {
		if s.worth(r) > s.worth(best)+1e-12 {
			best = r
		}
	}
	return best
}

// worth of a layout: a panel fewer counts most, then panels that are full beside panels that are nearly empty, since those
// are emptied next, then parts that lie close together.
func (s *shop) worth(loads []load) (sum float64) {
	for i := range loads {
		sum += s.worthOf(&loads[i])
	}
	return sum
}

const (
	worthPanel   = 10.0
	worthFull    = 1.0
	worthCompact = 0.05
)

func (s *shop) worthOf(l *load) float64 {
	if len(l.spots)+len(l.fixed) == 0 {
		return 0
	}
	return worthFull*l.area*l.area - worthPanel - worthCompact*l.box.share(s.grid)
}

// A ruin is one search: panels are taken apart and laid again.
type ruin struct {
	*packer
	rand  *rand.Rand
	loads []load
	best  []load
	value float64 // of loads
	top   float64 // of best
	pool  []wish
}

func newRuin(s *shop, loads []load, seed, chain uint64) *ruin {
	v := s.worth(loads)
	return &ruin{packer: newPacker(s), rand: rand.New(rand.NewPCG(seed, chain)), loads: slices.Clone(loads), best: loads, value: v, top: v}
}

// settle is the last share of the steps, in which panels are only made more compact.
const settle = 0.25

// heat is how much worth may be lost in one step at the start; it falls to nothing.
const heat = 0.05

func (r *ruin) run(ctx context.Context, steps int, done *tally) {
	if len(r.loads) == 0 {
		return
	}
	turnover := int(float64(steps) * (1 - settle))
	for n := range steps {
		if ctx.Err() != nil {
			return
		}
		if n == turnover {
			r.loads, r.value = slices.Clone(r.best), r.top
		}
		loss := heat * (1 - float64(n)/float64(turnover))
		switch {
		case n >= turnover || len(r.loads) < 2:
			r.tidy(0)
		case r.rand.IntN(4) == 0:
			r.tidy(loss)
		case r.rand.IntN(2) == 0:
			r.give(loss)
		default:
			r.mix(loss)
		}
		if r.value > r.top+1e-12 {
			r.best, r.top = slices.Clone(r.loads), r.value
		}
		if n%toldEvery == toldEvery-1 {
			done.add(toldEvery)
		}
	}
}

// tidy lays one panel again and keeps it if it is no less compact, or little less.
func (r *ruin) tidy(loss float64) {
	i := r.rand.IntN(len(r.loads))
	old := &r.loads[i]
	if len(old.spots) == 0 {
		return
	}
	r.pool = r.wishes(r.pool[:0], old)
	kept := r.vary(r.pool)
	fresh := r.bared(old)
	if r.fill(&fresh, old.spots[:kept], r.pool, r.sheets[0]) == len(r.pool) {
		r.keep(loss, swap{i, fresh})
	}
}

// give moves one part to another panel, which is laid again to make room for it. Where the area would do for a panel fewer,
// what finds no room there any more is laid beside the parts that stay on the first.
func (r *ruin) give(loss float64) {
	from, to := r.pair()
	if len(r.loads[from].spots) == 0 {
		return
	}
	k := r.rand.IntN(len(r.loads[from].spots))
	gift := r.loads[from].spots[k].part
	spare := r.spare()
	if !spare && r.loads[to].area+r.shop.areas[gift] > 1 {
		return
	}
	r.pool = append(r.wishes(r.pool[:0], &r.loads[to]), wish{part: gift})
	kept := r.insert(r.pool)
	fresh := r.bared(&r.loads[to])
	laid := r.fill(&fresh, r.loads[to].spots[:kept], r.pool, r.sheets[0])
	if laid < len(r.pool) && !spare {
		return
	}
	rest := r.bared(&r.loads[from])
	for i, q := range r.loads[from].spots {
		if i != k {
			rest.add(r.shop, q)
		}
	}
	if laid < len(r.pool) {
		r.draw(r.sheets[1], &rest)
		if !r.lay(&fresh, &rest, r.pool[laid:]) {
			return
		}
	}
	r.keep(loss, swap{to, fresh}, swap{from, rest})
}

// spare reports whether the parts' area alone would do with a panel fewer.
func (r *ruin) spare() bool {
	area, panels := 0.0, 0
	for i := range r.loads {
		if l := &r.loads[i]; len(l.spots)+len(l.fixed) > 0 {
			area += l.area
			panels++
		}
	}
	return area <= float64(panels-1)
}

// mix takes two panels apart and lays their parts again.
func (r *ruin) mix(loss float64) {
	from, to := r.pair()
	r.pool = r.wishes(r.wishes(r.pool[:0], &r.loads[to]), &r.loads[from])
	r.vary(r.pool)
	a, b := r.bared(&r.loads[to]), r.bared(&r.loads[from])
	if r.spill(&a, &b, r.pool) {
		r.keep(loss, swap{to, a}, swap{from, b})
	}
}

// pair chooses two panels; the first is more often one with little on it.
func (r *ruin) pair() (from, to int) {
	from = r.rand.IntN(len(r.loads))
	for range 2 {
		if i := r.rand.IntN(len(r.loads)); len(r.loads[i].spots) > 0 && r.loads[i].area < r.loads[from].area {
			from = i
		}
	}
	to = r.rand.IntN(len(r.loads) - 1)
	if to >= from {
		to++
	}
	return from, to
}

// bared is a panel without the parts that move.
func (r *ruin) bared(l *load) load {
	out := load{base: l.base, fixed: l.fixed}
	for _, q := range l.fixed {
		out.area += r.shop.areas[r.shop.bench.index[q.Part]]
	}
	return out
}

func (r *ruin) wishes(pool []wish, l *load) []wish {
	for _, q := range l.spots {
		pool = append(pool, wish{q.part, q.turn, q.from})
	}
	return pool
}

// vary puts wishes in another order, now and then a wholly new one; it gives how many of the first stay as they are.
func (r *ruin) vary(pool []wish) (kept int) {
	if len(pool) < 2 || r.rand.IntN(4) == 0 {
		r.shuffle(pool)
		return 0
	}
	kept = len(pool)
	for range 1 + r.rand.IntN(3) {
		i, j := r.rand.IntN(len(pool)), r.rand.IntN(len(pool))
		pool[i], pool[j] = pool[j], pool[i]
		r.change(&pool[i])
		kept = min(kept, i, j)
	}
	return kept
}

// insert puts the last wish somewhere among the others, and now and then varies those too.
func (r *ruin) insert(pool []wish) (kept int) {
	last := len(pool) - 1
	if r.rand.IntN(4) == 0 {
		r.shuffle(pool)
		return 0
	}
	r.change(&pool[last])
	kept = last
	if last > 0 && r.rand.IntN(2) == 0 {
		kept = r.vary(pool[:last])
	}
	at := r.rand.IntN(len(pool))
	gift := pool[last]
	copy(pool[at+1:], pool[at:last])
	pool[at] = gift
	return min(kept, at)
}

// change gives a wish another turn and, now and then, another corner.
func (r *ruin) change(w *wish) {
	w.turn = r.rand.IntN(3) - 1
	if r.rand.IntN(4) == 0 {
		w.corner = corner(r.rand.IntN(int(corners)))
	}
}

// shuffle puts wishes in a new order, large parts mostly before small ones, and wants them in new turns and corners.
func (r *ruin) shuffle(pool []wish) {
	keys := make(map[int]float64, len(pool))
	noise := r.rand.Float64() * r.rand.Float64() * 4
	common := corner(r.rand.IntN(int(corners)))
	stray := r.rand.Float64() * float64(r.rand.IntN(2)) / 2 // share of parts laid from another corner: often none
	for i := range pool {
		w := &pool[i]
		keys[w.part] = r.shop.areas[w.part] * (1 + noise*r.rand.Float64())
		w.turn, w.corner = r.rand.IntN(3)-1, common
		if r.rand.Float64() < stray {
			w.corner = corner(r.rand.IntN(int(corners)))
		}
	}
	slices.SortStableFunc(pool, func(a, b wish) int {
		switch {
		case keys[a.part] > keys[b.part]:
			return -1
		case keys[a.part] < keys[b.part]:
			return 1
		}
		return 0
	})
}

// A swap is a panel laid again.
type swap struct {
	at  int
	now load
}

// keep puts panels in their places unless more worth than loss is lost.
func (r *ruin) keep(loss float64, swaps ...swap) {
	gain := 0.0
	for i := range swaps {
		gain += r.shop.worthOf(&swaps[i].now) - r.shop.worthOf(&r.loads[swaps[i].at])
	}
	if gain < -loss*r.rand.Float64() {
		return
	}
	for _, w := range swaps {
		r.loads[w.at] = w.now
	}
	r.value += gain
}
