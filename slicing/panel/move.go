package panel

import (
	"context"
	"slices"
)

// Spread lays parts of a layout, one after the other, where this bench's margin is free round them: on the last panel of their
// board that has such a place, their own included. Parts without such a place, and locked ones, stay where they are. moved is
// how many were laid elsewhere. The layout given is left as it is.
func (b *Bench) Spread(ctx context.Context, l Layout, ids []ID) (out Layout, moved int, err error) {
	s, err := newShop(ctx, b, 1)
	if err != nil {
		return l, 0, err
	}
	out = Layout{TooLarge: l.TooLarge}
	var sheets []*sheet
	for _, p := range l.Panels {
		if err := ctx.Err(); err != nil {
			return l, 0, err
		}
		on := s.bare.clone()
		m := newMask(s.grid.columns, s.grid.rows)
		for _, q := range p.Placed {
			if o, known := b.outlineOf(q); known {
				m.draw(o, q.At.Sub(s.corner()), b.rules.apart(), s.grid.step)
			}
		}
		on.mark(&m)
		sheets = append(sheets, on)
		p.Placed = slices.Clone(p.Placed)
		out.Panels = append(out.Panels, p)
	}
	pack := newPacker(s)
	for _, id := range ids {
		if err := ctx.Err(); err != nil {
			return l, 0, err
		}
		if s.spread(&out, sheets, pack, id) {
			moved++
		}
	}
	for n := len(out.Panels); n > 0 && len(out.Panels[n-1].Placed) == 0; n-- {
		out.Panels = out.Panels[:n-1]
	}
	return out, moved, nil
}

// spread lays one part elsewhere.
func (s *shop) spread(l *Layout, sheets []*sheet, pack *packer, id ID) bool {
	i, known := s.bench.index[id]
	number, at, laid := l.Find(id)
	if !known || !laid || at.Locked {
		return false
	}
	for k, p := range slices.Backward(l.Panels) {
		if board, ok := s.bench.Board(p); ok && board != s.bench.parts[i].Board {
			continue
		}
		q, ok := pack.place(sheets[k], i, bothTurns, 0)
		if !ok {
			continue
		}
		from := slices.IndexFunc(l.Panels, func(p Panel) bool { return p.Number == number })
		l.Panels[from].Placed = slices.DeleteFunc(l.Panels[from].Placed, func(o Placed) bool { return o.Part == id })
		l.Panels[from].UsedPercent -= 100 * s.areas[i]
		l.Panels[k].Placed = append(l.Panels[k].Placed, s.placed(q))
		l.Panels[k].UsedPercent += 100 * s.areas[i]
		return true
	}
	return false
}
