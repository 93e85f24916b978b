package job

import (
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/stack"
	"grainstack/slicing/unit"
)

// Figures are the consequences of settings for a piece that stands.
type Figures struct {
	For     Settings // what these figures are for
	Settled bool     // false while the parts and the closed hollows are not known yet

	// Simulated is true where the minutes are those of the cutters' real paths; EstimateOff is then how far the estimate had
	// been off, as a share of them. Factor is what was learned of the maker's machine, where it has been put in.
	Simulated   bool
	EstimateOff float64
	Factor      hours.Factor

	// Withheld says why there are no figures that need a solid, nothing where there are.
	Withheld unit.Said
	// CoreKnown is false while the hollow is still being worked out: weight and hours are then those of the solid piece.
	CoreKnown bool

	Size      geom.Vec // mm, as it stands
	Thickness float64  // of a layer, mm
	Layers    []Layer  // from the floor up
	Totals    Totals
	Remainder stack.Rest        // of the last layer
	Cautions  []finding.Finding // what needs a look, the worst first

	Kept        []Kept      // what shall stay whole, from below; settled figures only
	BetterJoint JointChoice // a first joint that goes through less of it; none where there is none

	moved    []finding.Place // where the surface moved when the scan was mended, without their layers
	chosen   chosen
	skin     float64         // of the outside, mm²
	made     *Standing       // as it is carved, with the wood for sanding; settled figures only
	division *stack.Division // of made
}

// Made is the piece as its layers are carved, with the wood for sanding, and the pieces that its layers have: nil for figures
// that are not settled.
func (f *Figures) Made() (*Standing, *stack.Division) { return f.made, f.division }

// Coarser is what finish rows further apart would come to, by the minutes as they are known; none where ok is false.
func (f *Figures) Coarser() (k hours.Coarser, ok bool) {
	if !f.Withheld.None() {
		return k, false
	}
	return hours.Coarsen(f.chosen.setup.Finish, f.Totals.FineMin)
}

// A Layer is one panel's thickness of the piece.
type Layer struct {
	stack.Slab
	Blank                            // what it is carved from and how it lies
	Capped                  bool     // left solid by the maker's choice
	Wood                    float64  // mm³, what stays
	Core                    float64  // mm³, the hollow
	coreMoment              geom.Vec // ∫ (x, y, z) over it, mm⁴
	Shut                    float64  // mm³ of hollow that no cutter gets into and that stays wood; settled figures only
	Size                    geom.Vec2
	Parts                   []stack.Part // settled figures only
	Slivers                 []stack.Part // what is too small to be made, and counts nowhere; settled figures only
	Pocket                  geom.Region  // the upright pocket, where cores are straight
	PocketBottom, PocketTop float64      // mm, where it begins and ends
	Rim                     float64      // narrowest ring of wood at its faces, mm; 0 where there is no hollow or it isn't known yet
	RimAt                   geom.Vec2    // where that is, at a height
	RimZ                    float64      // mm
	Joint                   float64      // mm² glued to the layer below
	Grain                   stack.Grain  // at the joint below; not for the first layer
	Minutes                 Minutes
}

// WoodKg is what the layer's wood weighs.
func (l *Layer) WoodKg() float64 { return l.Wood * l.Board.Density * kgPerMm3 }

// kgPerMm3 times a density in kg/m³ is the density in kg/mm³.
const kgPerMm3 = 1e-9

// Minutes at the router, estimated.
type Minutes struct {
	RoughTop, RoughBottom, FineTop, FineBottom float64
	HandsOn                                    float64 // turning, clamping, changing the cutter
}

// Rough is the rough passes of both sides.
func (m Minutes) Rough() float64 { return m.RoughTop + m.RoughBottom }

// Fine is the finish passes of both sides.
func (m Minutes) Fine() float64 { return m.FineTop + m.FineBottom }

// Totals are the bench ticket.
type Totals struct {
	Wood, Core    float64 // mm³
	WoodKg        float64
	GlueG         float64 // wet, as it is spread
	GlueDryG      float64 // what stays in the piece
	FinishDryG    float64 // g of finish that stay on the outside
	WeightKg      float64 // wood, dry glue and dry finish
	Joint         float64 // mm², all joints
	RoughMin      float64
	FineMin       float64
	HandsOnMin    float64
	Panels        int // an estimate: as many like parts as fit side by side
	LargestLayer  int
	Largest       geom.Vec2 // mm, the largest part
	Parts         int       // as far as they are known
	PartsTooLarge int       // that fit no panel
	FitsPanel     bool
	TooLargeLayer int // the first with a part that fits no panel, where FitsPanel is false
	TooLarge      geom.Vec2
	SavedKg       float64 // against the solid piece
	SavedMin      float64
	DoubledJoints int
}

// RouterMin is all time at the machine.
func (t Totals) RouterMin() float64 { return t.RoughMin + t.FineMin }
