package export

import "grainstack/slicing/geom"

// A Sheet is a drawing at true size, mm, origin lower left, y up.
type Sheet struct {
	Name   string
	W, H   float64
	Layers []DrawingLayer
}

// A DrawingLayer is what a drawing program shows or hides together.
type DrawingLayer struct {
	Name    string
	Lines   []Line
	Circles []Circle
	Texts   []Text
}

// A Line goes through its points, and back to the first where it is closed.
type Line struct {
	Points []geom.Vec2
	Closed bool
}

// A Circle is a hole or a pin seen from above.
type Circle struct {
	At       geom.Vec2
	Diameter float64
}

// A Text stands upright with its baseline's left end at a point.
type Text struct {
	At     geom.Vec2
	Height float64 // of a capital
	Text   string
}
