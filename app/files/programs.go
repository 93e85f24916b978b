package files

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync"

	"grainstack/slicing/export"
	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/panel"
	"grainstack/slicing/par"
	"grainstack/slicing/program"
	"grainstack/slicing/proof"
	"grainstack/slicing/rs274"
	"grainstack/slicing/stock"
	"grainstack/slicing/toolpath"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// programFiles are what the machine is told for each panel, in the order of work, and a list of them.
func programFiles(w Work) []File {
	var out []File
	for i := range w.Workshop.Layout.Panels {
		for n, s := range panelTasks(w, i) {
			f := File{Kind: Programs, Name: "programs/" + w.Machine.FileName(s.Name, 1), Does: fmt.Sprintf("%v of side %v with %s", s.Step, s.Side, s.Cutter.Name), make: func(_ context.Context, b *bench) ([]byte, error) {
				return b.programs.text(i, n, 0)
			}}
			if w.Machine.Divides() {
				f.Does += ", and as many parts more as the controller's largest file makes of it"
				f.series = "programs/" + program.Series(s.Name)
				f.rest = func(b *bench) []export.File { return b.programs.rest(i, n) }
			}
			out = append(out, f)
		}
	}
	return append(out, File{Kind: Programs, Name: "programs/programs.csv", Does: "every program: cutter, feeds, metres, minutes, depths, travel", make: func(ctx context.Context, b *bench) ([]byte, error) {
		return b.programs.list(ctx)
	}})
}

// panelTasks are the programs of panel i of the layout, before any path is laid.
func panelTasks(w Work, i int) []toolpath.Task {
	p := toolPanel(w, i, nil)
	tasks, _ := p.Tasks(w.Workshop.For.Setup(w.Catalogue))
	return tasks
}

// A programMaker makes the programs of one panel after another. The texts of a panel are kept until they are taken.
type programMaker struct {
	b      *bench
	paths  []func() ([]toolpath.Made, error)
	panels []func() ([]*madeProgram, error)
	proofs []*proof.Proof      // of those that are made
	mu     sync.Mutex          // while a text is taken
	told   func(share float64) // how far the panel in hand is
}

// A madeProgram is a program as its files, with its figures.
type madeProgram struct {
	toolpath.Made
	files []madeFile
}

// A madeFile is one of a program's files: the whole of it, or a part.
type madeFile struct {
	hours.Trip
	name         string
	box          geom.Box // of the tip
	text         []byte   // nil once it was taken
	bytes, lines int
}

func newProgramMaker(b *bench, w Work) *programMaker {
	n := len(w.Workshop.Layout.Panels)
	return &programMaker{b: b, paths: make([]func() ([]toolpath.Made, error), n), panels: make([]func() ([]*madeProgram, error), n), proofs: make([]*proof.Proof, n), told: func(float64) {}}
}

// ready lets each panel be made once.
func (m *programMaker) ready(ctx context.Context) *programMaker {
	for i := range m.panels {
		m.paths[i] = sync.OnceValues(func() ([]toolpath.Made, error) { return m.lay(ctx, i) })
		m.panels[i] = sync.OnceValues(func() ([]*madeProgram, error) { return m.make(ctx, i) })
	}
	return m
}

// text is a part of a program as it is written; it is given once.
func (m *programMaker) text(i, n, part int) ([]byte, error) {
	all, err := m.panels[i]()
	if err != nil {
		return nil, err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	one := &all[n].files[part]
	text := one.text
	one.text = nil
	return text, nil
}

// rest are the parts of a program that was made, but for its first.
func (m *programMaker) rest(i, n int) (out []export.File) {
	all, err := m.panels[i]()
	if err != nil {
		return nil // told where the first was written
	}
	for part, f := range all[n].files {
		if part > 0 {
			out = append(out, export.File{Name: "programs/" + f.name, Write: func(to io.Writer) error {
				text, err := m.text(i, n, part)
				if err == nil {
					_, err = to.Write(text)
				}
				return err
			}})
		}
	}
	return out
}

// lay lays the paths of a panel.
func (m *programMaker) lay(ctx context.Context, i int) ([]toolpath.Made, error) {
	solids, err := m.b.parts()
	if err != nil {
		return nil, err
	}
	p := toolPanel(m.b.Work, i, solids)
	bench, err := toolpath.NewBench(ctx, &p, m.b.Workshop.For.Setup(m.b.Catalogue))
	if err != nil {
		return nil, err
	}
	all, err := bench.Programs(ctx, func(dowels [2]geom.Vec2) geom.Vec2 {
		o := m.b.Machine.Origin(program.Blank{X: p.X, Y: p.Y, Board: p.Thickness + 2*p.Skim}, dowels)
		return geom.Vec2{X: o.X, Y: o.Y}
	})
	if err != nil {
		return nil, err
	}
	for n := range all {
		all[n].Remarks = append(all[n].Remarks, m.b.unheld(i)...)
		if len(p.Clamps) > 0 {
			all[n].Remarks = append(all[n].Remarks, fmt.Sprintf("CLAMPS may stand up to %s above the face that lies up; it begins and ends above them.", unit.Length(p.Clamps[0].Height, m.b.Machine.Units)))
		}
	}
	return all, nil
}

// make writes the programs of a panel and proves them, while the paths of the next are laid.
func (m *programMaker) make(ctx context.Context, i int) ([]*madeProgram, error) {
	all, err := m.paths[i]()
	if err != nil {
		return nil, err
	}
	if i+1 < len(m.paths) {
		defer par.Begin(func() error { _, err := m.paths[i+1](); return err })()
	}
	machine := m.b.Machine
	wanted, err := m.b.wanted(ctx, i)
	if err != nil {
		return nil, err
	}
	if err := m.easeRough(ctx, wanted, all); err != nil {
		return nil, err
	}
	var written []proof.Written
	for round := 0; ; round++ {
		if written, err = writtenFor(all, machine); err != nil {
			return nil, err
		}
		m.told(1 - 0.6/float64(round+1)) // each round more, however many there will be
		m.proofs[i], err = m.b.prove(ctx, i, wanted, written)
		if err == nil || round == mostEased || m.proofs[i] == nil || !ease(all, written, m.proofs[i]) {
			break
		}
	}
	out := make([]*madeProgram, len(all))
	for n, one := range all {
		made := &madeProgram{}
		for _, f := range written[n].Files {
			part := madeFile{Trip: one.Trip, name: f.Name, box: one.Box, text: f.Text, bytes: len(f.Text), lines: bytes.Count(f.Text, []byte{'\n'})}
			if len(written[n].Files) > 1 {
				if trip, box, fault := partFigures(m.b.Workshop.For.Setup(m.b.Catalogue), &one, f, machine); fault == nil { // what can't be read its proof tells
					part.Trip, part.box = trip, box
				}
			}
			made.files = append(made.files, part)
		}
		made.Made = one
		all[n].Moves, made.Moves = nil, nil // the texts have them
		out[n] = made
	}
	return out, err
}

// easeRough eases the programs up to the last rough one before all of them are proven: nearly all that takes too much is there, and the
// finish programs are four fifths of a proof. What else is wrong with them the proof of all tells.
func (m *programMaker) easeRough(ctx context.Context, wanted *proof.Wanted, all []toolpath.Made) error {
	n := len(all)
	for n > 0 && all[n-1].Step != program.Rough {
		n--
	}
	for round := 0; n > 0 && round < mostEased; round++ {
		written, err := writtenFor(all[:n], m.b.Machine)
		if err != nil {
			return err
		}
		found, err := proof.Prove(ctx, wanted, m.b.proofLimits(), m.b.Machine, written)
		if err != nil {
			return err
		}
		if !ease(all[:n], written, found) {
			return nil
		}
	}
	return nil
}

// partFigures are those of one of several files of a program.
func partFigures(s hours.Setup, p *toolpath.Made, f program.File, machine program.Machine) (hours.Trip, geom.Box, error) {
	run, err := rs274.Read(f.Text, geom.Vec{}, machine.Own()...)
	if err != nil {
		return hours.Trip{}, geom.Box{}, fmt.Errorf("%s: %w", f.Name, err)
	}
	trip, box := toolpath.Timed(s, run)
	zero := machine.Origin(p.Blank, p.Dowels)
	return trip, geom.Box{Min: box.Min.Add(zero), Max: box.Max.Add(zero)}, nil
}

// mostEased is how often moves that take too much at once are eased: what eased ones no longer take others may.
const mostEased = 4

// ease eases the moves that a proof found to take too much at once, whatever else it found: what is told in the end is then only what
// the maker has to see to. false says that there are none.
func ease(all []toolpath.Made, written []proof.Written, p *proof.Proof) bool {
	if !slices.ContainsFunc(p.Faults, func(f proof.Fault) bool { return f.What == proof.TooDeep }) {
		return false
	}
	deep := make([]map[int]float64, len(all))
	for _, b := range p.Bites {
		if i, ok := written[b.Program].Files[b.File].MoveOf(b.Line); ok {
			if deep[b.Program] == nil {
				deep[b.Program] = map[int]float64{}
			}
			deep[b.Program][i] = max(deep[b.Program][i], b.Size)
		}
	}
	for n := range all {
		if deep[n] != nil {
			all[n] = toolpath.Eased(all[n], deep[n], all[n].Cutter.Stepdown)
		}
	}
	return true
}

// writtenFor are programs as they are written for a machine.
func writtenFor(all []toolpath.Made, machine program.Machine) ([]proof.Written, error) {
	written := make([]proof.Written, len(all))
	for n := range all {
		files, err := program.Write(all[n].Program, machine)
		if err != nil {
			return nil, err
		}
		written[n] = proof.Written{For: &all[n].Program, Files: files}
	}
	return written, nil
}

// toolPanel is panel i of the layout as paths want it; without solids it has no parts.
func toolPanel(w Work, i int, solids partSolids) toolpath.Panel {
	shop := w.Workshop
	laid := shop.Layout.Panels[i]
	stock := stockOf(shop, laid.Number)
	out := toolpath.Panel{Number: laid.Number, X: shop.For.PanelX, Y: shop.For.PanelY, Thickness: stock.planed, Skim: stock.skim, Register: shop.Register, Nut: shop.For.LimitsInUse().Nut, TabLeft: shop.For.Shop.TabLeft}
	for _, box := range clampBoxes(w) {
		out.Clamps = append(out.Clamps, toolpath.Clamp{Box2: box, Height: shop.For.Shop.ClampHeight})
	}
	for _, at := range laid.Placed {
		p, ok := shop.Part(at.Part)
		if !ok {
			continue
		}
		if solids != nil {
			out.Parts = append(out.Parts, toolpath.Part{Solid: solids[at.Part], Bottom: p.PanelLow, At: at.At, TurnDeg: at.TurnDeg})
		}
		for _, t := range p.Tabs {
			b := workshop.Bridge(t)
			b.At, b.Way = at.Apply(b.At), turned(at, b.Way)
			out.Tabs = append(out.Tabs, b)
		}
		for _, h := range shop.PinHoles(p) {
			out.Holes = append(out.Holes, toolpath.Hole{At: at.Apply(h.At), Diameter: h.Diameter, Depth: h.FromPanel, FromBelow: h.Lower})
		}
		l := &w.Figures.Layers[p.Layer-1]
		if len(l.Pocket) > 0 && l.PocketBottom <= l.Bottom && l.PocketTop >= l.Top {
			out.Cores = append(out.Cores, ownShare(l.Pocket, p).Map(at.Apply)...)
		}
	}
	return out
}

// list is every program with its figures.
func (m *programMaker) list(_ context.Context) ([]byte, error) {
	u := listUnits(m.b.Units)
	t := export.Table{Head: u.heads("file", "panel", "side", "step", "cutter", "speed rpm", "feed %L/min", "plunge %L/min", "lines", "bytes", "cut m", "rapid m", "minutes", "lowest %L", "highest %L", "travel x %L", "travel y %L", "travel z %L", "into a part %L", "taken at once %L")}
	for i := range m.panels {
		all, err := m.panels[i]()
		if err != nil {
			return nil, err
		}
		for n, p := range all {
			proven := m.proofs[i].Figures[n]
			for _, f := range p.files {
				size := f.box.Size()
				t.Rows = append(t.Rows, []string{
					f.name, fmt.Sprint(p.Panel), p.Side.String(), p.Step.String(), p.Cutter.Name, fmt.Sprintf("%.0f", p.RPM),
					u.length(p.Cutter.FeedMmMin), u.length(p.Cutter.PlungeMmMin), fmt.Sprint(f.lines), fmt.Sprint(f.bytes),
					figureTo(f.Metres, 2), figureTo(f.RapidMetres, 2), figureTo(f.Min, 1), u.length(f.box.Min.Z), u.length(f.box.Max.Z),
					u.length(size.X), u.length(size.Y), u.length(size.Z), u.length(proven.IntoPart), u.length(proven.Deepest),
				})
			}
		}
	}
	return csv(t)
}

// programFacts say what whoever runs the programs has to know.
func (b *bench) programFacts() []fact {
	m := b.Machine
	zero := "the panel's front left corner as it lies, whichever side is up"
	switch m.Zero {
	case stock.AtMiddle:
		zero = "the middle of the panel"
	case stock.AtDowel:
		zero = "the middle of the first register dowel"
	}
	height := "the face that lies up, where it is not skimmed: touch off there with every cutter, and again once the panel is turned over"
	if m.Height == stock.OnBed {
		height = "the bed under the panel, the same for both sides: touch off there with every cutter; the board's thickness doesn't matter then"
	}
	words := "G0 G1 G2 G3 G17 G90 G94"
	if !m.Arcs {
		words = "G0 G1 G17 G90 G94"
	}
	units := "G21, millimetres"
	if m.Units == unit.Inch {
		units = "G20, inches"
	}
	s := b.Workshop.For.Setup(b.Catalogue)
	out := []fact{
		{"Order", "Run them in the order of their numbers; the folder reads as the work goes. The last number of a name that has two counts the parts of a program that is longer than your controller takes: run them one after another."},
		{"Words", fmt.Sprintf("RS-274 (NIST RS274/NGC, ISO 6983-1): %s, %s, no tool table, no offset of length.", words, units)},
		{"Zero", fmt.Sprintf("X0 Y0 is %s; Z0 is %s. They begin by lifting to %s above the face, and end there. The frame of the panel is not skimmed: it keeps the raw face on both sides. These zeros are the programs' own: the datum of solids and height maps is another.", zero, height, b.homeWords(s.SafeHeight))},
		{"Entry", fmt.Sprintf("The rough pass goes down by ramps, or on ways too short for one straight down by no more than its stepdown of %s.", unit.Length(s.Rough.Stepdown, b.Units))},
		{"Proof", "Every program was read back from its text and cut out of a model of the board before it was written: parts, tabs, dowels, clamps, frame, bed, travel and feeds. A program that fails is not written. The proof can't know a wrong zero, a panel that slips, a wrong or blunt cutter, or other wood."},
		{"First", "Run each program in the air first. Check zero, cutter, clamps and dowels; stay with the machine, a hand at its stop. Waste inside a ring of wood comes free when the second side is carved: tape it down or stand ready to stop. What the machine's maker says and the rules where you work come first."},
	}
	if own := m.Unproven(); len(own) > 0 {
		out = append(out, fact{"Not proven", fmt.Sprintf("Of your own lines these were passed on unread: %s. Know what they do, and try them in the air.", strings.Join(own, "; "))})
	}
	if left := b.Workshop.For.Shop.TabLeft; left > 0 {
		out = append(out, fact{"Tabs", fmt.Sprintf("The last program of a panel cuts each tab down to %s. The parts hang on no more than that then: no hand near them until the spindle stands still.", unit.Length(left, b.Units))})
	}
	for i := range b.Workshop.Layout.Panels {
		p := toolPanel(b.Work, i, nil)
		_, without := p.Tasks(s)
		for _, w := range without {
			out = append(out, fact{"By hand", w})
		}
	}
	return out
}

// homeWords are the height at which programs begin and end.
func (b *bench) homeWords(safe float64) string {
	if len(clampBoxes(b.Work)) == 0 {
		return unit.Length(safe, b.Units)
	}
	return fmt.Sprintf("a height clear of clamps (%s)", unit.Length(max(safe, toolpath.OverClamp(b.Workshop.For.Shop.ClampHeight)), b.Units))
}

// programOf names the program of a step on panel i, as the end of a sentence; nothing where none are made. Of holes on one side
// those of the register dowels come first, those of pins last.
func (b *bench) programOf(i int, step program.Step, side panel.Face, pins bool) (name string) {
	if !b.WithPrograms {
		return ""
	}
	for _, t := range panelTasks(b.Work, i) {
		if t.Step == step && t.Side == side {
			name = " · program " + t.Name
			if step != program.Holes || !pins {
				return name
			}
		}
	}
	return name
}
