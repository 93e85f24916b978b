package job

import (
	"errors"

	"grainstack/slicing/stock"
)

// NothingFits says why there is nothing to make of settled figures: not one part has room on a panel, and no joint line of the
// maker splits any. It is nil where some part fits, and where figures are withheld, which says enough.
func (f *Figures) NothingFits(p Places, c *stock.Catalogue) error {
	if f.Withheld != "" || f.Totals.FitsPanel || len(p.Splits) > 0 {
		return nil
	}
	for i := range f.Layers {
		for _, size := range f.Layers[i].partSizes() {
			if f.fits(size, f.Layers[i].Turned, c) {
				return nil
			}
		}
	}
	return errors.New("nothing of this piece fits its panel, so there is nothing to make: " + f.misfit(c).Text)
}
