package app

import (
	"fmt"
	"image"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/picture"
	"grainstack/render/frame"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// A sheetPane is the layer sheet with its caption and its facts.
type sheetPane struct {
	*pane.Picture
	caption *paper.Words
	facts   *widget.Label
	whole   fyne.CanvasObject

	frame   *frame.Frame
	drawn   sheet.LayerSheet
	mid     geom.Vec2  // mm, in the middle of the plan when it fits
	looked  sheet.Look // how drawn was asked for
	pending func()
}

// A stickPane is the story stick.
type stickPane struct {
	*pane.Picture
	caption *paper.Words
	whole   fyne.CanvasObject

	frame   *frame.Frame
	drawn   sheet.StickSheet
	asked   stickKey
	pending func()
}

// A stickKey is all that the story stick depends on: while it stays, the one on the screen is right.
type stickKey struct {
	standing *job.Standing
	settings job.Settings // what of them shows
	marks    string
	layer    int
	dark     bool
	units    unit.System
	size     image.Point
}

// stickKey is the key of a request.
func (w *window) stickKey(a sheetAsk) stickKey {
	s := a.figures.For
	shows := job.Settings{Layering: s.Layering, Surface: s.Surface}
	marks := ""
	for _, c := range a.figures.Cautions {
		marks += fmt.Sprint(c.Layer, " ")
	}
	for _, k := range a.figures.Kept {
		marks += fmt.Sprintf("%.1f to %.1f, %d ", k.Low, k.High, len(k.Crossings))
	}
	return stickKey{a.standing, shows, marks, a.layer, w.dark(), a.style.Units, a.size}
}

func (w *window) newSheet() *sheetPane {
	s := &sheetPane{caption: paper.Write("", paper.Small, paper.Pencil).Cut(), facts: paper.Sentence(paper.Pencil)}
	s.Picture = pane.NewPicture("layer sheet", fyne.NewSize(170, 120), pane.Gestures{
		Turned: w.panSheet, Panned: w.panSheet, Zoomed: w.zoomSheet,
		Doubled: func(fyne.Position) { w.fitSheet() },
		Key:     w.keySheet, Rune: w.sign, Sized: func() {
			if w.folder.shows(s.Picture) {
				w.askLayer()
			}
		},
		Painted: func() { done(&s.pending) },
		Pointed: w.pointSheet,
		Taken:   w.takeLine, Carried: w.carryLine, Let: w.letLine,
	})
	foot := container.New(layout.NewCustomPaddedLayout(0, 4, 2, 2), s.facts)
	s.whole = captioned(s.caption, s.Picture, foot)
	return s
}

func (w *window) newStick() *stickPane {
	s := &stickPane{caption: paper.Write("", paper.Small, paper.Pencil).Cut()}
	s.Picture = pane.NewPicture("story stick", fyne.NewSize(74, 120), pane.Gestures{
		Clicked: w.clickStick,
		Asked:   w.askBlank,
		Turned:  func(float32, float32) {},
		Zoomed:  func(_ fyne.Position, n float32) { w.pick(w.session.Layer() + int(n)) },
		Key:     w.keyStick, Rune: w.sign, Sized: w.askStick,
		Painted: func() { done(&s.pending) },
		Pointed: func(_ fyne.Position, here bool) {
			w.margin.hint(map[bool]string{true: "Click or arrow keys pick a layer · right click or Return: its board and turn · a red dot: it needs a look"}[here])
		},
	})
	s.whole = captioned(s.caption, s.Picture, nil)
	return s
}

// done runs what waits to be told that a frame was painted.
func done(pending *func()) {
	if f := *pending; f != nil {
		*pending = nil
		f()
	}
}

func (w *window) clickStick(at fyne.Position) {
	if n, ok := w.stick.drawn.LayerAt(float64(at.Y)); ok {
		w.pick(n)
	}
}

func (w *window) pointSheet(at fyne.Position, here bool) {
	p, ok := w.sheet.drawn.ToMM(float64(at.X), float64(at.Y))
	if !here || !ok {
		w.margin.hint("")
		return
	}
	u := w.session.View.Units
	w.margin.hint(unit.Length(p.X, u) + " and " + unit.Length(p.Y, u) + " from the stack's axis · wheel zooms · drag moves · double-click fits")
}

func (w *window) panSheet(dx, dy float32) {
	w.plan.PanX += float64(dx)
	w.plan.PanY += float64(dy)
	w.asked = w.now()
	w.askSheet()
}

// zoomSheet zooms so that what is under the pointer stays there.
func (w *window) zoomSheet(at fyne.Position, notches float32) {
	zoom := w.plan.Zoom
	if zoom <= 0 {
		zoom = 1
	}
	next := max(0.3, min(60, zoom*math.Pow(zoomSpeed, float64(notches))))
	d := w.sheet
	home := d.drawn.ToSheet(d.mid).Sub(geom.Vec2{X: d.looked.PanX, Y: d.looked.PanY}) // where the plan's middle lies when it fits
	p := geom.Vec2{X: float64(at.X), Y: float64(at.Y)}.Sub(home)
	moved := p.Sub(p.Sub(geom.Vec2{X: w.plan.PanX, Y: w.plan.PanY}).Scale(next / zoom))
	w.plan = sheet.Look{Zoom: next, PanX: moved.X, PanY: moved.Y}
	w.asked = w.now()
	w.askSheet()
}

func (w *window) fitSheet() {
	w.plan = sheet.Look{}
	w.asked = w.now()
	w.askSheet()
}

func (w *window) keySheet(k fyne.KeyName) {
	middle := fyne.NewPos(w.sheet.Size().Width/2, w.sheet.Size().Height/2)
	switch k {
	case fyne.KeyPlus, fyne.KeyEqual:
		w.zoomSheet(middle, 1)
	case fyne.KeyMinus:
		w.zoomSheet(middle, -1)
	case fyne.KeyHome:
		w.fitSheet()
	default:
		w.key(k)
	}
}

func (w *window) sheetAsk(p *pane.Picture) (sheetAsk, bool) {
	size := p.Pixels()
	if w.figures == nil || w.standing == nil || w.model == nil || size.X < 2 || size.Y < 2 {
		return sheetAsk{}, false
	}
	a := sheetAsk{asking: w.asked, standing: w.standing, figures: w.figures, layer: w.session.Layer(), look: w.plan,
		style: w.style(), ghost: w.session.View.Ghost, seams: w.seams(w.session.Layer()), size: size, scale: p.Scale()}
	if w.session.View.Marks && !w.stale() {
		a.reached = w.carvingState().Reached
	}
	return a, true
}

// askLayer asks for the layer sheet and reports whether one will come.
func (w *window) askLayer() bool {
	a, ok := w.sheetAsk(w.sheet.Picture)
	if ok {
		w.loops.sheet.Ask(a)
	}
	return ok
}

func (w *window) askStick() {
	a, ok := w.sheetAsk(w.stick.Picture)
	if !ok {
		return
	}
	if key := w.stickKey(a); key != w.stick.asked {
		w.stick.asked = key
		w.loops.stick.Ask(a)
	}
}

func (w *window) sheetDrawn(a sheetAsk, out sheetOut, err error) {
	if err != nil {
		w.failed(err)
		return
	}
	last := w.sheet.frame
	w.sheet.frame, w.sheet.drawn, w.sheet.mid, w.sheet.looked = out.frame, out.sheet, out.mid, a.look
	w.sheet.Put(out.frame.Image)
	last.Release()
	w.sheet.caption.Say(caption(a))
	text := ""
	for i, line := range out.facts {
		if i > 0 {
			text += "\n"
		}
		text += line
	}
	if w.sheet.facts.Text != text {
		w.sheet.facts.SetText(text)
	}
	w.pay()
	w.sheet.pending = func() {
		w.trace.shown("sheet", a.asking, a.figures, fmt.Sprintf("layer=%d zoom=%.3f", a.layer, a.look.Zoom))
	}
}

func caption(a sheetAsk) string {
	if a.layer < 1 || a.layer > len(a.figures.Layers) {
		return "Layer sheet"
	}
	return picture.Caption(a.figures.Layers[a.layer-1], len(a.figures.Layers), a.style.Units)
}

func (w *window) stickDrawn(a sheetAsk, out stickOut, err error) {
	if err != nil {
		w.failed(err)
		return
	}
	last := w.stick.frame
	w.stick.frame, w.stick.drawn = out.frame, out.sheet
	w.stick.Put(out.frame.Image)
	last.Release()
	w.stick.pending = func() { w.trace.shown("stick", a.asking, a.figures, fmt.Sprintf("layer=%d", a.layer)) }
}
