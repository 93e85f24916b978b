package panel

import (
	"fmt"
	"math"

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

// misfit says why no panel holds a part and what the maker can do.
func (s *shop) misfit(part int) Misfit {
	b, id := s.bench, s.bench.parts[part].ID
	size := b.cuts[part][0].box.Size()
	turned := b.cuts[part][1].box.Size()
	g := s.grid
	if size.X > g.x+exact || size.Y > g.y+exact {
		if s2 := turned; s2.X > g.x+exact || s2.Y > g.y+exact {
			scale := math.Min(g.x/size.X, g.y/size.Y)
			scaled := ""
			if scale > 0.05 {
				scaled = fmt.Sprintf(", scale the piece to %.0f %% or less", math.Floor(100*scale))
			}
			return Misfit{id, fmt.Sprintf("%s is %.0f × %.0f mm as its grain lies, and the panel takes %.0f × %.0f mm: use a larger panel, "+
				"stand the piece another way%s, or split the layer along a joint line.", id, size.X, size.Y, math.Max(0, g.x), math.Max(0, g.y), scaled)}
		}
	}
	return Misfit{id, fmt.Sprintf("%s would fit the panel, but not clear of its clamps and register dowels: move those, use a larger panel, "+
		"stand the piece another way, make it smaller, or split the layer along a joint line.", id)}
}
