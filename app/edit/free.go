package edit

import (
	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/workshop"
)

// freeStep is how far apart places are tried, mm.
const freeStep = 10.0

// Free is where a part may lie on a panel as it is turned, the place nearest to the panel's first corner; ok is false where there is
// none. It tries every place in turn and takes too long for the window's goroutine.
func Free(v *workshop.Workshop, number int, at panel.Placed) (panel.Placed, bool) {
	at.At = geom.Vec2{}
	b := v.Bench.Outline(at).Box()
	edge := v.Edge()
	for y := edge; y+b.Size().Y <= v.For.PanelY-edge; y += freeStep {
		for x := edge; x+b.Size().X <= v.For.PanelX-edge; x += freeStep {
			at.At = geom.Vec2{X: x, Y: y}.Sub(b.Min)
			if ok, _ := v.Fits(number, at); ok {
				return at, true
			}
		}
	}
	return at, false
}
