package files

import (
	"context"
	"fmt"

	"grainstack/slicing/export"
	"grainstack/slicing/geom"
	"grainstack/slicing/phrase"
	"grainstack/slicing/proof"
	"grainstack/slicing/unit"
)

// wanted is the board that the programs of panel i have to leave.
func (b *bench) wanted(ctx context.Context, i int) (*proof.Wanted, error) {
	plan, err := b.panelPlan(i)
	if err != nil {
		return nil, err
	}
	return export.Wanted(ctx, plan, stockOf(b.Workshop, b.Workshop.Layout.Panels[i].Number).skim, b.Workshop.Register)
}

// prove carries out the programs of panel i on a model of its board. The error says where they fail: such programs are not to be
// written.
func (b *bench) prove(ctx context.Context, i int, w *proof.Wanted, programs []proof.Written) (*proof.Proof, error) {
	found, err := proof.Prove(ctx, w, b.proofLimits(), b.Machine, programs)
	if err != nil || found.Holds() {
		return found, err
	}
	more := ""
	if n := len(found.Faults) - 1; n > 0 {
		more = fmt.Sprintf(" (and %d more)", n)
	}
	return found, unit.Errorf("the programs of panel %d would not come out right, so none are written: %s%s", b.Workshop.Layout.Panels[i].Number, found.Faults[0].Says(), more)
}

// proofLimits are how far programs may go.
func (b *bench) proofLimits() proof.Limits {
	s := b.Workshop.For
	l := proof.UsualLimits()
	l.Leave, l.Nut = s.Setup(b.Catalogue).Leave, s.LimitsInUse().Nut
	l.TabLeft = s.Shop.TabLeft
	for _, box := range clampBoxes(b.Work) {
		for _, side := range faces() {
			l.Clamps = append(l.Clamps, proof.Clamp{Box2: box, Side: side, Height: s.Shop.ClampHeight})
		}
	}
	return l
}

// clampBoxes are what clamps cover of a panel as it lies, whichever side is up.
func clampBoxes(w Work) (out []geom.Box2) {
	s := w.Workshop.For
	for _, c := range s.Shop.PanelClamps.List() {
		if box := c.On(s.PanelX, s.PanelY); !box.Empty() {
			out = append(out, box)
		}
	}
	return out
}

// unheld is what the head of a panel's programs says of parts that no tab holds.
func (b *bench) unheld(i int) (remarks []string) {
	for _, at := range b.Workshop.Layout.Panels[i].Placed {
		if p, ok := b.Workshop.Part(at.Part); ok && len(p.Tabs) == 0 {
			remarks = append(remarks, phrase.Capital(at.Part.String())+" HAS NO TAB: screw it down first, clear of the paths.")
		}
	}
	return remarks
}
