package files

import (
	"context"
	"slices"

	"grainstack/slicing/proof"
	"grainstack/slicing/report"
)

// ReportPrograms makes the programs of all panels and says what came of each, and of each panel, on a model of its board. Nothing is
// written.
func ReportPrograms(ctx context.Context, w Work) (out []report.Program, proven []report.Proven, err error) {
	b := newBench(ctx, w)
	for i := range b.programs.panels {
		all, err := b.programs.panels[i]()
		if err != nil && b.programs.proofs[i] == nil { // programs that fail their proof are told of
			return nil, nil, err
		}
		for n, p := range all {
			out = append(out, b.programs.report(i, n, p))
			for k := range p.files {
				p.files[k].text = nil
			}
		}
		proven = append(proven, b.programs.proven(i))
	}
	return out, proven, nil
}

// proven is what came of panel i.
func (m *programMaker) proven(i int) report.Proven {
	laid, p := m.b.Workshop.Layout.Panels[i], m.proofs[i]
	out := report.Proven{Panel: laid.Number, Holds: p.Holds(), Held: []string{}, Unheld: []string{}, LooseWaste: p.Loose, SplinteredMm2: p.Splintered}
	part := 0
	for _, at := range laid.Placed {
		if _, ok := m.b.Workshop.Part(at.Part); !ok {
			continue
		}
		part++
		switch {
		case slices.Contains(p.Unheld, part):
			out.Unheld = append(out.Unheld, at.Part.String())
		case !slices.ContainsFunc(p.Faults, func(f proof.Fault) bool { return f.What == proof.Loose && f.Part == part }):
			out.Held = append(out.Held, at.Part.String())
		}
	}
	return out
}

// report is program n of panel i with its proof.
func (m *programMaker) report(i, n int, p *madeProgram) report.Program {
	size := p.Box.Size()
	proven := m.proofs[i]
	f := proven.Figures[n]
	out := report.Program{
		File: p.Name, Panel: p.Panel, Side: p.Side.String(), Step: p.Step.String(), Cutter: p.Cutter.Key, RPM: p.RPM,
		CutM: p.Metres, RapidM: p.RapidMetres, Minutes: p.Min, LowestMm: p.Box.Min.Z, HighestMm: p.Box.Max.Z, TravelMm: [3]float64{size.X, size.Y, size.Z},
		Proof: report.Proof{Holds: true, DeepestMm: f.Deepest, IntoPartMm: f.IntoPart, LeftMm: f.Left, RemovedCm3: f.RemovedCm3},
	}
	names := map[string]bool{p.Name: true}
	for _, f := range p.files {
		names[f.name] = true
		out.Files = append(out.Files, report.ProgramFile{Name: f.name, Lines: f.lines, Bytes: f.bytes, Minutes: f.Min})
		out.Lines, out.Bytes = out.Lines+f.lines, out.Bytes+f.bytes
	}
	for _, f := range proven.Faults {
		if names[f.File] {
			out.Proof.Holds = false
			out.Proof.Faults = append(out.Proof.Faults, f.String())
		}
	}
	return out
}
