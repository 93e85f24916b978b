// Package workshop is what the workshop does with settled figures: the parts of the layers with their outlines, how they lie
// on panels, the tabs that hold them and the pins between them, the joints, the boards, the order of the glue-up, how the
// piece stands and its finish.
package workshop

import (
	"context"
	"errors"
	"fmt"
	"math"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/glue"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
)

// A Workshop is everything that the workshop needs once the settings stand: parts on panels, dowels, tabs and pins, boards,
// the glue-up, balance and finish. It never changes.
type Workshop struct {
	For      job.Settings // what it is for
	Places   job.Places
	Figures  *job.Figures
	Improved bool // false while the layout is only the first one

	Withheld string // why there is nothing, "" where there is

	Parts    []Part // by layer and number
	Bench    *panel.Bench
	Layout   panel.Layout
	Register panel.Register
	Margin   float64      // between parts, and from the part to its carve boundary, mm
	Boards   []SawnBoards // what is bought and sawn, the board of most layers first

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

// New works out the workshop for settled figures of a standing. Parts, tabs and pins that the maker has put stay;
// the rest is laid and put by the program. Where the figures are withheld so is the workshop. The error is that of ctx, or
// says why the figures don't belong here.
func New(ctx context.Context, st *job.Standing, f *job.Figures, p job.Places, c *stock.Catalogue, watch Watch) (*Workshop, error) {
	if !f.Settled && f.Withheld == "" {
		return nil, errors.New("the workshop wants settled figures")
	}
	w := &Workshop{For: f.For, Places: p, Figures: f, Withheld: f.Withheld, Margin: f.For.Margin(c)}
	if w.Withheld != "" {
		return w, nil
	}
	if err := p.Check(); err != nil {
		return nil, err
	}
	watch.tell(cuttingOut, 0)
	parts, err := partsOf(ctx, f)
	if err != nil {
		return nil, err
	}
	w.Parts, w.Seams, w.Cautions = split(parts, p.Splits)
	if err := w.findSplinters(ctx); err != nil {
		return nil, err
	}
	if err := w.register(); err != nil {
		return w.withhold(err), nil
	}
	w.clampedDowels()
	for _, p := range w.Parts {
		if !(p.Shadow.Area() > 0) {
			return w.withhold(fmt.Errorf("Layer %d, part %d is too small to be laid on a panel: make the piece larger.", p.Layer, p.ID.Part+1)), nil
		}
	}
	if w.Bench, err = panel.NewBench(ctx, w.panelParts(), w.rules()); err != nil {
		return w.withhold(err), ctx.Err()
	}
	watch.tell(pinning, 0)
	if err := w.join(ctx, st, c); err != nil {
		return nil, err
	}
	w.seam(st, c)
	watch.tell(weighing, 0)
	w.finish(st, c)
	if err := w.stand(ctx, st); err != nil {
		return nil, err
	}
	w.before = w.Cautions
	return w.layParts(ctx, c, watch)
}

// withhold keeps the settings but says why the rest is missing.
func (w *Workshop) withhold(err error) *Workshop {
	if err != nil {
		w.Withheld = err.Error()
		w.tell(finding.Of(finding.Withheld).Named(w.Withheld))
	}
	return w
}

// tell adds what needs a look.
func (w *Workshop) tell(all ...finding.Finding) { w.Cautions = append(w.Cautions, all...) }

// register places the register dowels.
func (w *Workshop) register() (err error) {
	s, h := w.For, w.For.Shop
	w.Register, err = panel.Registration(s.PanelX, s.PanelY, h.Axis, h.Seat, h.DowelDiameter, h.DowelDepth, h.DowelInset)
	return err
}

// PanelRules say where parts may lie on a panel with these settings.
func PanelRules(s job.Settings, c *stock.Catalogue) (panel.Rules, error) {
	w := &Workshop{For: s, Margin: s.Margin(c)}
	err := w.register()
	return w.rules(), err
}

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

// Pieces is how many pieces a layer is made in: its parts, and more where joint lines split them.
func (w *Workshop) Pieces(layer int) (n int) {
	for _, p := range w.Parts {
		if p.Layer == layer {
			n++
		}
	}
	return n
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

// finish works out sanding and varnish.
func (w *Workshop) finish(st *job.Standing, c *stock.Catalogue) {
	coat, _ := w.For.FinishIn(c)
	area := st.Skin()
	w.Finish = Finish{Area: area, Coating: glue.Coat(area, coat), Sanding: usualAllowance(w.For, c), Allowance: w.For.Shop.Allowance}
}

// usualAllowance is what sanding takes off: the scallops of the finishing pass, the steps at the joints and the scratches of
// each grit.
func usualAllowance(s job.Settings, c *stock.Catalogue) float64 {
	fine := s.Fine.In(c)
	r := fine.Diameter / 2
	scallop := 0.0
	if half := fine.Stepover / 2; half < r {
		scallop = r - math.Sqrt(r*r-half*half)
	}
	a, err := glue.Allowance(scallop, s.Shop.GlueStep, s.Shop.Grits.List()...)
	if err != nil {
		return 0
	}
	return a
}
