package files

import (
	"fmt"
	"strings"

	"grainstack/slicing/phrase"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// A purchase is something to buy.
type purchase struct {
	what, amount string
	price        float64 // of all of it, in the maker's money; 0 where none is known
	remark       string
}

// buy is what to buy.
func buy(w *workshop.Workshop, c *stock.Catalogue, u unit.System) []purchase {
	g, _ := w.For.GlueIn(c)
	f, _ := w.For.FinishIn(c)
	out := buyBoards(w, u)
	if w.GlueUp.WetG > 0 {
		out = append(out, purchase{what: g.Name, amount: unit.Mass(w.GlueUp.WetG, u), remark: "as it is spread; buy a third more for bottle and brush"})
	}
	if f.Coats > 0 {
		out = append(out, purchase{what: f.Name, amount: unit.Liquid(w.Finish.Litres, u), remark: phrase.Count(f.Coats, "coat")})
	}
	pins, depth := 0, 0.0
	for _, j := range w.Joints {
		if pins += len(j.Pins); len(j.Pins) > 0 {
			depth = max(depth, j.Depth)
		}
	}
	if pins > 0 {
		out = append(out, purchase{what: "Dowels " + drill(w.For.Shop.PinDiameter, u), amount: fmt.Sprint(pins), remark: "alignment pins, " + unit.Length(2*depth, u) + " long or a little less"})
	}
	h := w.For.Shop
	return append(out,
		purchase{what: "Dowels " + drill(h.DowelDiameter, u), amount: "2", remark: "register dowels"},
		purchase{what: "Spoilboard", amount: "1", remark: fmt.Sprintf("larger than %s × %s and at least %s thick", unit.Length(w.For.PanelX, u), unit.Length(w.For.PanelY, u), unit.Length(spoilboard(w), u))},
	)
}

// buyBoards are the boards, with what they cost in all and which of them have no price.
func buyBoards(w *workshop.Workshop, u unit.System) (out []purchase) {
	total := 0.0
	var unpriced []string
	for i, s := range stocks(w) {
		b := s.board
		p := purchase{what: b.Board.Name, amount: fmt.Sprintf("%d of %s × %s", len(b.Saw.Boards), unit.Length(b.Sheet.X, u), unit.Length(b.Sheet.Y, u)), price: b.Saw.Cost}
		p.remark = fmt.Sprintf("%s thick, planed to %s", unit.Length(s.thickness, u), unit.Length(s.planed, u))
		if b.Sheet.Price > 0 {
			p.remark += fmt.Sprintf("; %.2f a board", b.Sheet.Price)
		} else {
			p.remark += "; no price is set"
			unpriced = append(unpriced, b.Board.Name)
		}
		if n := len(w.Layout.TooLarge); n > 0 && i == 0 {
			p.remark += fmt.Sprintf("; and what %d %s that %s larger than a panel", n, phrase.Plural(n, "part takes", "parts take"), phrase.Plural(n, "is", "are"))
		}
		total += p.price
		out = append(out, p)
	}
	if len(out) > 1 || len(unpriced) > 0 {
		all := purchase{what: "All boards", price: total}
		if len(unpriced) > 0 {
			all.remark = "without " + strings.Join(unpriced, " and ") + ": no price is set"
		}
		out = append(out, all)
	}
	return out
}

// cost is a price as it is written; nothing where there is none.
func (p purchase) cost() string {
	if p.price == 0 {
		return ""
	}
	return fmt.Sprintf("%.2f", p.price)
}
