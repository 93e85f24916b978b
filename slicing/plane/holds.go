package plane

import (
	"math"

	"grainstack/slicing/geom"
)

// Holds reports whether a circle of a radius fits into a region, to a hundredth of the radius. Squares are looked at and cut in
// four until their middle has the room, or no point of them can have it: room changes no faster than the way gone.
func Holds(g geom.Region, radius float64) bool {
	box := g.Box()
	size := box.Size()
	if box.Empty() || min(size.X, size.Y) < 2*radius {
		return false
	}
	const coarsest = 32 // squares along the longer side at the most
	half := max(radius, max(size.X, size.Y)/(2*coarsest))
	for x := box.Min.X + half; x-half < box.Max.X; x += 2 * half {
		for y := box.Min.Y + half; y-half < box.Max.Y; y += 2 * half {
			if holds(g, geom.Vec2{X: x, Y: y}, half, radius) {
				return true
			}
		}
	}
	return false
}

// holds reports whether a circle fits whose middle is in a square.
func holds(g geom.Region, middle geom.Vec2, half, radius float64) bool {
	const near = 0.99
	space := room(g, middle)
	if space >= near*radius {
		return true
	}
	if space+half*math.Sqrt2 < radius {
		return false
	}
	h := half / 2
	for _, d := range [4]geom.Vec2{{X: -h, Y: -h}, {X: h, Y: -h}, {X: -h, Y: h}, {X: h, Y: h}} {
		if holds(g, middle.Add(d), h, radius) {
			return true
		}
	}
	return false
}

// room is how far a point is from the region's border, negative outside.
func room(g geom.Region, p geom.Vec2) float64 {
	least := math.Inf(1)
	for _, r := range g {
		for i, a := range r {
			least = min(least, Apart(p, a, r[(i+1)%len(r)]))
		}
	}
	if !g.Contains(p) {
		return -least
	}
	return least
}
