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

// SideTime is the router's work on one side.
type SideTime struct {
	RoughMin, FinishMin       float64
	RoughMetres, FinishMetres float64
}

// LayerTime is the router's work on one layer; nothing in it is work by hand.
type LayerTime struct{ Up, Down SideTime }

// Total is both sides together.
func (t LayerTime) Total() SideTime { return t.Up.plus(t.Down) }

// Minutes is rough and finish pass together.
func (t SideTime) Minutes() float64 { return t.RoughMin + t.FinishMin }

func (t SideTime) plus(u SideTime) SideTime {
	return SideTime{t.RoughMin + u.RoughMin, t.FinishMin + u.FinishMin, t.RoughMetres + u.RoughMetres, t.FinishMetres + u.FinishMetres}
}

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
	up := l.share()
	return LayerTime{
		Up:   s.side(l, true, up),
		Down: s.side(l, false, 1-up),
	}
}

// share is the part of the shaping that is done from above: as the shadow around the joint face shows more on the one side
// or on the other. A layer with upright sides is halved.
func (l Layer) share() float64 {
	up := max(l.Outline-l.Up.Section, 0)
	down := max(l.Outline-l.Down.Section, 0)
	if up+down <= 1e-6*l.Outline {
		return 0.5
	}
	return up / (up + down)
}

// side estimates the side that faces up or down and does the given share of the shaping. A straight core is sawn from
// above.
func (s Setup) side(l Layer, up bool, share float64) SideTime {
	rough, finish := s.rough(l, share, up && l.Core.Straight), s.finish(l, up, share)
	return SideTime{
		RoughMin: rough.s / 60, FinishMin: finish.s / 60,
		RoughMetres: rough.mm / 1000, FinishMetres: finish.mm / 1000,
	}
}

// boundary is the area and the length of the carve boundary: the parts' outline moved out by the margin (Steiner's formula
// for outlines that bulge; a little too much for others).
func (s Setup) boundary(l Layer) (area, length float64) {
	m, parts := s.Margin(), float64(max(l.Parts, 1))
	return l.Outline + l.Perimeter*m + parts*math.Pi*m*m, l.Perimeter + 2*math.Pi*m*parts
}
