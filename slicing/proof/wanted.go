package proof

import (
	"errors"
	"fmt"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/program"
)

// A Kind is what a column of a panel is to become.
type Kind uint8

// The kinds of columns.
const (
	Free  Kind = iota // may be carved away
	Part              // a part, or air in it that no cutter sees
	Tab               // holds a part
	Frame             // stays as the board is, but that its faces may be skimmed
	Pin               // the hole of an alignment pin in a part: as low as told, and may be filled
)

// unit is a count of heights, mm.
const unit = 0.01

// A Wanted is what a panel is to become: columns on the nodes of a lattice over the whole panel, x fastest, as side A lies.
// Between Low and High, hundredths of a mm above the bed before anything is skimmed, wood is to stay.
type Wanted struct {
	Blank        program.Blank
	Skim         float64 // carved off each face
	TurnAlongY   bool    // turned over about the centre line along Y, instead of that along X
	Dowels       [2]panel.Dowel
	DowelDepth   float64 // into the bed
	W, H         int
	StepX, StepY float64
	Low, High    []int16
	Kind         []Kind
	Whose        []int16 // number of the part, from 1; 0 for none
}

// mostHeight is the thickest board, mm.
const mostHeight = 300

func (w *Wanted) check() error {
	n := w.W * w.H
	switch {
	case w.W < 2 || w.H < 2 || len(w.Low) != n || len(w.High) != n || len(w.Kind) != n || len(w.Whose) != n:
		return errors.New("the model of the panel has no columns")
	case !(w.Blank.Board > 0 && w.Blank.Board <= mostHeight):
		return fmt.Errorf("a board of %g mm is not one that can be looked at: give up to %d mm", w.Blank.Board, mostHeight)
	case !(w.StepX > 0 && w.StepY > 0) || math.Abs(w.StepX*float64(w.W-1)-w.Blank.X) > 1e-6 || math.Abs(w.StepY*float64(w.H-1)-w.Blank.Y) > 1e-6:
		return errors.New("the columns of the panel don't cover it")
	}
	return nil
}

// dowels are where the register dowels are with a side up.
func (w *Wanted) dowels(side panel.Face) (at [2]geom.Vec2) {
	for i, d := range w.Dowels {
		at[i] = w.onSide(d.At, side)
	}
	return at
}

// onSide carries a place of side A to where it lies with a side up, and back.
func (w *Wanted) onSide(p geom.Vec2, side panel.Face) geom.Vec2 {
	if side == panel.SideA {
		return p
	}
	r := panel.Register{PanelX: w.Blank.X, PanelY: w.Blank.Y}
	if w.TurnAlongY {
		r.Axis = panel.AlongY
	}
	return r.TurnOver(p)
}

// A Clamp is where no cutter may go.
type Clamp struct {
	geom.Box2            // as the panel lies for the side
	Side      panel.Face // while it holds the panel with this side up
	Height    float64    // above the face that lies up
}

// Limits are how far programs may go.
type Limits struct {
	Gouge     float64 // into a part, a tab or the frame
	Bed       float64 // below the board
	Leave     float64 // wood that the rough pass leaves
	Lattice   float64 // between the columns on which paths were laid, which a path may be off by along the panel
	Residue   float64 // how much may stay on a part where the cutter would reach, beyond cusp and stock to leave
	Nut       float64 // diameter of the collet nut, 0 where it isn't known
	Clamps    []Clamp
	TabLeft   float64 // how thick tabs have to be left by the program that frees the parts, 0 for whole
	FinishCut float64 // the deepest that the finish cutter may take at once; 0 for its cutting edge
}

// UsualLimits are a twentieth of a millimetre into a part, two tenths into the bed and as much on top (from memory).
func UsualLimits() Limits {
	return Limits{Gouge: 0.05, Bed: 0.2, Leave: 0.4, Lattice: 0.5, Residue: 0.2, Nut: 20}
}
