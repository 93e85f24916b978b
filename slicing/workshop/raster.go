package workshop

import (
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// A cover says which cells of a raster a part touches at which of its heights: bit k stands for the k-th.
type cover struct {
	corner geom.Vec2 // of cell 0, 0
	step   float64
	nx, ny int
	bits   []uint16
}

// The raster's cells: fine enough that an outline is within a cutter's wobble, and not more of them than a picture has.
const (
	coverStep  = 0.5 // mm
	coverCells = 1200
	coverRim   = 3 // cells that stay free all round
)

func newCover(box geom.Box2) *cover { return coverOf(box, coverStep) }

// coverOf is a raster of cells that are no finer than asked.
func coverOf(box geom.Box2, finest float64) *cover {
	size := box.Size()
	c := &cover{step: math.Max(finest, math.Max(size.X, size.Y)/coverCells)}
	rim := coverRim * c.step
	c.corner = box.Min.Sub(geom.Vec2{X: rim, Y: rim})
	c.nx, c.ny = int(size.X/c.step)+2*coverRim+1, int(size.Y/c.step)+2*coverRim+1
	c.bits = make([]uint16, c.nx*c.ny)
	return c
}

// cell is the cell of a point; ok is false outside the raster.
func (c *cover) cell(p geom.Vec2) (at int, ok bool) {
	x, y := (p.X-c.corner.X)/c.step, (p.Y-c.corner.Y)/c.step
	if !(x >= 0 && y >= 0 && x < float64(c.nx) && y < float64(c.ny)) {
		return 0, false
	}
	return int(y)*c.nx + int(x), true
}

// at is what is known of a point's cell, 0 outside.
func (c *cover) at(p geom.Vec2) uint16 {
	if i, ok := c.cell(p); ok {
		return c.bits[i]
	}
	return 0
}

// middle is the middle of a cell.
func (c *cover) middle(i int) geom.Vec2 {
	return c.corner.Add(geom.Vec2{X: float64(i%c.nx) + 0.5, Y: float64(i/c.nx) + 0.5}.Scale(c.step))
}

func (c *cover) mark(p geom.Vec2, bit uint16) {
	if i, ok := c.cell(p); ok {
		c.bits[i] |= bit
	}
}

// edge marks the cells along a line.
func (c *cover) edge(a, b geom.Vec2, bit uint16) {
	way := b.Sub(a)
	n := int(math.Ceil(math.Max(math.Abs(way.X), math.Abs(way.Y)) / c.step * 2))
	for i := range n + 1 {
		c.mark(a.Add(way.Scale(float64(i)/float64(max(n, 1)))), bit)
	}
}

// fill marks every cell that a region touches: those along its rings, and those whose middle is inside.
func (c *cover) fill(g geom.Region, bit uint16) {
	for _, r := range g {
		for i, a := range r {
			c.edge(a, r[(i+1)%len(r)], bit)
		}
	}
	c.middles(g, func(i int) { c.bits[i] |= bit })
}

// middles visits the cells whose middle is inside a region.
func (c *cover) middles(g geom.Region, visit func(cell int)) {
	first := c.corner.Add(geom.Vec2{X: c.step / 2, Y: c.step / 2})
	plane.Spans(g, first, c.step, c.nx, c.ny, func(j, from, to int) {
		for i := from; i < to; i++ {
			visit(j*c.nx + i)
		}
	})
}

// coverTolerance is how far an outline may be straightened, mm.
const coverTolerance = 0.1

// contour draws rings round where v, known at the middles of cells and not above 0 at the raster's rim, is above 0.
func (c *cover) contour(v []float32, tolerance float64) (out geom.Region) {
	first := c.corner.Add(geom.Vec2{X: c.step / 2, Y: c.step / 2})
	grid := plane.Grid{Origin: first, Step: c.step, NX: c.nx, NY: c.ny, V: v}
	for _, r := range grid.Contours() {
		if r = straightened(r, tolerance); math.Abs(r.Area()) > 4*c.step*c.step {
			out = append(out, r)
		}
	}
	return out
}

// straightened leaves out points of a ring that lie within a distance of what remains, in runs of bounded length.
func straightened(r geom.Ring, within float64) geom.Ring {
	const run = 256
	var out geom.Ring
	for from := 0; from < len(r); from += run {
		to := min(from+run, len(r))
		out = append(out, r[from])
		out = plane.Thin(out, append(slices.Clone(r[from:to]), r[to%len(r)]), within)
		out = out[:len(out)-1] // the next run begins with it
	}
	return out
}
