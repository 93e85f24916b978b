// Package workshop is what the workshop does with settled figures: the parts of the layers with their outlines, how they lie
// on panels, the tabs that hold them and the pins between them, the joints, the boards, the order of the glue-up, how the
// piece stands and its finish.
package workshop

import (
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/glue"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// A Workshop is everything that the workshop needs once the settings stand: parts on panels, dowels, tabs and pins, boards,
// the glue-up, balance and finish. It never changes.
type Workshop struct {
	For      job.Settings // what it is for
	Places   job.Places
	Figures  *job.Figures
	Improved bool // false while the layout is only the first one

	Withheld unit.Said // why there is nothing; says nothing where there is

	Parts    []Part       // by layer and number
	Layers   []LayerParts // what each layer is made in
	Bench    *panel.Bench
	Layout   panel.Layout
	Register panel.Register
	Margin   float64 // between parts, and from the part to its carve boundary, mm
	Boards   Boards  // what is bought and sawn, the board of most layers first

	Joints  []Joint // from below
	Seams   []Seam  // between the pieces of split parts
	GlueUp  glue.Plan
	Balance Balance
	Finish  Finish

	Cautions []finding.Finding // what needs a look

	before []finding.Finding // those that don't come from the layout
}

// A Finish is what comes after the glue.
type Finish struct {
	Area float64 // of the skin, mm²
	glue.Coating
	Sanding   float64 // mm that sanding takes off, as the cutter, the joints and the grits leave it
	Allowance float64 // mm that are added to the surface for it before layers are cut: the maker's choice
}

// tell adds what needs a look.
func (w *Workshop) tell(all ...finding.Finding) { w.Cautions = append(w.Cautions, all...) }

// rules are those of the layout.
func (w *Workshop) rules() panel.Rules {
	s := w.For
	return panel.Rules{PanelX: s.PanelX, PanelY: s.PanelY, Margin: w.Margin, Edge: w.Edge(), Clamps: w.ClampSpots(), Dowels: w.Register.Dowels[:], Seed: s.Shop.Seed}
}

// Edge is the least distance of a part from the panel's edges.
func (w *Workshop) Edge() float64 { return w.For.Edge(w.Margin) }

func (w *Workshop) panelParts() []panel.Part {
	out := make([]panel.Part, len(w.Parts))
	for i, p := range w.Parts {
		out[i] = p.Part
	}
	return out
}

// Part is the part with an ID.
func (w *Workshop) Part(id panel.ID) (p *Part, ok bool) {
	for i := range w.Parts {
		if w.Parts[i].ID == id {
			return &w.Parts[i], true
		}
	}
	return nil, false
}

// MiddleOf is where the middle of a part's sizes lies on its panel, mm from the panel's lower left corner.
func (w *Workshop) MiddleOf(at panel.Placed) geom.Vec2 {
	p, ok := w.Part(at.Part)
	if !ok {
		return at.At
	}
	b := p.Shadow.Box()
	return at.Apply(b.Min.Add(b.Max).Scale(0.5))
}

// Boundary is how far the cutter goes round a part, on the stand: everything within the margin of its shadow, to a
// millimetre. It is reckoned when asked for, in a few milliseconds.
func (w *Workshop) Boundary(p *Part) geom.Region { return grown(p.Shadow, w.Margin) }

// A Balance says how the finished piece stands on the floor.
type Balance struct {
	glue.Body
	glue.Balance
	Stands bool // false where it stands on a point or an edge: TipDeg means nothing then
}

// Boards are what is bought and sawn, by board.
type Boards []SawnBoards

// SawnBoards are the boards of one kind, with how they are sawn.
type SawnBoards struct {
	Board  stock.Board
	Panels []int // numbers of the panels, in the order in which they are sawn
	Sheet  panel.Sheet
	Saw    panel.SawPlan
}

// A Seam is the upright joint at which two pieces of a split part are glued edge to edge, before their layer is glued to
// others.
type Seam struct {
	Left, Right panel.ID // the pieces, seen from A to B of the joint line
	glue.Joint           // its Below and Above are both the layer

	line   job.Split
	halves []Half // joint lines that came before it
}
