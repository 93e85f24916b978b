package hours

import "math"

// Move is the seconds that a straight move of d mm takes from rest to rest at v mm/s at the most with a mm/s²: d/v + v/a
// when there is room to reach v, else 2√(d/a). It is 0 for no way at all, and +Inf when v or a is not above 0.
func Move(d, v, a float64) float64 {
	switch {
	case !(d > 0):
		return 0
	case !(v > 0) || !(a > 0):
		return math.Inf(1)
	case d*a >= v*v:
		return d/v + v/a
	}
	return 2 * math.Sqrt(d/a)
}

// moves is the seconds of n moves that are d mm long together, taken as equal; n need not be whole.
func moves(n, d, v, a float64) float64 {
	if !(n > 0) || !(d > 0) {
		return 0
	}
	return n * Move(d/n, v, a)
}

// pace is the speeds of one cutter on one machine, in mm/s.
type pace struct {
	feed, feedZ, plunge, rapid, rapidZ float64
	accel, accelZ                      float64 // mm/s²
	round                              float64 // as the finish cutter rolls over an edge
}

// pace also says how fast a rounding of radius R is rolled over where it starts to fall: drawn in straight stretches that are
// true to e, each turns by √(8e/R), and through such corners the junction rule lets v² = a·R·δ/e; rows meet the edge at all
// angles, so that the curve is on average π/2 times as long as it is wide.
func (s Setup) pace(feedMmMin, plungeMmMin float64) pace {
	m := s.Machine
	p := pace{
		feed:   min(feedMmMin, m.FeedMmMin) / 60,
		feedZ:  m.FeedZMmMin / 60,
		plunge: min(plungeMmMin, m.FeedZMmMin) / 60,
		rapid:  m.RapidMmMin / 60,
		rapidZ: m.RapidZMmMin / 60,
		accel:  m.AccelMmS2,
		accelZ: m.AccelZMmS2,
	}
	if !(p.accelZ > 0) {
		p.accelZ = p.accel
	}
	p.round = min(p.feed, math.Pi/2*math.Sqrt(p.accel*s.Finish.TipRadius()*m.Junction/chord))
	return p
}

// tally adds up path and time.
type tally struct{ mm, s float64 }

// rows adds rows of the given length together, over mm apart, whose ends lie on a boundary of that length: as many as lines
// cross it.
func (t *tally) rows(times, length, boundary, over float64, p pace) {
	t.mm += times * length
	t.s += times * moves(max(boundary/(math.Pi*over), 1), length, p.feed, p.accel)
}

// steps adds the steps from row to row inside an outer boundary of that length.
func (t *tally) steps(times, boundary, over float64, p pace) {
	n := max(boundary/(math.Pi*over)-1, 0)
	t.mm += times * n * over
	t.s += times * n * Move(over, p.feed, p.accel)
}

// along adds so many trips along an outline.
func (t *tally) along(times, outline float64, p pace) {
	t.mm += times * outline
	t.s += times * Move(outline, p.feed, p.accel)
}

// hops adds n trips from the end of one cut to the start of the next: up to the safe height, across, down again, and the
// last depth at the plunge feed.
func (t *tally) hops(n, height, across, depth float64, p pace) {
	t.mm += n * depth
	t.s += n * (2*Move(height, p.rapidZ, p.accelZ) + Move(across, p.rapid, p.accel) + Move(depth, p.plunge, p.accelZ))
}
