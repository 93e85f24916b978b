package app

import (
	"errors"
	"fmt"
	"image/color"
	"os"
	"sync/atomic"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/card"
	"grainstack/app/latest"
	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/picture"
	"grainstack/app/session"
	"grainstack/app/task"
	"grainstack/app/ticket"
	"grainstack/render/draw"
	"grainstack/render/frame"
	"grainstack/render/look"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/panel"
	"grainstack/slicing/unit"
)

// A window is the bench: session, widgets and loops. Everything in it belongs to the window's goroutine.
type window struct {
	o       Options
	app     fyne.App
	win     fyne.Window
	theme   *paper.Theme
	trace   *tracer
	post    func(func())
	answers func(work string) func(func())
	gone    atomic.Bool // closed: nothing is posted any more, since the toolkit's queue closes too
	loops   loops

	session  *session.Session
	path     string // of the job, "" until it was saved or opened
	model    *model // nil until a piece has been opened
	standing *job.Standing
	stoodAt  time.Time // when the standing came
	figures  *job.Figures
	asked    asking // the newest change
	fault    string // why there are no figures, "" where there are

	camera    look.Camera
	plan      sheet.Look
	dragging  bool
	following bool         // a change was followed and posted functions have not been run since
	behind    bool         // and another has come
	owed      bool         // widgets are to be shown with the next picture
	told      *job.Figures // the figures that the ticket was last given
	chosen    bool         // a layer was picked by hand: its edges are drawn on the piece
	picking   picking
	chalking  chalking
	mending   mending
	survey    *mend.Findings // of the scan; nil until it is known
	finding   int            // that the view is at, from 1; 0 for none
	kept      keeping
	reaching  reaching
	laying    laying
	steering  steering
	making    making
	hand      hand
	part      panel.ID // that was picked last on the panel sheet
	line      line     // a joint line in the hand on the layer sheet
	fine      bool     // shift is held: the arrow keys move finely
	trying    trying
	comparing comparing
	leaving   func()        // what is to be done once the job is saved, nil for nothing
	question  dialog.Dialog // whether to leave unsaved work, nil while it is not open
	taking    string        // the file that a still or a turntable is being drawn for, "" for none
	shelf     shelf
	standCard *card.Card
	chalkCard *card.Card

	look    *lookPane
	sheet   *sheetPane
	panels  *shopPane
	glueUp  *shopPane
	saws    *shopPane
	tools   *panelTools
	compass *compassPane
	folder  *folder // the layer sheet and those that take turns with it
	stick   *stickPane
	blank   *widget.PopUpMenu // of the picked layer, the last that was opened
	toning  *toning           // a photo that tones are picked from, nil for none
	cards   []*card.Card
	ticket  *ticket.Ticket
	strip   *ticket.Strip
	top     *topLine
	margin  *margin
	bench   *container.Scroll // the cards
	menus   []menuItem
	letters *draw.Letters
	page    dialog.Dialog // the last that was opened over the bench
}

// picking is what clicks on the piece are taken for.
type picking struct {
	what   string     // "", "lay", "measure", "floor" or "saw"
	points []geom.Vec // in the piece's own frame
	serial int        // counts the clicks that were asked about
	ask    pickAsk    // not answered yet
}

// newWindow makes the window with its loops; post hands a function to the window's goroutine, under the name of the work whose
// answer it is, "" for none.
func newWindow(a fyne.App, o Options, letters *draw.Letters, post func(work string, f func())) *window {
	w := &window{o: o, app: a, letters: letters, camera: firstCamera(), steering: newSteering()}
	w.answers = func(work string) func(func()) {
		return func(f func()) {
			if !w.gone.Load() {
				post(work, f)
			}
		}
	}
	w.post = w.answers("")
	w.kept.path = keptPath(o.State, os.Getpid())
	w.reaching.recall(o.State)
	w.shelf = newShelf(o.Catalogue, o.Stock)
	if o.Trace {
		w.trace = &tracer{o.Log}
	}
	w.theme = themeOf(o, w.firstShade(), float32(a.Preferences().FloatWithFallback(prefText, 1)))
	a.Settings().SetTheme(w.theme)
	w.session = session.New(job.Default(w.shelf.mine))
	w.session.View.Units = unit.System(a.Preferences().IntWithFallback(prefUnits, int(unit.Metric)))
	w.makeLoops()
	w.win = a.NewWindow("Grainstack")
	w.build()
	w.win.SetMaster()
	w.win.Resize(fyne.NewSize(float32(a.Preferences().FloatWithFallback(prefWidth, 1280)), float32(a.Preferences().FloatWithFallback(prefHeight, 800))))
	w.win.SetOnDropped(func(_ fyne.Position, uris []fyne.URI) { w.dropped(uris) })
	w.win.SetCloseIntercept(w.askToClose)
	a.Settings().AddListener(func(fyne.Settings) { w.post(w.retinted) })
	w.bindKeys()
	w.showAll()
	return w
}

func (w *window) makeLoops() {
	k := workers{w.letters}
	quick, fine := k.painter(), k.painter()
	plan, stick := k.drafter(), k.drafter()
	trier := &trier{workers: k, r: look.NewRenderer(), tell: w.trialProgress}
	shelf, fineShelf := shelver{picture.NewShelf(w.shelf.now, k.letters)}, shelver{picture.NewShelf(w.shelf.now, k.letters)}
	w.loops = loops{
		open:   task.New[opening](w.answers("open"), w.o.read, w.opened),
		mend:   task.New[mendKey](w.answers("mend"), w.mend, w.mended),
		survey: task.New[surveyAsk](w.answers("survey"), lookOver, w.surveyed),
		save:   latest.New(latest.Finish, w.post, saveJob, w.savedJob),
		keep:   latest.New(latest.Cancel, w.post, keepJob, w.jobKept),
		shelf:  latest.New(latest.Finish, w.post, saveStock, w.stockSaved),
		hollow: task.New[*job.Piece](w.answers("hollow"), w.hollowOut, w.hollowed),
		stand:  latest.New(latest.Finish, w.answers("stand"), k.stand, w.stood),
		later: latest.New(latest.Finish, w.post, wait, func(_, _ struct{}, err error) {
			if err == nil && w.model != nil && !(w.stands() && w.standing.Grid == w.model.grid) {
				w.stoodAt = time.Time{}
				w.askStand()
			}
		}),
		figure: latest.New(latest.Finish, w.post, k.instant, w.figured),
		settle: latest.New(latest.Cancel, w.answers("settle"), k.settle, w.settled),
		reach:  task.New[reachKey](w.answers("reach"), w.followCutters, w.reachedNow),
		ways:   latest.New(latest.Cancel, w.post, w.seekWays, w.waysFound),
		shop:   latest.New(latest.Cancel, w.answers("shop"), w.workOut, w.workedOut),
		make:   latest.New(latest.Cancel, w.post, w.writeFiles, w.wroteFiles),
		sizes:  latest.New(latest.Cancel, w.post, w.measureFiles, func(sizeAsk, struct{}, error) {}),
		steer:  latest.New(latest.Cancel, w.post, w.seekDirections, w.directionsFound),
		disc:   latest.New(latest.Finish, w.post, k.compassDrafter().draw, w.compassDrawn),
		bench:  w.benchLoop(),
		look:   latest.New(latest.Finish, w.post, quick.draw, w.lookQuick),
		fine:   latest.New(latest.Cancel, w.post, fine.drawFine, w.lookFine),
		sheet:  latest.New(latest.Finish, w.post, plan.layer, w.sheetDrawn),
		stick:  latest.New(latest.Finish, w.post, stick.stick, w.stickDrawn),
		photo:  latest.New(latest.Cancel, w.post, readPhoto, w.photoRead),
		swatch: latest.New(latest.Finish, w.post, drawPhoto(&frame.Pool{}), w.photoShown),
		try:    latest.New(latest.Cancel, w.post, trier.try, w.tried),

		beside:     latest.New(latest.Finish, w.post, shelf.draw, w.besideQuick),
		besideFine: latest.New(latest.Cancel, w.post, fineShelf.drawFine, w.besideFine),
		take:       latest.New(latest.Cancel, w.post, w.takeStill, w.stillTaken),
	}
}

// build arranges the widgets.
func (w *window) build() {
	w.margin = newMargin(func() { w.run("cancel") }, func() { w.run("go on") })
	w.look, w.sheet, w.stick = w.newLook(), w.newSheet(), w.newStick()
	w.panels, w.glueUp, w.saws = w.newPanels(), w.newGlueUp(), w.newSawPlan()
	w.compass = w.newCompass()
	w.folder = w.newFolder()
	w.top = newTopLine(w.run)
	w.ticket = ticket.New(w.margin.hint, w.showPlace)
	w.standCard = card.Stand(w)
	w.cards = []*card.Card{card.Piece(w), card.Mending(w), w.standCard, card.Board(w), card.Wall(w), card.Finish(w),
		card.Cutters(w, card.OwnCutters{Keep: w.keepCutter, Drop: w.dropCutter}), card.Panels(w),
		card.Carving(w, card.Carver{Seek: w.seek, Take: w.take, Took: w.took}), card.GlueUp(w)}
	w.cards = append(w.cards, card.Directions(w, card.Steerer{Compare: w.compareDirections, Take: w.takeBest, Weigh: w.weigh}))
	list := container.NewVBox()
	w.chalkCard = card.Chalk(w)
	w.cards = append(w.cards, w.chalkCard)
	card.Unbox(w.cards...)
	for _, one := range w.cards {
		one.Folded = func(bool) { w.folded() }
		list.Add(one)
	}
	scroll := container.NewVScroll(container.New(layout.NewCustomPaddedLayout(2, 8, 10, 12), list))
	scroll.SetMinSize(fyne.NewSize(246, 120))
	w.bench = scroll
	all := pane.NewRow(1, []fyne.CanvasObject{w.stick.whole, w.look.whole, w.folder.whole, scroll}, []float32{108, 0, 318, 282})
	w.comparing, w.strip = w.newComparing(all), w.newStrip()
	foot := container.New(layout.NewCustomPaddedVBoxLayout(0), paper.Back(paper.Line), w.ticket.Object(), paper.Back(paper.Line), w.strip.Object(), w.margin.whole)
	head := container.New(layout.NewCustomPaddedVBoxLayout(0), w.top.whole, paper.Back(paper.Line))
	w.menus = w.menuTable()
	w.win.SetMainMenu(w.mainMenu())
	w.win.SetContent(container.New(layout.NewBorderLayout(head, foot, nil, nil), head, foot, container.NewStack(all, w.comparing.whole)))
	w.win.SetPadded(false)
}

// begin opens the piece to start with.
func (w *window) begin() {
	w.margin.work("opening the piece", -1)
	a := opening{path: w.o.Path, asking: asking{w.session.Revision(), time.Now(), w.shelf.mine}}
	w.loops.open.Want(a, a)
	if w.shelf.fault != "" {
		w.say("Your own stock", sentence(errors.New(w.shelf.fault)))
	}
	w.offer()
}

// close keeps the window's size, stops all work and ends the program.
func (w *window) close() {
	size := w.win.Canvas().Size()
	p := w.app.Preferences()
	p.SetFloat(prefWidth, float64(size.Width))
	p.SetFloat(prefHeight, float64(size.Height))
	w.loops.shelf.Wait()
	w.loops.stop()
	w.gone.Store(true)
	w.forget()
	w.win.SetCloseIntercept(nil)
	w.win.Close()
}

// retinted draws the pictures again in the theme's present colours.
func (w *window) retinted() {
	w.asked = w.now()
	w.askLook()
	w.askSheet()
	w.askStick()
	w.showCards()
}

func (w *window) dark() bool { return w.theme.IsDark(w.app.Settings().ThemeVariant()) }

func (w *window) style() sheet.Style {
	s := sheet.Style{Ink: draw.LightInk(), Letters: w.letters, Units: w.session.View.Units, Bare: true}
	if w.dark() {
		s.Ink = draw.DarkInk()
	}
	return s
}

// A topLine is the piece at the left and the commands that are always at hand at the right.
type topLine struct {
	name, facts *paper.Words
	undo, redo  *widget.Button
	whole       fyne.CanvasObject
}

func newTopLine(run func(string)) *topLine {
	t := &topLine{name: paper.Write("", paper.Title, paper.Ink).Bold(), facts: paper.Write("", paper.Small, paper.Pencil).Cut()}
	quiet := func(text, command string) *widget.Button {
		b := widget.NewButton(text, func() { run(command) })
		b.Importance = widget.LowImportance
		return b
	}
	t.undo, t.redo = quiet("Undo", "undo"), quiet("Redo", "redo")
	buttons := container.NewHBox(quiet("Open", "open"), quiet("Save", "save"), quiet("Make files", "make"), t.undo, t.redo, quiet("Keys", "keys"))
	left := container.New(layout.NewCustomPaddedLayout(0, 0, 14, 16), t.name)
	t.whole = container.New(layout.NewCustomPaddedLayout(3, 3, 0, 8), container.NewBorder(nil, nil, left, buttons, t.facts))
	return t
}

func (t *topLine) put(name, facts, undo, redo string) {
	t.name.Say(name)
	t.facts.Say(facts)
	naming(t.undo, "Undo", undo)
	naming(t.redo, "Redo", redo)
	if t.whole.Size().Width > 0 && t.whole.Size().Width < t.whole.MinSize().Width {
		t.redo.SetText("Redo")
		t.undo.SetText("Undo")
	}
}

// naming says on the button what it would do.
func naming(b *widget.Button, verb, what string) {
	text := verb
	if what != "" {
		text += " " + what
	}
	if b.Text != text {
		b.SetText(text)
	}
	if (what == "") != b.Disabled() {
		if what == "" {
			b.Disable()
		} else {
			b.Enable()
		}
	}
}

// A margin is the line at the foot: a word on what is under the hand, and what is being worked out.
type margin struct {
	words, working *paper.Words
	stop           *widget.Button
	bar            *bar
	off            bool // the button goes on with what was called off
	whole          fyne.CanvasObject
}

func newMargin(cancel, goOn func()) *margin {
	m := &margin{words: paper.Write("", paper.Small, paper.Pencil).Cut(), working: paper.Write("", paper.Small, paper.Pencil), bar: newBar()}
	m.stop = widget.NewButton("cancel", func() {
		if m.off {
			goOn()
		} else {
			cancel()
		}
	})
	m.stop.Importance = widget.LowImportance
	right := container.NewHBox(m.bar, m.working, m.stop)
	room := canvas.NewRectangle(color.Transparent) // keeps the line as high as its button: the panes above must not jump
	room.SetMinSize(fyne.NewSize(1, m.stop.MinSize().Height))
	m.whole = container.New(layout.NewCustomPaddedLayout(2, 3, 14, 8), container.NewStack(room, container.NewBorder(nil, nil, nil, right, m.words)))
	m.rest("")
	return m
}

func (m *margin) hint(words string) { m.words.Say(words) }

// work says what is being worked out; done is from 0 to 1, less than 0 where that is not known.
func (m *margin) work(what string, done float64) {
	text := what + " …"
	if done >= 0 {
		text = fmt.Sprintf("%s … %.0f %%", what, 100*done)
	}
	m.bar.put(max(0, done))
	m.working.Say(text)
	m.offer(false)
}

// rest says that nothing is, and what was called off, "" for nothing.
func (m *margin) rest(off string) {
	m.bar.put(-1)
	if off == "" {
		m.working.Say("")
		m.stop.Hide()
		return
	}
	m.working.Say("called off: " + off)
	m.offer(true)
}

// offer shows the button that calls off, or goes on with what was.
func (m *margin) offer(off bool) {
	m.off = off
	if text := map[bool]string{false: "cancel", true: "go on"}[off]; m.stop.Text != text {
		m.stop.SetText(text)
	}
	m.stop.Show()
	m.whole.Refresh()
}
