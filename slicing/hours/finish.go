package hours

import (
	"math"
)

// finish goes in rows over all that is seen from this side: the joint face, flat mm² of it, the slopes, the core and the floor
// beside the edges. A row is one motion from the corner at the foot of one edge to that of the next, where the cutter all but
// stands.
func (s Setup) finish(l Layer, flat float64, rims []rim) tally {
	p := s.pace(s.Finish.FeedMmMin, s.Finish.PlungeMmMin)
	reach, over := s.boundaryOf(s.Finish.Diameter), s.Finish.Stepover
	var t tally
	var crossings float64
	for _, r := range rims {
		n := r.crossings(over)
		crossings += n
		s.cross(&t, r, n, p)
		s.foot(&t, r, n, reach, over, p)
	}
	t.mm += flat / over
	t.s += glides(crossings/2, flat/over, p.round, p.feed, p.accel)
	t.hops(float64(max(l.Parts, 1)), s.SafeHeight+l.Skim, l.Perimeter/4, l.Thickness/2, p)
	return t
}

// cross adds n ways from the face over one edge down to its foot, or up: along the slope, then rolling over the edge. Half of
// them go down, at no more than the plunge feed, half go up. At the foot the cutter stops.
func (s Setup) cross(t *tally, r rim, n float64, p pace) {
	if !(n > 0) {
		t.mm += r.rows / s.Finish.Stepover
		t.s += r.rows / s.Finish.Stepover / p.feed
		return
	}
	way := max(r.rows/s.Finish.Stepover/n, r.deep)
	round := s.Finish.TipRadius()
	t.mm += n * (way + round*1.3*math.Pi/2)
	for _, most := range [2]float64{p.plunge, p.feedZ} {
		t.s += n / 2 * (max(way/p.feed, r.deep/most) + roll(round, p.round, most, p.accelZ))
	}
}

// foot adds the floor between the rolled-over edge and the border at n crossings, and the steps from row to row there.
func (s Setup) foot(t *tally, r rim, n, reach, over float64, p pace) {
	round := min(s.Finish.TipRadius(), reach)
	area, border := r.floor(reach)
	under, _ := r.floor(round)
	floor := max(area-under, 0) / over
	t.mm += floor
	if border > 0 {
		t.s += moves(n, floor, p.feed, p.accel)
		t.steps(1, border, over, p)
	} else {
		t.s += moves(n/2, floor, p.feed, p.accel)
	}
}

// roll is the seconds that a cutter's rounding takes to roll over a square edge, from level to upright and then to a stop, or
// back. Rows meet the edge at all angles: on average they are π/2 times as long along the panel, and go a quarter of an
// ellipse, a tenth longer than straight across. A flat cutter has nothing to roll on.
func roll(radius, feed, most, accel float64) float64 {
	if !(radius > 0) {
		return 0
	}
	return 1.1 * math.Hypot(math.Pi/2*radius/feed, brake(radius, most, accel))
}

// brake is the seconds of a move d long that is entered at speed v, or as fast as can be braked for, and ends at rest.
func brake(d, v, a float64) float64 {
	if d*2*a >= v*v {
		return d/v + v/(2*a)
	}
	return math.Sqrt(2 * d / a)
}

// glides is the seconds of n moves that are d long together, entered and left at speed u and at v at the most.
func glides(n, d, u, v, a float64) float64 {
	if !(n > 0) || !(d > 0) {
		return 0
	}
	u = min(u, v)
	if d /= n; d*a < v*v-u*u {
		return n * 2 * (math.Sqrt(d*a+u*u) - u) / a
	}
	return n * (d/v + (v-u)*(v-u)/(a*v))
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
