package hours

import "grainstack/slicing/stock"

// coarse is how far apart the finish rows of a ball may lie on a piece that is sanded, mm (common practice, no source).
const coarse = 0.5

// A Coarser is what finish rows further apart would come to.
type Coarser struct {
	Stepover float64 // mm
	Cusp     float64 // mm, ridges on level wood
	SavesMin float64 // of the finish pass
}

// Coarsen works it out for a finish pass of so many minutes, which go by the number of rows: way at the edges that does not
// is not minded, so it is an estimate. ok is false where the cutter is no ball, too thin, or goes in such rows already.
func Coarsen(c stock.Cutter, finishMin float64) (_ Coarser, ok bool) {
	if c.Shape != stock.Ball || !(c.Stepover > 0) || c.Stepover >= coarse {
		return Coarser{}, false
	}
	now := c.Stepover
	c.Stepover = coarse
	cusp, ok := Cusp(c)
	return Coarser{coarse, cusp, finishMin * (1 - now/coarse)}, ok
}
