package job

import (
	"errors"

	"grainstack/slicing/finding"
)

// NothingFits says why there is nothing to make of settled figures: not one part has room on a panel, and no joint line of the
// maker splits any. It is nil where some part fits, and where figures are withheld, which says enough.
func (f *Figures) NothingFits(p Places) error {
	if t := &f.Totals; !f.Withheld.None() || t.PartsTooLarge < t.Parts || len(p.Splits) > 0 {
		return nil
	}
	return errors.New("nothing of this piece fits its panel, so there is nothing to make: " + finding.Words{}.Sentence(f.misfit()))
}
