package hours

import (
	"context"

	"grainstack/slicing/geom"
)

// A Trip is a cutter's way on one side.
type Trip struct {
	Min         float64
	Metres      float64 // cut
	RapidMetres float64 // at the machine's fastest
	Retracts    int
}

// Trace goes along the paths of one pass, Rough or Finish, as SimulateAll does, and tells each straight move of the tip: from
// above a place at the safe height, where the pass begins and which the cutter is lifted to at its end. Places are those of the
// ground; z is above the face that is up before it is skimmed. A feed of 0 mm/min is a rapid. The finish pass
// goes by what the rough pass that was traced before it left.
func Trace(ctx context.Context, g *Ground, s Setup, pass Op, from geom.Vec2, put func(to geom.Vec, feed float64)) (Trip, error) {
	if err := s.Check(); err != nil {
		return Trip{}, err
	}
	if err := g.fits(s); err != nil {
		return Trip{}, err
	}
	var w worker
	w.ready(ctx, g, s)
	face := g.Thickness + g.Skim
	w.put = func(p place, speed float64) {
		x, y := p.x+w.Origin.X, p.y+w.Origin.Y
		if g.AlongY {
			x, y = y, x
		}
		put(geom.Vec{X: x, Y: y, Z: p.z - face}, speed*60)
	}
	if g.AlongY {
		from.X, from.Y = from.Y, from.X
	}
	from = from.Sub(g.Origin)
	if pass != Finish || g.traced == nil {
		g.traced = g.areas(&s)
	}
	w.areas = g.traced
	g.meet(w.areas, &s)
	if pass == Finish {
		w.finishPass(place{x: from.X, y: from.Y})
	} else {
		w.roughPass(place{x: from.X, y: from.Y})
	}
	return Trip{w.s / 60, w.mm / 1000, w.fast / 1000, w.retracts}, ctx.Err()
}

// Replay is the time and the way of moves that are known already, by a cutter that has come to a place: each is straight, and a
// feed of 0 mm/min is a rapid.
func Replay(s Setup, from geom.Vec, n int, move func(i int) (to geom.Vec, feed float64)) Trip {
	m := motion{limit: s.limit(s.Rough, from.Z), at: place{from.X, from.Y, from.Z}}
	for i := range n {
		to, feed := move(i)
		if feed > 0 {
			m.feed, m.plunge = feed/60, min(feed/60, m.feedZ)
			m.to(place{to.X, to.Y, to.Z})
			continue
		}
		if m.stop(); to.Z > m.at.z {
			m.retracts++
		}
		m.rapidTo(place{to.X, to.Y, to.Z})
	}
	m.stop()
	return Trip{m.s / 60, m.mm / 1000, m.fast / 1000, m.retracts}
}
