package workshop

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// grown is everything within a distance of a region, on a raster of a millimetre or so; it is true to half
// a cell.
func grown(g geom.Region, by float64) geom.Region {
	box := g.Box()
	if box.Empty() || !(by > 0) {
		return g
	}
	out := geom.Vec2{X: by, Y: by}
	c := newCover(geom.Box2{Min: box.Min.Sub(out), Max: box.Max.Add(out)})
	c.fill(g, 1)
	d := c.distances()
	for i, v := range d {
		d[i] = float32(by/c.step) + 0.5 - v // a marked cell is wood up to its edge
	}
	return c.contour(d, coverTolerance)
}

// distances are from the middle of each cell to that of the nearest marked one, in cells.
func (c *cover) distances() []float32 {
	squared := plane.Distances(c.nx, c.ny, func(i int) bool { return c.bits[i] != 0 }, false)
	out := make([]float32, len(squared))
	for i, d := range squared {
		out[i] = float32(math.Sqrt(float64(d)))
	}
	return out
}
