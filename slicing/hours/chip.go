package hours

import (
	"math"

	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// ChipLoad is what each edge really takes in mm once the machine's greatest feed and its range of speeds are minded.
func ChipLoad(c stock.Cutter, m stock.Machine) float64 {
	c.FeedMmMin = min(c.FeedMmMin, m.FeedMmMin)
	c.RPM = min(max(c.RPM, m.MinRPM), m.MaxRPM)
	return c.ChipLoad()
}

// A Material is a group of materials that cut alike.
type Material uint8

// The groups of the handbook table.
const (
	Plywood Material = iota
	Softwood
	Hardwood
	Fibreboard
)

func (m Material) String() string {
	names := [...]string{"plywood", "softwood", "hardwood", "fibreboard"}
	if int(m) < len(names) {
		return names[m]
	}
	return "unknown"
}

// A Chip is what the edges take against what they ought to take, mm.
type Chip struct {
	Load, Least, Most float64
	Text              unit.Said // what is the matter and what would help; none when the load fits
}

// Rubs says that the edges take so little that they rub and burn.
func (c Chip) Rubs() bool { return c.Load < c.Least }

// Overloads says that the edges take more than they clear.
func (c Chip) Overloads() bool { return c.Load > c.Most }

// chart is the least and most chip load of a cutter of 6.35 mm at a depth of its diameter, in mm by material, and chartSize
// that diameter. Published chart of a maker of router bits (inches: plywood .006 to .009, softwood .006 to .008, hardwood
// .005 to .007, fibreboard .012 to .015). Other sources differ: one calculator gives .010 to .018 for plywood.
var chart = [...][2]float64{Plywood: {.15, .23}, Softwood: {.15, .20}, Hardwood: {.13, .18}, Fibreboard: {.30, .38}}

const chartSize = 6.35

// ChipRange is the handbook range of the chip load: the chart's, in proportion to the diameter (from memory: the chart is for
// one size), and a quarter less at a depth of two diameters, half at three (same chart).
func ChipRange(material Material, diameter, depth float64) (least, most float64) {
	if int(material) >= len(chart) || !(diameter > 0) {
		return 0, math.Inf(1)
	}
	r := chart[material]
	share := diameter / chartSize * (1 - 0.25*min(max(depth/diameter-1, 0), 2))
	return r[0] * share, r[1] * share
}

// CheckChip sets the chip load that follows from feed, speed and flutes against the range for a depth of cut of the cutter's
// stepdown. A tapered ball counts as wide as it is there.
func CheckChip(c stock.Cutter, m stock.Machine, material Material) Chip {
	chip := Chip{Load: ChipLoad(c, m)}
	wide := c.Diameter
	if c.Shape == stock.Taper {
		wide = c.WidthAt(c.Stepdown)
	}
	chip.Least, chip.Most = ChipRange(material, wide, c.Stepdown)
	feed := min(c.FeedMmMin, m.FeedMmMin)
	edges := float64(c.Flutes)
	switch {
	case chip.Rubs():
		chip.Text = unit.Say("Each edge of the %s takes %s, %s wants %s: it rubs and gets hot. %s",
			c.Name, unit.Mm(chip.Load), material, unit.Span{From: chip.Least, To: chip.Most}, slower(feed, edges, chip.Least, m))
	case chip.Overloads():
		chip.Text = unit.Say("Each edge of the %s takes %s, %s wants %s: it is overloaded. %s",
			c.Name, unit.Mm(chip.Load), material, unit.Span{From: chip.Least, To: chip.Most}, faster(feed, edges, chip.Most, m))
	}
	return chip
}

// slower says what would bring the chip load up to least.
func slower(feed, edges, least float64, m stock.Machine) unit.Said {
	rpm := math.Floor(feed/(edges*least)/100) * 100
	if rpm >= m.MinRPM {
		return unit.Say("Turn it at %.0f rpm or less.", rpm)
	}
	if need := math.Ceil(m.MinRPM*edges*least/50) * 50; need <= m.FeedMmMin {
		return unit.Say("Even at %.0f rpm it wants a feed of %s.", m.MinRPM, unit.MmMin(need))
	}
	if edges > 1 && feed/m.MinRPM >= least {
		return unit.Say("The machine can't give it more: take a cutter with one flute.")
	}
	return unit.Say("The machine can't give it more; take short cuts and a sharp cutter.")
}

// faster says what would bring the chip load down to most.
func faster(feed, edges, most float64, m stock.Machine) unit.Said {
	if rpm := math.Ceil(feed/(edges*most)/100) * 100; rpm <= m.MaxRPM {
		return unit.Say("Turn it at %.0f rpm or more.", rpm)
	}
	return unit.Say("Feed it at %s or less.", unit.MmMin(math.Floor(m.MaxRPM*edges*most/50)*50))
}
