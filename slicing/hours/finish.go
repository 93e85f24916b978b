package hours

import "math"

// finish goes in rows over all that is seen from this side: the joint face, the surface, the core and the margin's floor.
// It climbs the parts' outline at every crossing, at the plunge feed.
func (s Setup) finish(l Layer, up bool, share float64) tally {
	face := l.Down
	if up {
		face = l.Up
	}
	p := s.pace(s.Finish.FeedMmMin, s.Finish.PlungeMmMin)
	area, length := s.boundary(l)
	over := s.Finish.Stepover
	seen := face.Rows + max(face.Section-face.Core, 0)
	floor := area - l.Outline
	if !l.Core.Straight {
		seen += l.coreRows(up)
		hole := min(l.Up.Core, l.Down.Core) // open from both sides: only a margin of it is gone over
		floor += min(hole, l.Core.Perimeter*s.Margin())
	}
	var t tally
	t.rows(1, seen/over, l.Perimeter, over, p)
	t.rows(1, floor/over, length+l.Perimeter, over, p)
	t.steps(1, length, over, p)
	crossings := 2 * l.Perimeter / (math.Pi * over)
	climb := l.Thickness * share
	t.mm += crossings * climb
	t.s += crossings * Move(climb, p.plunge, p.accel)
	t.hops(float64(max(l.Parts, 1)), s.SafeHeight+l.Skim, length/4, l.Skim+climb, p)
	return t
}

// coreRows is the row measure of the core's skin that faces up (or down). How much of the skin that is, and how steep it
// is, follows from what it covers seen from above: the core's widest less its opening on the far side. A skin that covers
// the share c of its own area is taken as sloping alike everywhere, in all directions; its measure is then between 2/π of
// its area (upright, c = 0) and all of it (level, c = 1), within 4 % of the integral. Which way the rows run is not minded:
// the upright sides of a core that is longer than wide count some percent too much for rows along it, too little across;
// a core that closes at both ends within one layer counts up to 15 % too little.
func (l Layer) coreRows(up bool) float64 {
	if !(l.Core.Skin > 0) {
		return 0
	}
	widest := max(l.Up.Core, l.Down.Core, l.Core.Volume/l.Thickness)
	facingUp, facingDown := widest-l.Down.Core, widest-l.Up.Core
	covers := facingUp + facingDown
	c := min(covers/l.Core.Skin, 1)
	measure := l.Core.Skin * math.Sqrt(c*c+(1-c*c)*4/(math.Pi*math.Pi))
	switch {
	case covers <= 1e-6*l.Core.Skin:
		return measure / 2
	case up:
		return measure * facingUp / covers
	}
	return measure * facingDown / covers
}
