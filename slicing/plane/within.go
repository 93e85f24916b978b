package plane

import (
	"slices"

	"grainstack/slicing/geom"
)

// Within is a place in a region, however that is bent or hollow: the middle of the widest stretch that it has along the row through
// the middle of its box. ok is false for a region without area.
func Within(g geom.Region) (at geom.Vec2, ok bool) {
	box := g.Box()
	at.Y = (box.Min.Y + box.Max.Y) / 2
	var ends []float64
	for _, ring := range g {
		for i, p := range ring {
			if q := ring[(i+1)%len(ring)]; (p.Y > at.Y) != (q.Y > at.Y) {
				ends = append(ends, p.X+(q.X-p.X)*(at.Y-p.Y)/(q.Y-p.Y))
			}
		}
	}
	slices.Sort(ends)
	widest := 0.0
	for i := 1; i < len(ends); i++ {
		middle := geom.Vec2{X: (ends[i-1] + ends[i]) / 2, Y: at.Y}
		if wide := ends[i] - ends[i-1]; wide > widest && g.Contains(middle) {
			at, widest = middle, wide
		}
	}
	return at, widest > 0
}
