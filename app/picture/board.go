package picture

import (
	"slices"

	"grainstack/render/look"
	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
	"grainstack/slicing/workshop"
)

// BoardWood is the wood of a panel before it is skimmed, as it lies on the bed with a side up. Its length lies along X.
func BoardWood(v *workshop.Workshop, c *stock.Catalogue, number int, side panel.Face) look.Wood {
	blanks := v.For.Blanks(c)
	blank := blanks.Usual()
	for _, b := range v.Boards {
		if !slices.Contains(b.Panels, number) {
			continue
		}
		for _, l := range v.Figures.Layers {
			if l.Board.Key == b.Board.Key {
				blank = blanks.Of(l.Number)
			}
		}
	}
	w := woodOf(v.For, blank, c)
	w.Joint, w.Finish = 0, look.Finish{} // it is as it comes from the cutter
	if n := len(w.Veneers); n > 0 {
		w.Veneers[0].Thickness += blank.Skim
		w.Veneers[n-1].Thickness += blank.Skim
	}
	if side == panel.SideB {
		slices.Reverse(w.Veneers)
	}
	return w
}
