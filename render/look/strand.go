package look

import (
	"math"

	"grainstack/slicing/geom"
)

// A strand is the figure of fibres in one direction, made ready for one picture. Streaks and vessels lie in the wood: across
// and along are places in it, which rise with the height, so that one veneer's figure is not the next one's.
type strand struct {
	along, across    vec // mm in the wood per mm of x, y and height
	right, up, ahead float32
	dir              [2]vec // of the picture's right and up, in the stand's frame
	pixel            float32
	streaks, vessels grainReader
}

// How deep the figure goes, in parts of the light: by eye. A finish that wets the fibres makes it clearer.
const (
	streakDepth = 0.085
	vesselDepth = 0.30
	poreDepth   = 0.55
	wetter      = 0.006 // more of streakDepth for each step of the finish's shift in lightness
)

// faintest is the share of a figure that would still be seen.
const faintest = 0.04

// strands are the figures of fibres along X and along Y.
func (r *Renderer) strands(f Finish, fine bool) [2]strand {
	l, pixel := &r.lens, 1/r.lens.scale
	both := [2]strand{
		{along: vec{1, 0, 3.1}, across: vec{0, 1, 1.3}},
		{along: vec{0, 1, 2.3}, across: vec{1, 0, -1.7}},
	}
	for i := range both {
		s := &both[i]
		g := geom.Vec{X: float64(s.across.x), Y: float64(s.across.y), Z: float64(s.across.z)}
		s.right, s.up, s.ahead = float32(g.Dot(l.right)), float32(g.Dot(l.up)), float32(g.Dot(l.ahead))
		s.dir = [2]vec{short(l.right), short(l.up)}
		s.pixel = float32(pixel)
		s.streaks = r.grains.streaks.reader(pixel, float32(streakDepth+wetter*within(f.Shift, 10)), fine)
		s.vessels = r.grains.vessels.reader(pixel, vesselDepth, fine)
	}
	return both
}

// at is the figure at a sample of normal n, about -0.2 to 0.2.
func (t *strand) at(s *sample, n vec, facing float32) float32 {
	q := t.ahead / max(facing, leastFacing)
	dx := t.right + q*t.dir[0].dot(n.x, n.y, n.z)
	dy := t.up + q*t.dir[1].dot(n.x, n.y, n.z)
	foot := t.pixel * float32(math.Sqrt(float64(dx*dx+dy*dy)))
	u, v := t.along.dot(s.x, s.y, s.h), t.across.dot(s.x, s.y, s.h)
	f := t.streaks.at(u, v, foot)
	if !t.vessels.idle {
		f += t.vessels.at(u, v, foot)
	}
	return f
}

// streak is the figure of the fibres: along X or along Y, whichever more of the pixel's long grain runs, and none where they
// balance or are cut across.
func (p *painter) streak(s *sample, n vec, facing, alongX, alongY float32) float32 {
	switch more := alongX - alongY; {
	case more > faintest:
		return more * p.grain[0].at(s, n, facing)
	case more < -faintest:
		return -more * p.grain[1].at(s, n, facing)
	}
	return 0
}

// pore is the figure of end grain, whose fibres run along X or along Y, whichever more of the pixel's do.
func (p *painter) pore(s *sample, facing, endX, endY float32) float32 {
	foot := p.grain[0].pixel / max(facing, leastFacing)
	if endX >= endY {
		return p.pores.at(s.y, s.h, foot)
	}
	return p.pores.at(s.x, s.h, foot)
}
