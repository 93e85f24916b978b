package program

import (
	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
)

// A Step is what a program does, in the order of work on a panel.
type Step int

// The steps. Those on both sides come as hours.Plan has them: holes A, rough A, rough B, finish B, finish A, free A.
const (
	Holes  Step = iota // for the register dowels
	Rough              // level by level, with wood left for the finish
	Finish             // rows along the surface
	Free               // along the parts' outlines, so that only tabs hold them
)

var stepNames = [...]string{"holes", "rough", "finish", "free"}

// String is the step as it stands in a file's name.
func (s Step) String() string {
	if s < Holes || s > Free {
		return "unknown"
	}
	return stepNames[s]
}

// A Move goes straight from where the last one ended to a place of the tip.
type Move struct {
	To        geom.Vec
	FeedMmMin float64 // 0 for a rapid
}

// Rapid reports whether the move goes as fast as the machine can, and so must not cut.
func (m Move) Rapid() bool { return m.FeedMmMin == 0 }

// A Program is what one cutter does on one side of a panel. See the package for the frame.
type Program struct {
	Name    string // of its file, without folder
	Panel   int    // from 1
	Side    panel.Face
	Step    Step
	Cutter  stock.Cutter
	RPM     float64 // of the spindle, 0 where the program doesn't say
	Safe    float64 // height of rapids above the face that lies up
	Moves   []Move
	Remarks []string // in the head of the file

	Blank  Blank
	Dowels [2]geom.Vec2 // where the register dowels are as the panel lies for this side
}

// A Blank is a panel before any work.
type Blank struct {
	X, Y  float64 // along and across the grain of its faces
	Board float64 // thickness as it lies on the bed
}

// origin is where the zero of X and Y lies in the program's frame.
func (p *Program) origin(z Zero) geom.Vec2 {
	switch z {
	case AtMiddle:
		return geom.Vec2{X: p.Blank.X / 2, Y: p.Blank.Y / 2}
	case AtDowel:
		return p.Dowels[0]
	}
	return geom.Vec2{}
}
