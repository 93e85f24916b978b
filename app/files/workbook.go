package files

import (
	"bytes"
	"context"
	"fmt"
	"strings"

	"grainstack/render/book"
	"grainstack/slicing/finding"
	"grainstack/slicing/panel"
	"grainstack/slicing/phrase"
	"grainstack/slicing/trial"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

func bookFile() File {
	return File{Kind: Book, Name: bookName, Does: "everything for the workshop, to print", make: func(ctx context.Context, b *bench) ([]byte, error) {
		filled, err := b.book(ctx)
		if err != nil {
			return nil, err
		}
		var buf bytes.Buffer
		err = book.Lay(filled, b.Letters).Write(&buf, b.Fonts)
		return buf.Bytes(), err
	}}
}

// book fills the work book.
func (b *bench) book(ctx context.Context) (book.Book, error) {
	w, f := b.Workshop, b.Figures
	_, img, err := b.look()
	if err != nil {
		return book.Book{}, err
	}
	out := book.Book{
		Title: b.Standing.Piece.Name, Date: b.Date, Paper: b.Paper, Units: b.Units, Look: img,
		Subtitle: fmt.Sprintf("%s × %s × %s · %s", unit.Length(f.Size.X, b.Units), unit.Length(f.Size.Y, b.Units), unit.Length(f.Size.Z, b.Units), boardNames(w)),
		Ticket:   b.ticket(), Boards: SawViews(w), Glue: b.glueUp(), Finish: b.finish(),
	}
	if out.Trials, err = b.trials(ctx); err != nil {
		return out, err
	}
	out.Findings, out.Aside = b.looks()
	for _, p := range buy(w, b.Catalogue, b.Units) {
		out.Buy = append(out.Buy, book.Purchase{What: p.what, Amount: p.amount, Price: p.cost(), Remark: p.remark})
	}
	for i := range w.Layout.Panels {
		out.Panels = append(out.Panels, book.Panel{View: PanelView(w, i, panel.ID{}), Steps: b.steps(i)})
	}
	for _, f := range datum(w, b.Units) {
		out.Datum = append(out.Datum, book.Entry{Name: f.about, Value: f.words})
	}
	if b.WithPrograms {
		for _, f := range b.programFacts() {
			out.Programs = append(out.Programs, book.Entry{Name: f.about, Value: f.words})
		}
		out.Zero = b.zeroView()
	}
	for _, l := range f.Layers {
		v, err := b.layerView(ctx, l.Number)
		if err != nil {
			return out, err
		}
		figures := v.Notes
		v.Notes = nil
		out.Layers = append(out.Layers, book.Layer{View: v, Figures: figures})
	}
	return out, nil
}

// looks are what needs a look, in sentences, and what is set aside with its notes.
func (b *bench) looks() (open, aside []string) {
	words := finding.Words{Units: b.Units, Paper: true}
	all, off := finding.Open(workshop.NeedsALook(b.Figures, b.Workshop), b.Asides, b.Standing.Placed.Placement)
	for _, a := range off {
		text := words.What(a.Finding)
		if a.Note != "" {
			text += " " + a.Note
		}
		aside = append(aside, text)
	}
	return words.Texts(all), aside
}

func (b *bench) ticket() []book.Entry {
	w, t := b.Workshop, b.Figures.Totals
	tips := "doesn't stand"
	if w.Balance.Stands {
		tips = trial.TipAngle.Text(w.Balance.TipDeg, b.Units)
	}
	mass := func(g float64) string { return unit.Mass(g, b.Units) }
	return []book.Entry{
		{Name: "Weight", Value: mass(1000 * t.WeightKg), Note: "saves " + mass(1000*t.SavedKg)},
		{Name: "Layers", Value: fmt.Sprint(len(b.Figures.Layers)), Note: unit.Length(b.Figures.Thickness, b.Units) + " each"},
		{Name: "Panels", Value: fmt.Sprint(w.Panels()), Note: unit.Length(w.For.PanelX, b.Units) + " × " + unit.Length(w.For.PanelY, b.Units)},
		{Name: "Boards", Value: fmt.Sprint(w.Boards.Count()), Note: b.boardNote()},
		{Name: "Router", Value: unit.Duration(t.RouterMin()), Note: "and " + unit.Duration(w.HandsOnMin(b.Catalogue)) + " by hand"},
		{Name: "Glue", Value: mass(w.GlueUp.WetG)},
		{Name: "Finish", Value: unit.Liquid(w.Finish.Litres, b.Units), Note: fmt.Sprintf("%s, %s dry", phrase.Count(w.Finish.Coats, "coat"), mass(w.Finish.DryG))},
		{Name: "Tips at", Value: tips},
	}
}

// boardNames are the kinds of board in a stack.
func boardNames(w *workshop.Workshop) string {
	names := make([]string, len(w.Boards))
	for i, k := range w.Boards {
		names[i] = k.Board.Name
	}
	return strings.Join(names, " and ")
}

// boardNote is the size of the boards where they are of one kind, else how many kinds there are.
func (b *bench) boardNote() string {
	if kinds := b.Workshop.Boards; len(kinds) == 1 {
		return unit.Length(kinds[0].Sheet.X, b.Units) + " × " + unit.Length(kinds[0].Sheet.Y, b.Units)
	}
	return fmt.Sprintf("of %d kinds", len(b.Workshop.Boards))
}

func (b *bench) glueUp() book.GlueUp {
	w := b.Workshop
	g, _ := w.For.GlueIn(b.Catalogue)
	faces := "both faces"
	if g.Faces == 1 {
		faces = "one face"
	}
	out := book.GlueUp{View: GlueUpView(w, b.Standing), Notes: []string{
		fmt.Sprintf("%s, %.0f g/m² on %s: close every joint within %.0f min, leave it in the clamps for %.0f min.", g.Name, g.SpreadGM2, faces, g.OpenMin, g.ClampMin),
		"Try every joint dry, with its pins, before any glue is spread. Wipe squeezed-out glue from the hollow before the next stage closes it.",
	}}
	for _, s := range w.Seams {
		out.Seams = append(out.Seams, book.Seam{Left: partName(w, s.Left), Right: partName(w, s.Right), Area: s.Area, GlueG: s.WetG, ForceN: s.ForceN, Clamps: s.Clamps})
	}
	for _, s := range w.GlueUp.Stages {
		stage := book.Stage{Number: s.Number, Minutes: s.Minutes}
		for _, p := range s.Pressings {
			stage.Pressings = append(stage.Pressings, book.Pressing{
				Number: p.Number, Lower: [2]int{p.Lower.First, p.Lower.Last}, Upper: [2]int{p.Upper.First, p.Upper.Last}, Area: p.Joint.Area, GlueG: p.Joint.WetG,
				ForceN: p.Joint.ForceN, Clamps: p.Joint.Clamps, CloseMin: p.CloseMin, LiftG: p.Upper.MassG, People: p.People, MakesG: p.Result.MassG,
			})
		}
		out.Stages = append(out.Stages, stage)
	}
	return out
}

func (b *bench) finish() book.Finish {
	w := b.Workshop
	f, _ := w.For.FinishIn(b.Catalogue)
	out := book.Finish{
		Area: w.Finish.Area, Allowance: w.Finish.Allowance, Grits: w.For.Shop.Grits.List(), Name: f.Name, Coats: f.Coats,
		Litres: w.Finish.CoatLitres, RecoatH: f.RecoatH,
	}
	if out.Allowance == 0 && w.Finish.Sanding > 0 {
		out.Notes = append(out.Notes, "Sanding takes off about "+unit.Length(w.Finish.Sanding, b.Units)+". Nothing was added to the surface for it.")
	}
	return out
}
