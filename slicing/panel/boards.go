package panel

import (
	"cmp"
	"context"
	"fmt"
	"slices"
)

// boards are the boards that the parts are carved from, that of most parts first, else in the order in which they come.
func (b *Bench) boards() []string {
	var out []string
	count := make(map[string]int)
	for _, p := range b.parts {
		if count[p.Board]++; count[p.Board] == 1 {
			out = append(out, p.Board)
		}
	}
	slices.SortStableFunc(out, func(p, q string) int { return count[q] - count[p] })
	return out
}

// Board is what a panel is sawn from: the board of its parts. ok is false where none of them is known.
func (b *Bench) Board(p Panel) (board string, ok bool) {
	for _, q := range p.Placed {
		if i, known := b.index[q.Part]; known {
			return b.parts[i].Board, true
		}
	}
	return "", false
}

// only is the bench with the parts of one board.
func (b *Bench) only(board string) *Bench {
	out := &Bench{rules: b.rules, index: make(map[ID]int)}
	for i, p := range b.parts {
		if p.Board == board {
			out.index[p.ID] = len(out.parts)
			out.parts, out.cuts = append(out.parts, p), append(out.cuts, b.cuts[i])
		}
	}
	return out
}

// rearrangeBoards lays the parts of each board by themselves, with the share of the steps that is theirs by number. Panels
// with locked parts keep their numbers; the others take those that are left, board by board.
func (b *Bench) rearrangeBoards(ctx context.Context, boards []string, from Layout, steps int, done *tally) (Layout, error) {
	for _, p := range lockedOf(from).Panels {
		if len(p.Placed) > 0 && (p.Number < 1 || p.Number > len(from.Panels)+len(b.parts)) {
			return Layout{}, fmt.Errorf("panel: there is no panel %d", p.Number)
		}
	}
	if clash := b.Check(lockedOf(from)); len(clash) > 0 {
		return Layout{}, fmt.Errorf("%w: %v on panel %d %v", errLocked, clash[0].Part, clash[0].Panel, clash[0].Hit)
	}
	var out Layout
	taken := make(map[int]bool)
	var free []Panel
	for _, board := range boards {
		own := b.only(board)
		held, numbers := own.renumbered(from)
		l, err := own.rearrange(ctx, held, steps*len(own.parts)/len(b.parts), done)
		if err != nil {
			return Layout{}, err
		}
		out.TooLarge = append(out.TooLarge, l.TooLarge...)
		for _, p := range l.Panels {
			if p.Number > len(numbers) {
				free = append(free, p)
				continue
			}
			p.Number = numbers[p.Number-1]
			taken[p.Number] = true
			out.Panels = append(out.Panels, p)
		}
	}
	next := 1
	for _, p := range free {
		for taken[next] {
			next++
		}
		p.Number, taken[next] = next, true
		out.Panels = append(out.Panels, p)
	}
	slices.SortFunc(out.Panels, func(p, q Panel) int { return cmp.Compare(p.Number, q.Number) })
	return out, nil
}

// lockedOf is a layout without the parts that may move.
func lockedOf(l Layout) (out Layout) {
	for _, p := range l.Panels {
		p.Placed = slices.DeleteFunc(slices.Clone(p.Placed), func(q Placed) bool { return !q.Locked })
		out.Panels = append(out.Panels, p)
	}
	return out
}

// renumbered are the panels of a layout with locked parts of this bench, counted anew from 1, and the numbers that they had.
func (b *Bench) renumbered(l Layout) (out Layout, numbers []int) {
	for _, p := range l.Panels {
		p.Placed = slices.DeleteFunc(slices.Clone(p.Placed), func(q Placed) bool {
			_, known := b.index[q.Part]
			return !known || !q.Locked
		})
		if len(p.Placed) == 0 {
			continue
		}
		numbers = append(numbers, p.Number)
		p.Number = len(numbers)
		out.Panels = append(out.Panels, p)
	}
	return out, numbers
}
