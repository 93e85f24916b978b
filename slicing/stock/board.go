package stock

import (
	"fmt"
	"math"
)

// Grain is the way a veneer's fibres run in its board.
type Grain uint8

const (
	Along  Grain = iota // the length of the board: X of a layer that is not turned
	Across              // the width of the board: Y of a layer that is not turned
	Plain               // no grain: fibreboard
)

func (g Grain) String() string {
	switch g {
	case Along:
		return "along"
	case Across:
		return "across"
	case Plain:
		return "plain"
	}
	return fmt.Sprintf("Grain(%d)", uint8(g))
}

// Turned is the grain after the layer is turned by 90 degrees.
func (g Grain) Turned() Grain {
	switch g {
	case Along:
		return Across
	case Across:
		return Along
	}
	return g
}

// A Veneer is one ply of a board.
type Veneer struct {
	Thickness float64
	Grain     Grain
	Species   string // key into Catalogue.Species
}

// A Board is sheet stock as bought.
type Board struct {
	Key, Name      string
	Nominal        float64 // what it is sold as, mm
	Thickness      float64 // as measured, mm
	SheetX, SheetY float64 // whole sheet; X is the length along the grain of the faces
	Density        float64 // kg/m³
	GlueLine       float64 // width of the line between two veneers, mm; 0 for none
	GlueTone       Lab     // of that line, bare
	Recipe         []Veneer
	Sources        map[string]string
}

// Measured is the board with its recipe scaled to sum to thickness, in mm, as a maker's own caliper gives it. A thickness
// that is not a positive number leaves the board as it is.
func (b Board) Measured(thickness float64) Board {
	if !(thickness > 0) || math.IsInf(thickness, 0) || thickness == b.Thickness {
		return b
	}
	scaled := make([]Veneer, len(b.Recipe))
	for i, v := range b.Recipe {
		v.Thickness *= thickness / b.Thickness
		scaled[i] = v
	}
	b.Recipe, b.Thickness = scaled, thickness
	return b
}

// used is the veneer thickness below which nothing can be told from rounding, in mm.
const used = 1e-9

// Skimmed is what is left of the recipe, bottom to top, once skim mm are carved off each face. Veneers used up wholly are
// gone from it; it sums to Thickness - 2 skim. It fails when skim is negative or nothing would be left.
func (b Board) Skimmed(skim float64) ([]Veneer, error) {
	switch {
	case !(skim >= 0): // also refuses NaN
		return nil, fmt.Errorf("stock: board %q: the skim is %g mm: it cannot be less than 0", b.Key, skim)
	case 2*skim >= b.Thickness-used:
		return nil, fmt.Errorf("stock: board %q: a skim of %g mm on each face leaves nothing of %g mm", b.Key, skim, b.Thickness)
	}
	left := make([]Veneer, 0, len(b.Recipe))
	low, high := skim, b.Thickness-skim
	z := 0.0
	for _, v := range b.Recipe {
		from, to := max(z, low), min(z+v.Thickness, high)
		z += v.Thickness
		if to-from > used {
			v.Thickness = to - from
			left = append(left, v)
		}
	}
	return left, nil
}
