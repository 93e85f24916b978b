package hours

import "math"

// Layer is the figures of one layer that its machine time follows from. Areas, lengths and volumes are of all its parts
// together.
type Layer struct {
	Thickness float64 // of the layer
	Skim      float64 // carved off each face of the panel before
	Outline   float64 // area that the layer covers seen from above (its shadow)
	Perimeter float64 // of that shadow
	Wood      float64 // volume inside the outer surface, core included
	Parts     int     // connected pieces
	Up, Down  Side
	Core      Core
}

// Side is what one side of a layer shows.
type Side struct {
	// Rows is Σ A·√(nz² + nrow²) over the outer surface that faces this side (A area of a facet, nz and nrow its unit
	// normal's components along the stack and along the rows): divided by the stepover it is the way of the finish pass.
	// Upright surface counts on neither side.
	Rows    float64
	Section float64 // area of the joint face on this side, core included
	Core    float64 // area of the core's opening in that face
}

// Core is the hollow of a layer; the zero Core is none.
type Core struct {
	Volume    float64
	Skin      float64 // area of its surface, joint faces not counted
	Perimeter float64 // of its outline seen from above
	Straight  bool    // one pocket with upright sides, sawn out whole by the rough cutter
}

// LayerTime is the router's work on one layer; nothing in it is work by hand.
type LayerTime struct{ Up, Down SideTime }

// Estimate is the router's time for one layer. More feed, rapid or acceleration, a wider stepover and a deeper stepdown
// never make it longer. A layer that covers nothing takes no time; a setup that Check refuses never ends: +Inf minutes.
func Estimate(l Layer, s Setup) LayerTime {
	if !(l.Outline > 0) || !(l.Thickness > 0) {
		return LayerTime{}
	}
	if s.Check() != nil {
		never := SideTime{RoughMin: math.Inf(1), FinishMin: math.Inf(1)}
		return LayerTime{never, never}
	}
	up, down := l.rims()
	return LayerTime{Up: s.side(l, l.Up, up, l.Core.Straight), Down: s.side(l, l.Down, down, false)}
}

// side estimates one side from its face and edges. A straight core is sawn from above.
func (s Setup) side(l Layer, face Side, rims []rim, saw bool) SideTime {
	flat := max(face.Section-face.Core, 0)
	rough, finish := s.rough(l, flat, rims), s.finish(l, flat, rims)
	if saw {
		s.saw(&rough, l, s.pace(s.Rough.FeedMmMin, s.Rough.PlungeMmMin))
	}
	return SideTime{
		RoughMin: rough.s / 60, FinishMin: finish.s / 60,
		RoughMetres: rough.mm / 1000, FinishMetres: finish.mm / 1000,
	}
}
