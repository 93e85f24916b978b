package trial

import (
	"fmt"
	"math"

	"grainstack/slicing/finding"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// A Quantity is one figure that stacks are compared by.
type Quantity int

// The quantities, in the order in which they are listed.
const (
	LayerCount     Quantity = iota
	LayerThickness          // mm
	StackHeight             // mm
	Weight                  // g
	RouterTime              // min
	HandTime                // min: turning, clamping, changing the cutter
	PanelCount
	BoardCount
	BoardCost     // in the maker's money; not known without a price
	GlueWet       // g
	SmallestJoint // mm²
	NarrowestRim  // mm; not known without a hollow
	TrappedWood   // mm³ round the piece that no cutter sees; what stays in the hollow nobody sees either
	TipAngle      // degrees, less than nothing where it falls over by itself; not known where it stands on an edge
	NeedsALook    // sentences
	Quantities    // how many there are
)

// String is the quantity as it is listed.
func (q Quantity) String() string {
	return [Quantities]string{"Layers", "Layer", "Height", "Weight", "Router", "By hand", "Panels", "Boards", "Board price", "Glue",
		"Smallest joint", "Narrowest rim", "Out of reach", "Tips at", "Needs a look"}[q]
}

// Text is an amount of the quantity with its unit.
func (q Quantity) Text(v float64, u unit.System) string {
	switch q {
	case LayerThickness, StackHeight, NarrowestRim:
		return unit.Length(v, u)
	case Weight, GlueWet:
		return unit.Mass(v, u)
	case RouterTime, HandTime:
		return unit.Duration(v)
	case SmallestJoint:
		return unit.Area(v, u)
	case TrappedWood:
		return unit.Volume(v, u)
	case TipAngle:
		if v < 0 {
			return "falls over"
		}
		return unit.Angle(v)
	case BoardCost:
		return fmt.Sprintf("%.2f", v)
	}
	return fmt.Sprintf("%.0f", v)
}

// An Amount is how much there is of a quantity.
type Amount struct {
	Value float64
	Known bool
}

// A Ticket is what settings come to in the figures that trials are compared by. It never changes.
type Ticket struct {
	For      job.Settings
	Withheld unit.Said // why figures are missing; says nothing where none are

	Reckoned [Quantities]Amount // from settled figures: hours, panels and boards are estimates
	Worked   [Quantities]Amount // the same with the cutters followed and the panels laid; unknown where that was not done
	Deep     bool               // that was done

	Settled []finding.Finding // what needs a look by settled figures
	Found   []finding.Finding // by all that is worked out, where Deep
}

// NewTicket is the ticket of settled figures that have not been touched by a simulation.
func NewTicket(f *job.Figures, c *stock.Catalogue) Ticket {
	t := Ticket{For: f.For, Withheld: f.Withheld, Settled: f.Cautions}
	know := func(q Quantity, v float64) { t.Reckoned[q] = Amount{v, !math.IsNaN(v) && !math.IsInf(v, 0)} }
	if len(f.Layers) > 0 {
		know(LayerCount, float64(len(f.Layers)))
		know(LayerThickness, f.Thickness)
	}
	know(StackHeight, f.Size.Z)
	know(NeedsALook, float64(len(f.Cautions)))
	if !f.Withheld.None() {
		return t
	}
	if f.CoreKnown {
		know(Weight, 1000*f.Totals.WeightKg)
		know(RouterTime, f.Totals.RouterMin())
	}
	know(HandTime, f.Totals.HandsOnMin)
	know(PanelCount, float64(f.Totals.Panels))
	know(GlueWet, f.Totals.GlueG)
	for i, l := range f.Layers {
		if a := t.Reckoned[SmallestJoint]; i > 0 && (!a.Known || l.Joint < a.Value) {
			know(SmallestJoint, l.Joint)
		}
		if a := t.Reckoned[NarrowestRim]; l.Rim > 0 && (!a.Known || l.Rim < a.Value) {
			know(NarrowestRim, l.Rim)
		}
	}
	if saw, err := panel.Saw(f.Totals.Panels, f.For.PanelX, f.For.PanelY, sheet(f.For, c)); err == nil {
		t.bought(&t.Reckoned, len(saw.Boards), saw.Cost)
	}
	return t
}

// bought sets boards and their price.
func (t *Ticket) bought(to *[Quantities]Amount, boards int, cost float64) {
	to[BoardCount] = Amount{float64(boards), true}
	to[BoardCost] = Amount{cost, t.For.Shop.SheetPrice > 0}
}

// sheet is the board as it is bought.
func sheet(s job.Settings, c *stock.Catalogue) panel.Sheet {
	b, _ := s.BoardIn(c)
	return panel.Sheet{X: b.SheetX, Y: b.SheetY, Trim: s.Shop.Trim, Kerf: s.Shop.Kerf, Price: s.Shop.SheetPrice}
}

// with is the ticket with what the cutters reach, for settings that carve alike, and what the workshop, of figures that
// know of no cutters, comes to for its own.
func (t Ticket) with(r *job.Reached, w *workshop.Workshop, c *stock.Catalogue) Ticket {
	if !r.For.CarvesLike(t.For) || w.For != t.For || !t.Withheld.None() {
		return t
	}
	t.Worked, t.Deep = t.Reckoned, true
	know := func(q Quantity, v float64) { t.Worked[q] = Amount{v, true} }
	know(RouterTime, r.RouterMin())
	know(TrappedWood, r.Trapped)
	t.Found = finding.Gather(workshop.NeedsALook(w.Figures, w), r.Cautions)
	know(NeedsALook, float64(len(t.Found)))
	if !w.Withheld.None() {
		for _, q := range []Quantity{PanelCount, BoardCount, BoardCost, HandTime} {
			t.Worked[q] = Amount{}
		}
		return t
	}
	know(PanelCount, float64(w.Panels()))
	know(HandTime, w.HandsOnMin(c))
	t.bought(&t.Worked, w.Boards.Count(), w.Boards.Cost())
	if w.Balance.Stands {
		know(TipAngle, w.Balance.TipDeg)
	}
	return t
}

// Learned is the ticket with the minutes that the maker's own machine has been seen to take.
func (t Ticket) Learned(k hours.Factor) Ticket {
	if k.Known() {
		t.Reckoned[RouterTime].Value *= k.Times
		t.Worked[RouterTime].Value *= k.Times
	}
	return t
}

// Best is the surest amount that is known of a quantity. An estimate is one that following the cutters or laying the panels
// would still change.
func (t Ticket) Best(q Quantity) (a Amount, estimate bool) {
	if a = t.Worked[q]; a.Known {
		return a, false
	}
	return t.Reckoned[q], roughly(q)
}
