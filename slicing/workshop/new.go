package workshop

import (
	"context"
	"errors"
	"fmt"
	"math"

	"grainstack/slicing/finding"
	"grainstack/slicing/glue"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// New works out the workshop for settled figures of a standing. Parts, tabs and pins that the maker has put stay;
// the rest is laid and put by the program. Where the figures are withheld so is the workshop. The error is that of ctx, or
// says why the figures don't belong here.
func New(ctx context.Context, st *job.Standing, f *job.Figures, p job.Places, c *stock.Catalogue, watch Watch) (*Workshop, error) {
	if !f.Settled && f.Withheld.None() {
		return nil, errors.New("the workshop wants settled figures")
	}
	w := &making{&Workshop{For: f.For, Places: p, Figures: f, Withheld: f.Withheld, Margin: f.For.Setup(c).Margin()}, st, c}
	if !w.Withheld.None() {
		return w.Workshop, nil
	}
	if err := p.Check(); err != nil {
		return nil, err
	}
	watch.tell(cuttingOut, 0)
	parts, err := partsOf(ctx, f, 0, len(f.Layers))
	if err != nil {
		return nil, err
	}
	w.Parts, w.Seams, w.Cautions = split(parts, p.Splits)
	w.Layers = layersOf(w.Parts, len(f.Layers))
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
	if err := w.join(ctx); err != nil {
		return nil, err
	}
	w.seam()
	watch.tell(weighing, 0)
	w.finish()
	if err := w.stand(ctx); err != nil {
		return nil, err
	}
	w.before = w.Cautions
	return (&laying{w.Workshop, c, watch}).layParts(ctx)
}

// withhold keeps the settings but says why the rest is missing.
func (w *making) withhold(err error) *Workshop {
	if err != nil {
		w.Withheld = unit.Told(err)
		w.tell(finding.Of(finding.Withheld).Because(w.Withheld))
	}
	return w.Workshop
}

// register places the register dowels.
func (w *Workshop) register() (err error) {
	s, h := w.For, w.For.Shop
	w.Register, err = panel.Registration(s.PanelX, s.PanelY, h.Axis, h.Seat, h.DowelDiameter, h.DowelDepth, h.DowelInset)
	return err
}

// PanelRules say where parts may lie on a panel with these settings.
func PanelRules(s job.Settings, c *stock.Catalogue) (panel.Rules, error) {
	w := &Workshop{For: s, Margin: s.Setup(c).Margin()}
	err := w.register()
	return w.rules(), err
}

// finish works out sanding and varnish.
func (w *making) finish() {
	coat, _ := w.For.FinishIn(w.c)
	area := w.st.Skin()
	w.Finish = Finish{Area: area, Coating: glue.Coat(area, coat), Sanding: usualAllowance(w.For, w.c), Allowance: w.For.Shop.Allowance}
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
