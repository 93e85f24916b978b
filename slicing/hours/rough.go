package hours

import "math"

// rough takes the skim off all that lies in the carve boundary, then clears the margin and what is not wood down to this
// side's share of the thickness, and half of a carved core or, where sawn says so, the outline of a straight one.
func (s Setup) rough(l Layer, share float64, sawn bool) tally {
	p := s.pace(s.Rough.FeedMmMin, s.Rough.PlungeMmMin)
	area, length := s.boundary(l)
	pieces := float64(max(l.Parts, 1))
	var t tally
	t.clear(pocket{area * l.Skim, l.Skim, length, 0, pieces}, s, p)

	deep := l.Thickness * share
	shaping := (area-l.Outline)*deep + max(l.Outline*l.Thickness-l.Wood, 0)*share
	t.clear(pocket{shaping, deep, length + l.Perimeter, l.Perimeter, pieces}, s, p)
	switch {
	case sawn:
		t.saw(pocket{depth: l.Thickness + 2*l.Skim, outlines: l.Core.Perimeter, pieces: pieces}, s, p)
	case !l.Core.Straight:
		t.clear(pocket{l.Core.Volume / 2, l.Thickness / 2, l.Core.Perimeter, l.Core.Perimeter, pieces}, s, p)
	}
	return t
}

// pocket is wood to be taken away in levels.
type pocket struct {
	volume, depth float64
	boundary      float64 // length of all edges at which rows end
	outlines      float64 // length of the edges that are followed on each level
	pieces        float64 // separate regions on each level
}

// levels is how many stepdowns reach depth; 1e-9 keeps a depth of whole stepdowns from taking one more by rounding.
func (k pocket) levels(stepdown float64) float64 { return math.Ceil(k.depth/stepdown - 1e-9) }

// clear adds the levels that take a pocket out: rows over each level, once along its outlines, one hop to each piece.
func (t *tally) clear(k pocket, s Setup, p pace) {
	if !(k.volume > 0) || !(k.depth > 0) {
		return
	}
	area := k.volume / k.depth // of a level, on average
	levels, over := k.levels(s.Rough.Stepdown), s.Rough.Stepover
	t.rows(levels, area/over, k.boundary, over, p)
	t.steps(levels, k.boundary, over, p)
	t.along(levels, k.outlines, p)
	t.hops(levels*k.pieces, s.SafeHeight+k.depth/2, k.boundary/4, k.depth/levels, p)
}

// saw adds a cut along a pocket's outlines, level by level, that frees what is inside.
func (t *tally) saw(k pocket, s Setup, p pace) {
	if !(k.outlines > 0) {
		return
	}
	levels := k.levels(s.Rough.Stepdown)
	t.along(levels, k.outlines, p)
	t.hops(levels*k.pieces, s.SafeHeight, 0, k.depth/levels, p)
}
