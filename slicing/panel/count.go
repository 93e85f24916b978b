package panel

import "context"

const (
	// countCells is how much wider than those of a layout the cells are on which panels are only counted.
	countCells = 2
	// CountSteps is a search that counts panels in a few milliseconds.
	CountSteps = 60
)

// Count is how many panels the parts take, near enough: as Arrange lays them, but on wider cells and with a search that only
// looks for a panel fewer, and no further than the parts' area lets it. Parts that no panel holds take none. The result depends
// on the parts, the rules and the number of steps alone.
func (b *Bench) Count(ctx context.Context, steps int) (panels int, err error) {
	for _, board := range b.boards() {
		n, err := b.only(board).count(ctx, steps)
		if err != nil {
			return 0, err
		}
		panels += n
	}
	return panels, nil
}

func (b *Bench) count(ctx context.Context, steps int) (panels int, err error) {
	s, err := newShop(ctx, b, countCells)
	if err != nil {
		return 0, err
	}
	_, left, _ := s.lockedLoads(Layout{})
	loads, _, err := s.first(ctx, nil, left)
	if err != nil || len(loads) < 2 {
		return len(loads), err
	}
	r := newRuin(s, loads, b.rules.Seed, 0)
	for n := 0; n < steps && r.spare(); n++ {
		if err := ctx.Err(); err != nil {
			return 0, err
		}
		if loss := heat * (1 - float64(n)/float64(steps)); r.rand.IntN(2) == 0 {
			r.give(loss)
		} else {
			r.mix(loss)
		}
	}
	for i := range r.loads {
		if l := &r.loads[i]; len(l.spots)+len(l.fixed) > 0 {
			panels++
		}
	}
	return panels, nil
}
