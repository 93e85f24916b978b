package panel

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"grainstack/slicing/geom"
)

// A spot is a part on a sheet.
type spot struct {
	part int
	turn int // 0 or 1: which of the part's two turns
	x, y int32
	from corner // where it was laid from
}

// A load is a panel being filled: what is fixed on it and what may still move.
type load struct {
	base  *sheet   // what is taken before any part that moves
	fixed []Placed // locked parts, and parts that fit between cells only
	spots []spot
	area  float64 // of all its parts, in parts of the panel
	box   extent  // round the parts that move
}

// Steps is a search that brings thirty parts near to what a much longer one does, within a second or two.
const Steps = 12000

// Rearrange lays all parts on the fewest panels that the search finds, and then as compactly as it can. No steps give the
// first layout, largest parts first; more steps never make it worse. The result depends on the parts, the rules and the
// number of steps alone, unless ctx runs out of time first: then it is the best one so far. A cancelled ctx is an error. Locked parts
// of the layout from are left where they are, on panels of the same number; it fails when they collide. tell, which may be nil, is
// told how far the search is, from 0 to 1: never by two at once, and never with less than before.
func (b *Bench) Rearrange(ctx context.Context, from Layout, steps int, tell func(done float64)) (Layout, error) {
	return b.rearrange(ctx, from, steps, newTally(steps, tell))
}

func (b *Bench) rearrange(ctx context.Context, from Layout, steps int, done *tally) (Layout, error) {
	if boards := b.boards(); len(boards) > 1 {
		return b.rearrangeBoards(ctx, boards, from, steps, done)
	}
	shop, err := newShop(ctx, b, 1)
	if err != nil {
		return Layout{}, err
	}
	loads, left, err := shop.lockedLoads(from)
	if err != nil {
		return Layout{}, err
	}
	loads, misfits, err := shop.first(ctx, loads, left)
	if err != nil {
		return Layout{}, err
	}
	if steps > 0 {
		loads = shop.search(ctx, loads, steps, done)
	}
	if err := ctx.Err(); errors.Is(err, context.Canceled) {
		return Layout{}, err
	}
	out := shop.layout(loads)
	out.TooLarge = misfits
	if clash := b.Check(out); len(clash) > 0 {
		return Layout{}, fmt.Errorf("panel: %v on panel %d %v", clash[0].Part, clash[0].Panel, clash[0].Hit)
	}
	return out, nil
}

// lockedLoads are panels with the locked parts of a layout, by number, and the parts that are left to lay.
func (s *shop) lockedLoads(from Layout) (loads []load, left []int, err error) {
	held := make(map[int]bool)
	locked := Layout{}
	for _, p := range from.Panels {
		var keep []Placed
		for _, q := range p.Placed {
			if i, known := s.bench.index[q.Part]; known && q.Locked && !held[i] {
				held[i] = true
				keep = append(keep, q)
			}
		}
		if len(keep) > 0 {
			if p.Number < 1 || p.Number > len(from.Panels)+len(s.bench.parts) {
				return nil, nil, fmt.Errorf("panel: there is no panel %d", p.Number)
			}
			locked.Panels = append(locked.Panels, Panel{Number: p.Number, Placed: keep})
		}
	}
	if clash := s.bench.Check(locked); len(clash) > 0 {
		return nil, nil, fmt.Errorf("%w: %v on panel %d %v", errLocked, clash[0].Part, clash[0].Panel, clash[0].Hit)
	}
	for _, p := range locked.Panels {
		for len(loads) < p.Number {
			loads = append(loads, load{base: s.bare})
		}
		l := &loads[p.Number-1]
		l.base = s.bare.clone()
		for _, q := range p.Placed {
			s.fix(l, q)
		}
	}
	for i := range s.bench.parts {
		if !held[i] {
			left = append(left, i)
		}
	}
	return loads, left, nil
}

// fix puts a part on a panel for good. The panel's base is its own.
func (s *shop) fix(l *load, q Placed) {
	o, _ := s.bench.outlineOf(q)
	s.drawPlaced(l.base, o, q.At)
	l.fixed = append(l.fixed, q)
	l.area += s.areas[s.bench.index[q.Part]]
}

// first lays the parts one by one, the largest first, each on the first panel that has room.
func (s *shop) first(ctx context.Context, loads []load, left []int) ([]load, []Misfit, error) {
	slices.SortStableFunc(left, func(a, b int) int { return cmp.Compare(s.areas[b], s.areas[a]) })
	sheets := make([]*sheet, len(loads))
	for i := range loads {
		sheets[i] = loads[i].base.clone()
	}
	p := newPacker(s)
	var misfits []Misfit
	for _, i := range left {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		on, at := -1, spot{}
		for n := range loads {
			if loads[n].area+s.areas[i] > 1 {
				continue
			}
			if q, ok := p.place(sheets[n], i, bothTurns, 0); ok {
				on, at = n, q
				break
			}
		}
		if on < 0 {
			fresh := s.bare.clone()
			q, ok := p.place(fresh, i, bothTurns, 0)
			if !ok {
				placed, ok := s.between(i)
				if !ok {
					misfits = append(misfits, s.misfit(i))
					continue
				}
				l := load{base: s.bare.clone()}
				s.fix(&l, placed)
				loads, sheets = append(loads, l), append(sheets, l.base.clone())
				continue
			}
			loads, sheets = append(loads, load{base: s.bare}), append(sheets, fresh)
			on, at = len(loads)-1, q
		}
		loads[on].add(s, at)
	}
	return loads, misfits, nil
}

func (l *load) add(s *shop, q spot) {
	l.spots = append(l.spots, q)
	l.area += s.areas[q.part]
	l.box = l.box.with(s, q)
}

// layout writes the panels out, the fullest first; panels with locked parts keep their numbers.
func (s *shop) layout(loads []load) Layout {
	number := make([]int, len(loads))
	var free []int
	for i, l := range loads {
		number[i] = i + 1
		if len(l.spots)+len(l.fixed) > 0 && !l.locked() {
			free = append(free, i)
		}
	}
	slices.SortStableFunc(free, func(a, b int) int { return cmp.Compare(loads[b].area, loads[a].area) })
	next := 1
	for _, i := range free {
		for next <= len(loads) && loads[next-1].locked() {
			next++
		}
		number[i] = next
		next++
	}
	var out Layout
	for i, l := range loads {
		if p := s.panel(l); len(p.Placed) > 0 {
			p.Number = number[i]
			out.Panels = append(out.Panels, p)
		}
	}
	slices.SortFunc(out.Panels, func(a, b Panel) int { return cmp.Compare(a.Number, b.Number) })
	return out
}

func (l *load) locked() bool {
	return slices.ContainsFunc(l.fixed, func(p Placed) bool { return p.Locked })
}

func (s *shop) panel(l load) Panel {
	p := Panel{Placed: slices.Clone(l.fixed), UsedPercent: 100 * l.area}
	for _, q := range l.spots {
		p.Placed = append(p.Placed, s.placed(q))
	}
	slices.SortFunc(p.Placed, func(a, b Placed) int {
		return cmp.Or(cmp.Compare(a.Part.Layer, b.Part.Layer), cmp.Compare(a.Part.Part, b.Part.Part))
	})
	return p
}

// placed is where a spot is on its panel.
func (s *shop) placed(q spot) Placed {
	part := s.bench.parts[q.part]
	corner := geom.Vec2{X: float64(q.x), Y: float64(q.y)}.Scale(s.grid.step).Add(s.corner())
	return Placed{Part: part.ID, TurnDeg: part.turns()[q.turn], At: corner.Sub(s.bench.cuts[q.part][q.turn].box.Min)}
}
