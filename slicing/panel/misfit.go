package panel

import (
	"math"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
)

// fine is how much finer than the cells a part is tried on an empty panel before it is called too large.
const fine = 8

// between looks for a place on an empty panel that lies between the cells, the middle of the panel first.
func (s *shop) between(part int) (Placed, bool) {
	b := s.bench
	for k, deg := range b.parts[part].turns() {
		o := &b.cuts[part][k]
		size := o.box.Size()
		room := geom.Vec2{X: s.grid.x - size.X, Y: s.grid.y - size.Y}
		if room.X < -exact || room.Y < -exact {
			continue
		}
		nx, ny := tries(room.X, s.grid.step), tries(room.Y, s.grid.step)
		for i := range nx * ny {
			at := geom.Vec2{X: room.X * spread(i%nx, nx), Y: room.Y * spread(i/nx, ny)}
			at = at.Add(s.corner()).Sub(o.box.Min)
			if len(b.fixedHits(o, at)) == 0 {
				return Placed{Part: b.parts[part].ID, At: at, TurnDeg: deg}, true
			}
		}
	}
	return Placed{}, false
}

// tries is how many places along an axis are worth a look, at most 64.
func tries(room, step float64) int {
	return int(math.Max(1, math.Min(64, math.Ceil(room*fine/step)+1)))
}

// spread gives the i-th of n even places in [0, 1].
func spread(i, n int) float64 {
	if n == 1 {
		return 0.5
	}
	return float64(i) / float64(n-1)
}

// misfit says why no panel holds a part.
func (s *shop) misfit(part int) Misfit {
	b, id := s.bench, s.bench.parts[part].ID
	size := b.cuts[part][0].box.Size()
	turned := b.cuts[part][1].box.Size()
	g := s.grid
	m := Misfit{Part: id, Size: size, Room: geom.Vec2{X: math.Max(0, g.x), Y: math.Max(0, g.y)}}
	if size.X > g.x+exact || size.Y > g.y+exact {
		if s2 := turned; s2.X > g.x+exact || s2.Y > g.y+exact {
			m.Scale = math.Min(g.x/size.X, g.y/size.Y)
			return m
		}
	}
	m.Obstructed = true
	return m
}

// Tell is the misfit as it is told.
func (m Misfit) Tell() finding.Finding {
	at := finding.Place{Layer: m.Part.Layer, Part: m.Part.Part + 1, Size: m.Size.X, More: [2]float64{m.Size.Y, math.Floor(100 * m.Scale)}, Name: m.Part.String()}
	if m.Obstructed {
		return finding.Of(finding.Obstructed, at)
	}
	return finding.Of(finding.TooLarge, at).With(m.Room.X, m.Room.Y)
}
