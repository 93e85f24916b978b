package toolpath

import (
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/stock"
)

const (
	// besidePart is how far from a part the groove over its tab begins at the least, mm.
	besidePart = 0.5
	// overEdge is how far the middle of the cutter goes beyond a tab's edges, mm.
	overEdge = 0.5
	// acrossStep is how far apart the places of a way across a tab lie, mm.
	acrossStep = 0.5
)

// thinned are the tabs of which a last program leaves less than they are, with what it leaves.
func (p *Panel) thinned() []hours.Tab {
	if !(p.TabLeft > 0) {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(p.Tabs), func(t hours.Tab) bool { return min(t.Top, p.Thickness)-max(t.Bottom, 0) <= p.TabLeft })
}

// unfreed says why a cutter can't come down to what is to be left of the tabs, "" where it can.
func (p *Panel) unfreed(c stock.Cutter) string {
	for _, t := range p.thinned() {
		if p.Thickness+p.Skim-max(t.Bottom, 0)-p.TabLeft > reach(c) {
			return fmt.Sprintf("Panel %d: no program cuts the tabs down, since %s does not reach them. Saw them as the work book says.", p.Number, c.Name)
		}
	}
	return ""
}

// free is the program that cuts a groove over each tab, close to its part, down to what is to be left of it: parts then hang on
// that, and are broken out or cut free by hand. All round them the passes before have gone through the panel already.
func (b *Bench) free(t Task, start func([2]geom.Vec2) geom.Vec2) Made {
	m := b.begin(t)
	from := start(m.Dowels)
	home := geom.Vec{X: from.X, Y: from.Y, Z: m.Safe}
	tip := newProbe(newWood(b.solids[0].mesh, b.solids[0].across, b.panel.Thickness, false), newForm(t.Cutter.Grown(clear)))
	at := from
	left := b.panel.thinned()
	for len(left) > 0 {
		near := slices.MinFunc(left, func(a, c hours.Tab) int {
			return int(math.Copysign(1, a.At.Sub(at).Len()-c.At.Sub(at).Len()))
		})
		left = slices.DeleteFunc(left, func(o hours.Tab) bool { return o == near })
		b.groove(&m, near, tip)
		at = near.At
	}
	m.add(home, 0)
	m.Trip = hours.Replay(b.setup, home, len(m.Moves), func(i int) (geom.Vec, float64) { return m.Moves[i].To, m.Moves[i].FeedMmMin })
	return m
}

// across is the way over a tab, as near to the part as the cutter comes without being over any of it, and besidePart off it. Over
// the part the tab's root is the part's; where the part falls back behind the root, or ends beside it, the way keeps to the part,
// which is no further off than gap: farther off the cutter would come into the frame.
func across(t hours.Tab, tip *probe, gap float64) []geom.Vec2 {
	half := geom.Vec2{X: -t.Way.Y, Y: t.Way.X}.Scale(t.Width/2 + overEdge)
	steps := math.Ceil(2 * half.Len() / acrossStep)
	line, off := make([]geom.Vec2, int(steps)+1), make([]float64, int(steps)+1)
	for k := range line {
		line[k] = t.At.Add(half.Scale(2*float64(k)/steps - 1))
		off[k] = beside(t, tip, line[k], gap)
	}
	for k := 1; k < len(off); k++ {
		off[k] = orElse(off[k], off[k-1])
	}
	for k := len(off) - 2; k >= 0; k-- {
		off[k] = orElse(off[k], off[k+1])
	}
	for k := range line {
		line[k] = line[k].Add(t.Way.Scale(orElse(off[k], -t.Root) + besidePart))
	}
	return line
}

// beside is how far along a tab from a place on the line across its foot the cutter is clear of the part; NaN where no part is near.
func beside(t hours.Tab, tip *probe, at geom.Vec2, gap float64) float64 {
	over := func(off float64) bool { return tip.at(at.X+off*t.Way.X, at.Y+off*t.Way.Y, none) > none }
	off := -t.Root
	for !over(off) {
		if off -= acrossStep / 4; off < -t.Root-gap {
			return math.NaN()
		}
	}
	for off < t.Length && over(off) {
		off += acrossStep / 4
	}
	return off
}

// orElse is a figure, or another where there is none.
func orElse(v, other float64) float64 {
	if math.IsNaN(v) {
		return other
	}
	return v
}

// groove goes to and fro across a tab, half a stepdown lower each time, and once more on the level.
func (b *Bench) groove(m *Made, t hours.Tab, tip *probe) {
	p, c := b.panel, m.Cutter
	top, low := min(t.Top, p.Thickness), max(t.Bottom, 0)+p.TabLeft+clear
	line := across(t, tip, b.setup.Margin())
	steps := float64(len(line) - 1)
	place := func(k int, z float64) geom.Vec {
		return geom.Vec{X: line[k].X, Y: line[k].Y, Z: z - p.Thickness - p.Skim}
	}
	last := place(0, top)
	m.add(geom.Vec{X: last.X, Y: last.Y, Z: m.Safe}, 0)
	m.add(geom.Vec{X: last.X, Y: last.Y, Z: lift}, 0)
	m.add(last, coarse(c.PlungeMmMin))
	passes := math.Ceil((top - low) / (c.Stepdown / 2))
	for pass := 0.0; pass <= passes; pass++ {
		for k := 1; k < len(line); k++ {
			to := place(k, max(top-(top-low)*(pass+float64(k)/steps)/passes, low))
			m.add(to, coarse(noSteeper(c.FeedMmMin, last, to, c.PlungeMmMin)))
			last = to
		}
		slices.Reverse(line)
	}
	m.add(geom.Vec{X: last.X, Y: last.Y, Z: m.Safe}, 0)
}
