package view

import (
	"context"
	"image"
	"image/draw"
	"math"

	"fyne.io/fyne/v2"

	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/picture"
	"grainstack/app/state"
	drawing "grainstack/render/draw"
	"grainstack/render/frame"
	"grainstack/render/look"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/proof"
	"grainstack/slicing/stock"
	"grainstack/slicing/workshop"
)

// A ProgramsAsk asks for a panel as its programs leave it in a minute; it is its own key.
type ProgramsAsk struct {
	paperAsk
	batch   *proof.Batch
	Course  *proof.Course
	Minute  float64
	shop    *workshop.Workshop
	stock   *stock.Catalogue
	look    sheet.Look
	fault   int
	stale   bool // of other settings: it is drawn pale
	playing bool
	Message string
}

// A ProgramsOut is what came with it.
type ProgramsOut struct {
	sheet.ProgramSheet
	Moment proof.Moment
	Faults []sheet.FaultMark // that are ringed
	Words  string            // on the moment
}

// Programs is the sheet on which the machine's programs are seen at work.
type Programs struct {
	*View[ProgramsAsk, ProgramsAsk, ProgramsOut]
	plan
	tools *programTools

	panels  *pane.Index
	caption *paper.Told
	facts   *paper.Lines
	fault   func() // goes to the next
	letters *drawing.Letters
}

// A ShownPrograms is what is on the screen.
type ShownPrograms = Shown[ProgramsAsk, ProgramsOut]

// ProgramActions are what the hand does with programs.
type ProgramActions struct {
	WorkOut, Play func()
	Panel         func(int)     // looks at another, from 0
	Program       func(int)     // looks at another of the panel, from 0
	Minute        func(float64) // of the panel's programs
	Speed         func(int)
	Fault         func() // goes to the next fault, if there is one
}

// NewPrograms is the sheet in a pane with gestures.
func NewPrograms(d Desk, letters *drawing.Letters, g pane.Gestures, do ProgramActions) *Programs {
	p := &Programs{caption: newCaption(), facts: paper.NewLines(5), letters: letters, panels: pane.NewIndex(paper.Small), tools: newProgramTools(do)}
	pic := pane.NewPicture("programs", fyne.NewSize(170, 100), g)
	draws := func(fine bool) func() Draw[ProgramsAsk, ProgramsOut] {
		return func() Draw[ProgramsAsk, ProgramsOut] {
			return (&programDrafter{drafter: newDrafter(letters), wood: look.NewRenderer(), fine: fine}).draw
		}
	}
	p.View = newView[ProgramsAsk](d, pic, draws(false), draws(true))
	p.plan = plan{least: 0.5, most: 40, home: func() geom.Vec2 {
		b := p.Now.Out.Plan
		return b.Min.Add(b.Max).Scale(0.5)
	}}
	p.heed(d, pic)
	p.Came = func(s ShownPrograms) { p.facts.Say(s.Out.Words) }
	p.panels.Chosen = do.Panel
	p.fault = do.Fault
	p.Whole = sheeted(p.caption, p.panels, p.Picture, p.facts, p.tools.whole)
	return p
}

// Ask asks for the sheet as everything is now.
func (p *Programs) Ask(b *state.Bench, now state.Asking) bool {
	on, ok := paperOf(b, p.letters, p.Picture)
	if !ok || b.Model == nil {
		return false
	}
	k := &b.Programs
	a := ProgramsAsk{paperAsk: on, Message: programsMessage(b)}
	if a.Message == "" {
		a.batch, a.Course, a.Minute, a.shop, a.stock = k.Shown(), k.Running(), k.Minute, k.Shop, k.Of.Stock
		a.look, a.fault, a.stale, a.playing = p.Look, k.Fault, k.Stale(), k.Playing
	}
	return p.want(now, a, a, a.Message == "" && !k.Playing)
}

// programsMessage says why there is no panel at work to see, "" where there is.
func programsMessage(b *state.Bench) string {
	if why := b.Programs.Why(); why == "" || len(b.Programs.Made) > 0 {
		return why
	} else if b.Figures == nil || b.Figures.Withheld.None() {
		return why
	}
	return b.Figures.Withheld.In(b.View.Units)
}

// PanelAt is the place of the panel under a place of the pane; ok is false beside it.
func (p *Programs) PanelAt(at fyne.Position) (geom.Vec2, bool) {
	return p.Now.Out.ToMM(float64(at.X), float64(at.Y))
}

// faultReach is how near to the middle of a fault's ring or number the hand has to be, pane units.
const faultReach = 10

// FaultAt is the fault whose ring or number lies under a place of the pane, from 1; 0 where none does. Of several it is the nearest, and of
// those in one place the one after that which is picked.
func (p *Programs) FaultAt(at fyne.Position) int {
	now := p.Now.Out
	if now.PerMM == 0 {
		return 0
	}
	best, least := 0, float64(faultReach)
	for _, f := range now.Faults {
		d := now.FromFault(f, float64(at.X), float64(at.Y))
		if d < least || d == least && best <= p.Now.Ask.fault && f.Number > p.Now.Ask.fault {
			best, least = f.Number, d
		}
	}
	return best
}

// A programDrafter draws the sheet, and keeps the wood from one minute to the next.
type programDrafter struct {
	*drafter
	wood   *look.Renderer
	relief proof.Relief
	fine   bool
}

// How much of the cutter's way is drawn, mm.
const (
	wayGone   = 500
	wayComing = 250
)

func (d *programDrafter) draw(ctx context.Context, a ProgramsAsk) (*frame.Frame, ProgramsOut, error) {
	width, height := a.extent()
	if a.Message != "" {
		out := ProgramsOut{ProgramSheet: sheet.Program(sheet.ProgramView{Message: a.Message}, a.style, width, height, sheet.Look{})}
		return d.frameOf(a.paperAsk, out.Drawing), out, nil
	}
	m := a.Course.At(a.Minute)
	if err := a.Course.Wood(ctx, m, &d.relief); err != nil {
		return nil, ProgramsOut{}, err
	}
	out := ProgramsOut{Moment: m, Words: momentWords(a, m)}
	over := programView(a, m)
	out.Faults = over.Faults
	out.ProgramSheet = sheet.Program(over, a.style, width, height, a.look)
	f := d.pool.Get(a.size)
	draw.Draw(f.Image, f.Image.Rect, image.NewUniform(a.style.Ink.Paper), image.Point{}, draw.Src)
	if err := d.lay(ctx, f.Image, a, out.ProgramSheet, m.Side); err != nil {
		f.Release()
		return nil, ProgramsOut{}, err
	}
	d.raster.Over(f.Image, out.Drawing, a.scale)
	if a.stale {
		pale(f.Image, a.style.Ink.Paper)
	}
	return f, out, nil
}

// lay draws the wood into the plan of a sheet.
func (d *programDrafter) lay(ctx context.Context, img *image.RGBA, a ProgramsAsk, s sheet.ProgramSheet, side panel.Face) error {
	at := func(v float64) int { return int(math.Round(v * a.scale)) }
	on := image.Rect(at(s.Plan.Min.X), at(s.Plan.Min.Y), at(s.Plan.Max.X), at(s.Plan.Max.Y)).Intersect(img.Rect)
	if on.Empty() {
		return nil
	}
	zero := s.ToSheet(geom.Vec2{})
	r := &d.relief
	field := &look.Field{W: r.W, H: r.H, StepX: r.StepX, StepY: r.StepY, Count: proof.Count, Top: r.Top, Floor: r.Floor}
	dress := look.Dress{Wood: picture.BoardWood(a.shop, a.stock, a.batch.Number, side), Paper: picture.Paper(false)}
	dress.Paper.Top, dress.Paper.Bottom = a.style.Bed(), a.style.Bed()
	above := look.Above{Size: on.Size(), PerMM: s.PerMM * a.scale, Thick: a.batch.Blank.Board, Fine: d.fine}
	above.Low = geom.Vec2{X: (float64(on.Min.X)/a.scale - zero.X) / s.PerMM, Y: (zero.Y - float64(on.Max.Y)/a.scale) / s.PerMM}
	wood, err := d.wood.Relief(ctx, field, above, dress)
	if err != nil {
		return err
	}
	draw.Draw(img, on, wood.Image, image.Point{}, draw.Src)
	wood.Release()
	return nil
}

// programView is what is drawn over the wood.
func programView(a ProgramsAsk, m proof.Moment) sheet.ProgramView {
	b := a.batch
	v := sheet.ProgramView{
		Size:   geom.Vec2{X: b.Blank.X, Y: b.Blank.Y},
		Cutter: sheet.CutterMark{At: geom.Vec2{X: m.At.X, Y: m.At.Y}, Diameter: m.Cutter.Diameter, Rapid: m.Rapid},
	}
	strokes := func(all []proof.Stroke) []sheet.Stroke {
		out := make([]sheet.Stroke, len(all))
		for i, s := range all {
			out[i] = sheet.Stroke(s)
		}
		return out
	}
	gone, coming := a.Course.Way(m, wayGone, wayComing)
	v.Gone, v.Coming = strokes(gone), strokes(coming)
	for i, at := range b.Programs[m.Program].For.Dowels {
		v.Dowels = append(v.Dowels, sheet.Peg{At: at, Diameter: b.Dowels[i].Diameter})
	}
	n := 0
	for _, c := range b.Clamps {
		if c.Side == m.Side {
			n++
			v.Clamps = append(v.Clamps, sheet.PanelClamp{Box2: c.Box2, Number: n})
		}
	}
	if b.Proof == nil {
		return v
	}
	for i, f := range b.Proof.Faults {
		if f.Side == m.Side {
			v.Faults = append(v.Faults, sheet.FaultMark{At: geom.Vec2{X: f.At.X, Y: f.At.Y}, Number: i + 1, Picked: i+1 == a.fault})
		}
	}
	return v
}
