package card

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"grainstack/slicing/job"
)

// priceOf is what one board of a kind costs.
func priceOf(b Bench, name, moves string, key func(State) string) *measure {
	return figure(b, "price", func(m *quantity) {
		m.Name, m.call, m.Moves = name, name, moves
		m.Value = func(s State) float64 { return s.Settings.Price(key(s)) }
		m.Set = func(s State, v float64) job.Settings { return s.Settings.WithPrice(key(s), v) }
	})
}

// otherPrices are the prices of the boards that only some layers are of, one under another.
type otherPrices struct {
	bench Bench
	keys  []string // of the boards, in the order of the rows
	rows  []*measure
	made  map[string]*measure // rows that were made once, by their boards' keys: an override of the theme is never let go
	box   *fyne.Container
}

func newOtherPrices(b Bench) *otherPrices {
	return &otherPrices{bench: b, made: map[string]*measure{}, box: container.NewVBox()}
}

func (o *otherPrices) object() fyne.CanvasObject { return o.box }

func (o *otherPrices) rules() map[string]*Rule {
	all := map[string]*Rule{}
	for _, m := range o.rows {
		all[m.call] = m.rule
	}
	return all
}

func (o *otherPrices) show(s State) {
	if keys := otherBoards(s); !slices.Equal(keys, o.keys) {
		o.keys, o.rows = keys, nil
		o.box.RemoveAll()
		for _, key := range keys {
			m := o.row(key, s)
			o.rows = append(o.rows, m)
			o.box.Add(m.object())
		}
	}
	for _, m := range o.rows {
		m.show(s)
	}
	if len(o.rows) == 0 {
		o.box.Hide()
	} else {
		o.box.Show()
	}
}

func (o *otherPrices) row(key string, s State) *measure {
	m := o.made[key]
	if m == nil {
		board, _ := s.Catalogue.Board(key)
		m = priceOf(o.bench, board.Name, "price of a board of it", func(State) string { return key })
		m.call = "price of " + board.Name
		o.made[key] = m
	}
	return m
}

// otherBoards are the keys of the boards in the stack that are not the board of most layers, from below.
func otherBoards(s State) (keys []string) {
	if s.Settings.Mix == "" || s.Figures == nil {
		return nil
	}
	blanks := s.Settings.Blanks(s.Catalogue)
	for n := range s.Figures.Layers {
		if key := blanks.Of(n + 1).Board.Key; key != s.Settings.Board && !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	return keys
}
