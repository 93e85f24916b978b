package files

import (
	"context"
	"fmt"

	"grainstack/slicing/program"
	"grainstack/slicing/proof"
	"grainstack/slicing/unit"
)

// Batches makes the programs of one panel after another as they would be written, and hands each panel's in with what came of its
// proof: those that fail it, too, with the sentence that refuses them. Where none can be made the sentence alone is handed in. tell
// is told what is being done and the share that is done. Nothing is written.
func Batches(ctx context.Context, w Work, tell func(step string, share float64), each func(*proof.Batch)) ([]*proof.Batch, error) {
	b := newBench(ctx, w)
	n := len(b.programs.panels)
	var out []*proof.Batch
	for i := range n {
		at := func(share float64) {
			tell(fmt.Sprintf("programs of panel %d of %d", w.Workshop.Layout.Panels[i].Number, n), (float64(i)+share)/float64(n))
		}
		at(0)
		b.programs.told = at
		all, err := b.programs.panels[i]()
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		one := b.programs.batch(i, all)
		if err != nil {
			one.Refused = unit.Told(err)
		}
		out = append(out, one)
		each(one)
	}
	return out, nil
}

// batch is what was made for panel i.
func (m *programMaker) batch(i int, all []*madeProgram) *proof.Batch {
	b := m.b
	p := toolPanel(b.Work, i, nil)
	out := &proof.Batch{
		Number: p.Number, Skim: p.Skim, TurnAlongY: b.barePlan().TurnAlongY, Dowels: p.Register.Dowels, Clamps: b.proofLimits().Clamps, Machine: b.Machine, Proof: m.proofs[i],
		Blank: program.Blank{X: p.X, Y: p.Y, Board: p.Thickness + 2*p.Skim},
	}
	r := b.Workshop.For.Setup(b.Catalogue).Machine
	out.Rapid = [2]float64{r.RapidMmMin, r.RapidZMmMin}
	for _, one := range all {
		w := proof.Written{For: &one.Program}
		for _, f := range one.files {
			w.Files = append(w.Files, program.File{Name: f.name, Text: f.text})
		}
		out.Programs = append(out.Programs, w)
		out.Minutes = append(out.Minutes, one.Min)
	}
	return out
}
