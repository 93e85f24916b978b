package program

import (
	"fmt"
	"math"
	"strings"

	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/phrase"
	"grainstack/slicing/stock"
)

// A Step is what a program does, in the order of work on a panel.
type Step int

// The steps. Those on both sides come as hours.Plan has them: holes A, rough A, rough B, finish B, finish A, free A.
const (
	Holes  Step = iota // for the register dowels
	Rough              // level by level, with wood left for the finish
	Finish             // rows along the surface
	Free               // across tabs, so that little of them holds the parts
)

var stepNames = [...]string{"holes", "rough", "finish", "free"}

// String is the step as it stands in a file's name.
func (s Step) String() string {
	if s < Holes || s > Free {
		return "unknown"
	}
	return stepNames[s]
}

// A Program is what one cutter does on one side of a panel. See the package for the frame.
type Program struct {
	Name    string // of its file, without folder
	Panel   int    // from 1
	Side    panel.Face
	Step    Step
	Cutter  stock.Cutter
	RPM     float64 // of the spindle, 0 where the program doesn't say
	Safe    float64 // height of rapids above the face that lies up
	Home    float64 // height at which a file begins and ends, where that is more: clear of clamps
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

// origin is where the zero of X, Y and Z lies in the program's frame.
func (p *Program) origin(m Machine) geom.Vec { return m.Origin(p.Blank, p.Dowels) }

// home is the height at which a file begins and ends.
func (p *Program) home() float64 { return max(p.Safe, p.Home) }

// Check says in a sentence what is wrong with a program, nil where it can be written.
func (p *Program) Check() error {
	switch {
	case !phrase.Plain(p.Name) || p.Name == "" || strings.ContainsAny(p.Name, `/\`):
		return fmt.Errorf("a program is named %q: give a name of plain letters and digits without a folder", p.Name)
	case p.Panel < 1 || p.Step < Holes || p.Step > Free || p.Side != panel.SideA && p.Side != panel.SideB:
		return fmt.Errorf("%s: it is for no step of any panel's side", p.Name)
	case !(p.Safe > 0 && p.home() < farthest):
		return fmt.Errorf("%s: rapids go %g mm above the panel: give a safe height of more than 0", p.Name, p.Safe)
	case !(p.Blank.X > 0 && p.Blank.X < farthest && p.Blank.Y > 0 && p.Blank.Y < farthest && p.Blank.Board > 0 && p.Blank.Board < farthest):
		return fmt.Errorf("%s: the panel is %g x %g x %g mm: give a size", p.Name, p.Blank.X, p.Blank.Y, p.Blank.Board)
	case !(p.RPM >= 0 && p.RPM < 1e6):
		return fmt.Errorf("%s: the spindle turns %g times a minute: give 0 or more", p.Name, p.RPM)
	case len(p.Moves) == 0:
		return fmt.Errorf("%s: it moves nothing", p.Name)
	}
	for i, m := range p.Moves {
		if !(math.Abs(m.To.X) < farthest && math.Abs(m.To.Y) < farthest && math.Abs(m.To.Z) < farthest) || !(m.FeedMmMin >= 0 && m.FeedMmMin < 1e6) {
			return fmt.Errorf("%s: move %d goes to %g, %g, %g at %g mm/min, which is nowhere on a machine", p.Name, i+1, m.To.X, m.To.Y, m.To.Z, m.FeedMmMin)
		}
		if m.Turn != Straight && (m.Rapid() || !(m.Middle.Len() < farthest)) {
			return fmt.Errorf("%s: move %d is an arc without a feed or round a middle that is on no machine", p.Name, i+1)
		}
	}
	return nil
}

// farthest is beyond any router, mm.
const farthest = 1e5
