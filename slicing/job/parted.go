package job

import (
	"slices"

	"grainstack/slicing/geom"
)

// Parted are figures with layer i, from 0, made of two boards whose joint lies at a height, and the area of that joint in mm².
// Both boards lie as the layer does; an upright pocket stays what it is.
func (f *Figures) Parted(st *Standing, i int, at float64) (g *Figures, joint float64) {
	g = new(Figures)
	*g = *f
	low, high := f.Layers[i], f.Layers[i]
	low.Top, high.Bottom, high.PanelBottom = at, at, at
	joint = st.Profile.JointArea(at)
	if f.Hollowed(st, &low) && (f.For.Core == Carved || low.PocketBottom < at && at < low.PocketTop) {
		joint = max(0, joint-f.coreAtJoint(st, &low, &high))
	}
	f.setBoard(st, &low, at-low.PanelBottom)
	f.setBoard(st, &high, f.Layers[i].PanelBottom+f.Thickness-at)
	high.Joint = joint
	g.Layers = slices.Concat(f.Layers[:i], []Layer{low, high}, f.Layers[i+1:])
	g.sum()
	return g, joint
}

// setBoard sets what a layer of a thickness of its own comes to.
func (f *Figures) setBoard(st *Standing, l *Layer, thickness float64) {
	g := &Figures{For: f.For, Thickness: thickness}
	if r, ok := reach(st.flanks, f.Size.Z, l.Bottom, l.Top); ok {
		l.Size = geom.Vec2{X: float64(r.maxX - r.minX), Y: float64(r.maxY - r.minY)}
	}
	l.PocketBottom, l.PocketTop = max(l.PocketBottom, l.Bottom), min(l.PocketTop, l.Top)
	if l.PocketBottom >= l.PocketTop {
		l.Pocket = nil
	}
	g.hollowOut(st, l)
	l.Minutes = g.estimated(st, l, f.chosen.setup)
}
