package export

import (
	"context"
	"math"
	"slices"

	"grainstack/slicing/panel"
	"grainstack/slicing/program"
	"grainstack/slicing/proof"
)

// proofStep is the spacing of the columns on which programs are proven, mm.
const proofStep = 0.2

// Wanted is what the panel is to become, as programs for it are proven: its columns every proofStep, or as near to that as panel
// has room for, in its board before a skim is taken off each face. Of the plan's holes those of alignment pins count; those of the
// register dowels, which go through, are told by the register.
func Wanted(ctx context.Context, p PanelPlan, skim float64, r panel.Register) (*proof.Wanted, error) {
	pins := slices.DeleteFunc(slices.Clone(p.Holes), func(h PanelHole) bool { return h.FromBelow <= 0 && h.FromAbove <= 0 })
	p.Holes = nil
	p.Step = max(proofStep, math.Ceil(math.Sqrt(p.X*p.Y/mostColumns)*100)/100)
	m, whose, err := newPanelModel(ctx, p, false)
	if err != nil {
		return nil, err
	}
	var drilled []int // columns of pins' holes
	for _, h := range pins {
		m.under(h, func(i int) { drilled = append(drilled, i) })
		m.drill(h)
	}
	w := &proof.Wanted{
		Blank: program.Blank{X: p.X, Y: p.Y, Board: p.Thickness + 2*skim}, Skim: skim, TurnAlongY: p.TurnAlongY,
		Dowels: r.Dowels, DowelDepth: r.Depth, W: m.nx, H: m.ny, StepX: m.sx, StepY: m.sy, Whose: whose,
	}
	n := m.nx * m.ny
	w.Low, w.High, w.Kind = make([]int16, n), make([]int16, n), make([]proof.Kind, n)
	for i := range n {
		if !m.wood(i) {
			continue
		}
		w.Low[i], w.High[i] = proof.Counts(skim+float64(m.bottom[i])), proof.Counts(skim+float64(m.top[i]))
		switch {
		case whose[i] > 0:
			w.Kind[i] = proof.Part
		case whose[i] == ofFrame:
			w.Kind[i], whose[i] = proof.Frame, 0
		default:
			w.Kind[i] = proof.Tab
		}
	}
	for _, i := range drilled {
		if w.Kind[i] == proof.Part {
			w.Kind[i] = proof.Pin
		}
	}
	return w, nil
}
