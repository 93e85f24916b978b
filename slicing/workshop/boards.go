package workshop

import (
	"slices"

	"grainstack/slicing/finding"
	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// Cost is what the boards of all kinds cost in the maker's money, 0 where no price is set.
func (b Boards) Cost() (cost float64) {
	for _, s := range b {
		cost += s.Saw.Cost
	}
	return cost
}

// saw plans the boards: the board of most layers first, then every other that a panel is of.
func (w *Workshop) saw(c *stock.Catalogue) {
	usual, _ := w.For.BoardIn(c)
	w.Boards = Boards{{Board: usual}}
	other := make(map[int]bool)
	for _, p := range w.Layout.Panels {
		key := w.BoardOf(p)
		if key == usual.Key {
			continue
		}
		i := slices.IndexFunc(w.Boards, func(s SawnBoards) bool { return s.Board.Key == key })
		if i < 0 {
			b, _ := c.Board(key)
			i = len(w.Boards)
			w.Boards = append(w.Boards, SawnBoards{Board: b})
		}
		w.Boards[i].Panels = append(w.Boards[i].Panels, p.Number)
		other[p.Number] = true
	}
	for n := 1; n <= w.Panels(); n++ {
		if !other[n] {
			w.Boards[0].Panels = append(w.Boards[0].Panels, n)
		}
	}
	if len(w.Boards) > 1 && len(w.Boards[0].Panels) == 0 {
		w.Boards = w.Boards[1:]
	}
	h := w.For.Shop
	for i := range w.Boards {
		s := &w.Boards[i]
		s.Sheet = panel.Sheet{X: s.Board.SheetX, Y: s.Board.SheetY, Trim: h.Trim, Kerf: h.Kerf, Price: w.For.Price(s.Board.Key)}
		plan, err := panel.Saw(len(s.Panels), w.For.PanelX, w.For.PanelY, s.Sheet)
		if err != nil {
			w.tell(finding.Of(finding.Unsawable).Because(unit.Told(err)))
		}
		s.Saw = plan
	}
}

// BoardOf is the key of the board that a panel of the layout is sawn from.
func (w *Workshop) BoardOf(p panel.Panel) string {
	if w.Bench != nil {
		if key, ok := w.Bench.Board(p); ok {
			return key
		}
	}
	return w.For.Board
}

// Count is how many boards of all kinds are bought.
func (b Boards) Count() (n int) {
	for _, s := range b {
		n += len(s.Saw.Boards)
	}
	return n
}
