package app

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/files"
	"grainstack/app/latest"
	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/render/draw"
	"grainstack/render/frame"
	"grainstack/render/sheet"
	"grainstack/slicing/job"
)

// A shopKind is one of the sheets that show the workshop.
type shopKind int

const (
	panelSheet shopKind = iota
	glueSheet
	sawSheet
)

// A shopPane is a sheet of the workshop: panel by panel, step by step or board by board, with numbers to leaf by.
type shopPane struct {
	*pane.Picture
	kind    shopKind
	caption *paper.Words
	numbers *pane.Index
	facts   *widget.Label
	whole   fyne.CanvasObject

	at      int // what is shown: a panel or a board from 1, a step of the glue-up from 1 or 0 for all of it
	look    sheet.Look
	frame   *frame.Frame
	panel   sheet.PanelSheet // as it is drawn
	glue    sheet.GlueUpSheet
	glueAs  sheet.GlueUpView
	drawnAt int
	pending func()
}

// A shopSheetAsk asks for the picture of a sheet of the workshop.
type shopSheetAsk struct {
	asking
	pane     *shopPane
	kind     shopKind
	at       int
	shop     *job.Workshop
	standing *job.Standing
	figures  *job.Figures
	stale    bool // the workshop is of other settings: it is drawn pale
	message  string
	hold     hold // what is in the hand on the panel sheet
	picked   int  // layer
	look     sheet.Look
	style    sheet.Style
	size     image.Point
	scale    float64
}

// A shopSheetOut is the picture, and what is needed to find things on it.
type shopSheetOut struct {
	frame *frame.Frame
	panel sheet.PanelSheet
	glue  sheet.GlueUpSheet
	view  sheet.GlueUpView
	held  held // what became of what is in the hand
}

// newShopPane is a pane for a kind of sheet.
func (w *window) newShopPane(kind shopKind, name string, g pane.Gestures, feet ...fyne.CanvasObject) *shopPane {
	s := &shopPane{kind: kind, caption: paper.Write("", paper.Small, paper.Pencil).Cut(), facts: paper.Sentence(paper.Pencil), at: 1}
	if kind == glueSheet {
		s.at = 0 // all of it
	}
	g.Rune = w.sign
	g.Sized = func() {
		if w.folder.shows(s.Picture) {
			w.askShop(s)
		}
	}
	g.Painted = func() { done(&s.pending) }
	s.Picture = pane.NewPicture(name, fyne.NewSize(170, 100), g)
	s.numbers = pane.NewIndex(paper.Small)
	s.numbers.Chosen = func(i int) { w.leafTo(s, s.numbered(i)) }
	foot := container.NewVBox(append([]fyne.CanvasObject{s.facts}, feet...)...)
	head := container.New(layout.NewCustomPaddedVBoxLayout(0), container.New(layout.NewCustomPaddedLayout(5, 0, 8, 6), s.caption), s.numbers)
	s.whole = container.NewBorder(head, container.New(layout.NewCustomPaddedLayout(0, 4, 2, 2), foot), nil, nil, s.Picture)
	return s
}

// numbered is what the i-th number stands for, and indexed the other way round: the glue-up has its whole first.
func (s *shopPane) numbered(i int) int {
	if s.kind == glueSheet {
		return i
	}
	return i + 1
}

func (s *shopPane) indexed(at int) int {
	if s.kind == glueSheet {
		return at
	}
	return at - 1
}

// pages is how many panels, steps or boards a workshop has.
func (s *shopPane) pages(v *job.Workshop) int {
	if v == nil || v.Withheld != "" {
		return 0
	}
	switch s.kind {
	case glueSheet:
		return v.GlueUp.Pressings
	case sawSheet:
		return v.BoardCount()
	}
	return v.Panels()
}

// leafTo shows another panel, step or board.
func (w *window) leafTo(s *shopPane, at int) {
	v, _ := w.workshop()
	least, most := 1, s.pages(v)
	switch s.kind {
	case glueSheet:
		least = 0
	case panelSheet:
		most++ // an empty one, to move parts to
	}
	at = max(least, min(at, most))
	if at == s.at {
		return
	}
	s.at = at
	if s.kind == panelSheet {
		w.holdOver(at)
	}
	w.asked = w.now()
	w.askShop(s)
}

// askShop asks for the picture of a sheet of the workshop and reports whether one will come.
func (w *window) askShop(s *shopPane) bool {
	size := s.Pixels()
	if w.model == nil || w.figures == nil || w.standing == nil || size.X < 2 || size.Y < 2 {
		return false
	}
	v, now := w.workshop()
	a := shopSheetAsk{asking: w.asked, pane: s, kind: s.kind, at: s.at, shop: v, standing: w.standing, figures: w.figures, stale: !now && !w.placing(),
		picked: w.session.Layer(), look: s.look, style: w.style(), size: size, scale: s.Scale()}
	if s.kind == panelSheet {
		a.hold = w.hand.hold
	}
	a.message = w.noShop(v)
	w.loops.bench.Ask(a)
	return true
}

// placing reports whether places alone keep the workshop from being the present one: then what is on the screen is right but
// for what was put last.
func (w *window) placing() bool {
	l := &w.laying
	return l.last != nil && l.of.standing == w.standing && l.of.settings == w.session.Settings() && !w.stale()
}

// noShop says why there is no workshop to show, "" where there is one.
func (w *window) noShop(v *job.Workshop) string {
	switch {
	case w.figures.Withheld != "":
		return w.figures.Withheld
	case w.laying.fault != "":
		return w.laying.fault
	case v != nil && v.Withheld != "":
		return v.Withheld
	case v != nil:
		return ""
	case w.laying.left:
		return "Laying the parts out was left. Press A to begin again."
	}
	return "The parts are being laid out …"
}

// A benchDrafter draws the sheets of the workshop, and keeps what it drew them from while only the hand moves.
type benchDrafter struct {
	*drafter
	base    panelKey
	view    sheet.PanelView // of the panel without what is in the hand
	part    partKey
	lifted  sheet.PanelPart // what is in the hand, at the origin
	front   *job.Standing
	gluedAs sheet.GlueUpView
	glued   *job.Workshop
}

func (w workers) benchDrafter() *benchDrafter { return &benchDrafter{drafter: w.drafter()} }

// benchLoop draws the sheets of the workshop. It is made anew for each piece, since its drafter keeps what it drew last.
func (w *window) benchLoop() *latest.Loop[shopSheetAsk, shopSheetOut] {
	return latest.New(latest.Finish, w.post, workers{w.letters}.benchDrafter().draw, w.shopDrawn)
}

// draw is the worker of the loop.
func (d *benchDrafter) draw(_ context.Context, a shopSheetAsk) (shopSheetOut, error) {
	width, height := float64(a.size.X)/a.scale, float64(a.size.Y)/a.scale
	var out shopSheetOut
	var drawing *draw.Drawing
	switch a.kind {
	case panelSheet:
		view := sheet.PanelView{Message: a.message}
		if a.message == "" {
			view, out.held = d.panelView(a)
		}
		out.panel = sheet.Panel(view, a.style, width, height, a.look)
		drawing = out.panel.Drawing
	case glueSheet:
		out.view = sheet.GlueUpView{Message: a.message}
		if a.message == "" {
			out.view = d.glueView(a)
		}
		out.glue = sheet.GlueUp(out.view, a.style, width, height)
		drawing = out.glue.Drawing
	case sawSheet:
		drawing = d.sawDrawing(a, width, height)
	}
	out.frame = d.pool.Get(a.size)
	d.raster.Draw(out.frame.Image, drawing, a.scale)
	if a.stale && a.message == "" {
		pale(out.frame.Image, a.style.Ink.Paper)
	}
	return out, nil
}

// glueView is the glue-up with the picked step in hand and those before it done.
func (d *benchDrafter) glueView(a shopSheetAsk) sheet.GlueUpView {
	if d.glued != a.shop || d.front != a.standing {
		d.glued, d.front, d.gluedAs = a.shop, a.standing, files.GlueUpView(a.shop, a.standing)
	}
	v := d.gluedAs
	if a.at > 0 {
		v.Picked, v.Done = a.at, a.at-1
	}
	return v
}

func (d *benchDrafter) sawDrawing(a shopSheetAsk, width, height float64) *draw.Drawing {
	if a.message == "" {
		if all := files.SawViews(a.shop); a.at >= 1 && a.at <= len(all) {
			return sheet.Saw(all[a.at-1], a.style, width, height)
		}
		a.message = "No board can be sawn into these panels."
	}
	return sheet.GlueUp(sheet.GlueUpView{Message: a.message}, a.style, width, height).Drawing
}

// pale mixes a picture half with the paper: what it shows is of older settings.
func pale(img *image.RGBA, with color.RGBA) {
	mix := [4]uint16{uint16(with.R), uint16(with.G), uint16(with.B), 255}
	for i := range img.Pix {
		img.Pix[i] = uint8((uint16(img.Pix[i]) + mix[i&3]) / 2)
	}
}

// shopDrawn takes a picture of a sheet of the workshop.
func (w *window) shopDrawn(a shopSheetAsk, out shopSheetOut, err error) {
	if err != nil {
		w.failed(err)
		return
	}
	s := a.pane
	last := s.frame
	s.frame, s.panel, s.glue, s.glueAs, s.drawnAt = out.frame, out.panel, out.glue, out.view, a.at
	s.Put(out.frame.Image)
	last.Release()
	if a.kind == panelSheet {
		w.sawHeld(a, out.held)
	}
	w.showShop(s)
	w.pay()
	s.pending = func() {
		w.trace.shown([]string{"panel", "glue", "saw"}[a.kind], a.asking, a.figures, fmt.Sprintf("at=%d stale=%v hand=%v clash=%d", a.at, a.stale, a.hold.what != nothing, len(out.held.hits)))
		w.traceParts(a)
	}
}

// showShop writes what stands round a sheet of the workshop.
func (w *window) showShop(s *shopPane) {
	v, now := w.workshop()
	var words []string
	n := s.pages(v)
	if s.kind == glueSheet && n > 0 {
		words = append(words, "all")
	}
	for i := range n {
		words = append(words, strconv.Itoa(i+1))
	}
	if s.kind == panelSheet && n > 0 {
		words = append(words, "+")
	}
	if n > 0 {
		s.at = min(s.at, s.numbered(len(words)-1))
	}
	s.numbers.Put(words, s.indexed(s.at))
	caption, facts := "", ""
	if v != nil && v.Withheld == "" {
		switch s.kind {
		case panelSheet:
			caption, facts = w.panelWords(v)
		case glueSheet:
			caption, facts = w.glueWords(v, s.at)
		case sawSheet:
			caption, facts = w.sawWords(v, s.at)
		}
		if !now && !w.placing() {
			caption += " · of older settings"
		} else if !v.Improved {
			caption += " · first layout"
		}
	}
	if s.kind == panelSheet {
		w.tools.show(w)
	}
	s.caption.Say(caption)
	if s.facts.Text != facts {
		s.facts.SetText(facts)
	}
}
