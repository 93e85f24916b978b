package job

import (
	"math"

	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
)

// A Spread says on which faces of a joint glue is spread.
type Spread int

// The ways to spread.
const (
	SpreadAsMade Spread = iota // as the glue's maker has it
	SpreadOne                  // on one face
	SpreadBoth                 // on both
)

// Grits are sandpapers from coarse to fine; zeros at the end stand for none.
type Grits [6]int

// List is the grits without the zeros.
func (g Grits) List() []int {
	for i, n := range g {
		if n == 0 {
			return g[:i:i]
		}
	}
	return g[:]
}

// A Shop is how panels are sawn, laid, held and carved, and how the piece is glued and finished, in groups by what they move. It is
// comparable. A job file has the fields of all groups side by side.
type Shop struct {
	Sawing
	Dowelling
	PanelClamps PanelClamps // that hold panels down on the machine; parts keep off them on both sides
	ClampHeight float64     // how high they stand above the face that they hold
	Tabs
	Pins
	Pressing
	Finishing
	EveningMin float64 // minutes that an evening in the workshop has; 0 stands for the usual
	Seed       uint64  // of the search for a layout
}

// Sawing is what boards cost and how panels are sawn of them.
type Sawing struct {
	SheetPrice float64 // of one board, in the maker's money
	Prices     Prices  // of boards that only single layers are of
	Kerf       float64 // width of the saw cut
	Trim       float64 // taken off each edge of a board first
	Edge       float64 // least distance of a part from the panel's edges; never less than the cutter and a frame need
}

// Dowelling is how a panel lies again where it lay when it was turned over.
type Dowelling struct {
	DowelDiameter, DowelDepth, DowelInset float64 // depth into the bed, inset from the panel's edges
	Axis                                  panel.Axis
	Seat                                  panel.Seat
}

// Tabs hold a part in its panel.
type Tabs struct {
	TabWidth, TabThickness, TabSpacing float64 // spacing: longest stretch of outline without a tab
	TabLeft                            float64 // how thick a last program leaves tabs, 0 where they are sawn through as they are
}

// Pins bring two layers together as they belong.
type Pins struct {
	PinDiameter, PinDepth, PinCover float64 // depth into either layer, wood wanted all round; no diameter, no pins
}

// Pressing is how joints are spread with glue and pressed.
type Pressing struct {
	Spread      Spread
	SpreadGM2   float64 // g/m² on one face; 0 stands for the glue's own
	ClampForceN float64 // that a clamp is set to
	ClampOpens  float64 // the tallest stack that a clamp goes round; 0 where any does
	Clamps      int     // at hand; 0 for as many as it takes
}

// Finishing is how the carved piece is sanded and coated.
type Finishing struct {
	Grits     Grits
	GlueStep  float64 // step between two layers that the glue-up leaves
	Allowance float64 // wood added to the surface for sanding before layers are cut; 0 for none
	Coats     int     // of varnish; 0 stands for the finish's own
}

// usualEvening is how long makers are taken to be in the workshop of an evening, minutes (common practice, no source).
const usualEvening = 180

// Evening is how many minutes an evening in the workshop has.
func (h Shop) Evening() float64 {
	if h.EveningMin > 0 {
		return h.EveningMin
	}
	return usualEvening
}

// DefaultShop is a usual shop (common practice, no source): a 3 mm saw cut, 8 mm dowels, a few kN a clamp.
func DefaultShop() Shop {
	return Shop{
		Sawing:      Sawing{Kerf: 3, Edge: 15},
		Dowelling:   Dowelling{DowelDiameter: 8, DowelDepth: 12, DowelInset: 14},
		ClampHeight: 20, // common practice, no source
		Tabs:        Tabs{TabWidth: 8, TabThickness: 6, TabSpacing: 180},
		Pins:        Pins{PinDiameter: 8, PinDepth: 10, PinCover: 3},
		Pressing:    Pressing{ClampForceN: 3000, ClampOpens: 600},
		Finishing:   Finishing{Grits: Grits{120, 150, 180}, GlueStep: 0.2},
		EveningMin:  usualEvening, Seed: 1,
	}
}

// GlueIn is the chosen glue as the maker spreads it; ok is false for a key that the catalogue lacks.
func (s Settings) GlueIn(c *stock.Catalogue) (g stock.Glue, ok bool) {
	g, ok = c.Glue(s.Glue)
	switch s.Shop.Spread {
	case SpreadOne:
		g.Faces = 1
	case SpreadBoth:
		g.Faces = 2
	}
	if s.Shop.SpreadGM2 > 0 {
		g.SpreadGM2 = s.Shop.SpreadGM2
	}
	return g, ok
}

// FinishIn is the chosen finish with the maker's own number of coats; ok is false for a key that the catalogue lacks.
func (s Settings) FinishIn(c *stock.Catalogue) (f stock.Finish, ok bool) {
	f, ok = c.Finish(s.Finish)
	if s.Shop.Coats > 0 && f.Coats > 0 {
		f.Coats = s.Shop.Coats
	}
	return f, ok
}

// LeastFrame is what stays of the panel round the carve boundaries, mm, for tabs to stand on (common practice, no source).
const LeastFrame = 5.0

// Edge is the least distance of a part from the panel's edges: what the maker wants, and room for the cutter and a frame.
func (s Settings) Edge(margin float64) float64 { return math.Max(s.Shop.Edge, margin+LeastFrame) }
