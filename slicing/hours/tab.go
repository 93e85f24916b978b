package hours

import (
	"math"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/stock"
)

// A Tab is a bridge over the gap round a part: a strip of a width along Way from Root behind At to Length beyond it, between two
// heights of the planed panel above its lower face. All in mm.
type Tab struct {
	At, Way     geom.Vec2 // Way has length 1
	Root        float64
	Length      float64
	Width       float64
	Bottom, Top float64
}

// off is how far a place lies beside a tab as it is seen from above.
func (t *Tab) off(p geom.Vec2) float64 {
	d := p.Sub(t.At)
	along, across := d.Dot(t.Way), t.Way.Cross(d)
	return math.Hypot(max(-t.Root-along, along-t.Length, 0), max(math.Abs(across)-t.Width/2, 0))
}

// box holds all places that are no further beside a tab than reach.
func (t *Tab) box(reach float64) geom.Box2 {
	side := geom.Vec2{X: -t.Way.Y, Y: t.Way.X}.Scale(t.Width / 2)
	b := geom.EmptyBox2()
	for _, end := range [2]float64{-t.Root, t.Length} {
		middle := t.At.Add(t.Way.Scale(end))
		b = b.Add(middle.Add(side)).Add(middle.Sub(side))
	}
	wide := geom.Vec2{X: reach, Y: reach}
	return geom.Box2{Min: b.Min.Sub(wide), Max: b.Max.Add(wide)}
}

// bridge lifts both cutters over tabs, which they leave as they leave the part.
func (g *Ground) bridge(tabs []Tab, side carve.Side, s *Setup) {
	for i := range tabs {
		t := &tabs[i]
		top := t.Top
		if side == carve.Down {
			top = g.Thickness - t.Bottom
		}
		g.over(g.Rough, t, min(top, g.Thickness), s.Rough, s.Leave)
		g.over(g.Finish, t, min(top, g.Thickness), s.Finish, 0)
	}
}

// over lifts a cutter's tip over one tab, and what is left on it.
func (g *Ground) over(tip []float32, t *Tab, top float64, c stock.Cutter, leave float64) {
	c = c.Grown(leave)
	edge := c.Edge()
	b := t.box(c.Diameter / 2)
	i0, i1 := g.span(b.Min.X-g.Origin.X, b.Max.X-g.Origin.X, g.W)
	j0, j1 := g.span(b.Min.Y-g.Origin.Y, b.Max.Y-g.Origin.Y, g.H)
	for j := j0; j < j1; j++ {
		row := tip[j*g.W:][:g.W]
		for i := i0; i < i1; i++ {
			at := g.Origin.Add(geom.Vec2{X: float64(i) * g.Step, Y: float64(j) * g.Step})
			if rise, ok := edge.At(t.off(at)); ok {
				row[i] = max(row[i], float32(top-rise+leave))
			}
		}
	}
}

// span is the places of a raster's row from one distance to another.
func (g *Ground) span(from, to float64, n int) (first, end int) {
	first = int(min(max(math.Ceil(from/g.Step), 0), float64(n)))
	end = int(min(max(math.Floor(to/g.Step)+1, float64(first)), float64(n)))
	return first, end
}
