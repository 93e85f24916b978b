package app

import (
	"errors"
	"os"

	"grainstack/app/card"
	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/app/ticket"
	"grainstack/render/draw"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
)

// A window is the arrangement of all its parts. A change goes round in it: see followAll.
type window struct {
	*core
	views
	tasks *tasks
	hands
	actors
	making  *making
	cards   *cards
	folder  *binder // the layer sheet and those that take turns with it
	top     *topLine
	router  *router
	starter *starter
	last    last
}

// hands are what the maker does on pictures, each knowing the core and the pictures that it is about.
type hands struct {
	*lookHand
	*chalkHand
	*picker
	*layerHand
	*panelHand
	*programHand
}

// actors are what the maker uses by commands, cards and pages.
type actors struct {
	*directions
	*trials
	*carver
	*snagger
	*filing
	*joiner
	*toner
	*stocker
	*steps
	*dresser
	*roomer
	*menus
}

// last is what was shown last, and what is owed.
type last struct {
	model   *state.Model
	shop    *workshop.Workshop
	figures *job.Figures // that the ticket was given
	owed    bool         // widgets are to be shown with the next picture
	places  bool         // once they are shown it is to be logged where they are
}

// newWindow makes the window with its tasks; post hands a function to the window's goroutine, under the name of the work whose
// answer it is, "" for none.
func newWindow(a fyne.App, o Options, letters *draw.Letters, post func(work string, f func())) *window {
	c := &core{o: o, app: a, letters: letters, poster: poster{send: post}}
	w := &window{core: c}
	w.dresser, w.roomer = &dresser{c}, &roomer{core: c}
	c.follow = w.followAll
	c.front = func(sheet string) { w.folder.named(sheet) }
	if o.Trace {
		c.trace = &tracer{to: o.Log, later: func() {
			c.post(func() {
				w.last.places = true
				w.refresh()
			})
		}}
	}
	c.bench = state.New(state.NewShelf(o.Catalogue, o.Stock))
	c.bench.Reach.Recall(o.State)
	c.bench.View.Units = unit.System(a.Preferences().IntWithFallback(prefUnits, int(unit.Metric)))
	c.bench.Screen.Rooms = state.RoomsOf(a.Preferences().StringList(prefLarge))
	c.theme = themeOf(o, w.firstShade(), float32(a.Preferences().FloatWithFallback(prefText, 1)))
	a.Settings().SetTheme(c.theme)
	c.win = a.NewWindow("Grainstack")
	c.margin = newMargin(func() { w.run("cancel") }, func() { w.run("go on") })
	w.makeParts()
	c.run, c.key = w.command, w.keyed
	w.makeTasks()
	w.build()
	w.win.SetMaster()
	w.win.Resize(fyne.NewSize(float32(a.Preferences().FloatWithFallback(prefWidth, 1280)), float32(a.Preferences().FloatWithFallback(prefHeight, 800))))
	w.win.SetOnDropped(func(_ fyne.Position, uris []fyne.URI) { w.dropped(uris) })
	w.win.SetCloseIntercept(w.askToClose)
	a.Settings().AddListener(func(fyne.Settings) { w.post(w.changed) })
	w.bindKeys()
	w.showAll()
	return w
}

// makeParts makes what the maker does things with.
func (w *window) makeParts() {
	c, on := w.core, &w.views
	t := &tasks{core: c}
	w.tasks = t
	w.cards = &cards{}
	w.chalkHand, w.picker = &chalkHand{core: c, cards: w.cards}, &picker{core: c}
	w.lookHand = &lookHand{core: c, on: on, chalk: w.chalkHand, picks: w.picker}
	w.layerHand = &layerHand{core: c, on: on}
	w.panelHand = &panelHand{core: c, leafer: leafer{c}, on: on}
	w.openStand = func() {
		w.cards.show(w.cards.stand)
		w.Hint("Turn the piece on the Stand card; the layers follow.")
	}
	w.layAgain = func() { w.retry(t.again.shop) }
	w.directions = &directions{core: c, on: on, tasks: t}
	w.trials = &trials{core: c, on: on}
	w.carver = &carver{core: c, tasks: t}
	w.snagger = newSnagger(c, on, w.carver, w.trials)
	w.filing = &filing{core: c, on: on, tasks: t, kept: keeping{path: keptPath(c.o.State, os.Getpid())}, menu: func() { w.win.SetMainMenu(w.mainMenu()) }}
	w.joiner = &joiner{core: c, on: on, tasks: t, cards: w.cards}
	w.filing.joiner = w.joiner
	w.steps, w.menus = &steps{c, on, t}, &menus{core: c, commands: w.commands, recent: w.recentItem}
	w.toner = &toner{core: c, tasks: t}
	w.stocker = &stocker{core: c, tasks: t}
	w.making = &making{core: c, on: on, tasks: t, off: t.wordsOff}
	w.programHand = &programHand{core: c, on: on, tasks: t, from: w.making.makeWork, clock: wallClock()}
	w.programHand.seen = func() bool {
		return w.folder.inFront().view == w.programs && w.folder.whole.Visible() && !w.bench.Screen.Comparing && !w.covered()
	}
}

// build arranges the widgets.
func (w *window) build() {
	w.makeViews()
	w.folder = newBinder(w.core, w.makeLeaves())
	w.drawers = []drawer{w.look, w.stick, w.comparing}
	for _, l := range w.folder.leaves {
		w.drawers = append(w.drawers, l.view)
	}
	w.folder.came = func(l *leaf) {
		if l.shop {
			w.tasks.again.shop()
		}
	}
	w.top = newTopLine(w.run)
	w.ticket = ticket.New(w.Hint, w.showSnag)
	w.strip = ticket.NewStrip(ticket.StripActions{Choose: w.chooseTrial, Beside: w.setBeside, Run: w.run, Key: w.key, Notice: w.Hint})
	w.makeCards()
	all := pane.NewRow(lookPane, []fyne.CanvasObject{w.stick.Whole, w.look.Whole, w.folder.whole, w.cards.scroll.Whole}, []float32{124, 330, 318, 282}, []bool{true, true, true, false})
	w.panes = all
	totals := container.New(layout.NewCustomPaddedVBoxLayout(0), w.ticket.Object(), paper.Back(paper.Line), w.strip.Object())
	w.roomer.row, w.roomer.foot, w.roomer.folder, w.roomer.look, w.roomer.cards = all, totals, w.folder, w.look.Picture, w.cards
	foot := container.New(layout.NewCustomPaddedVBoxLayout(0), paper.Back(paper.Line), totals, w.margin.whole)
	w.router, w.starter = newRouter(w.core, w.tasks, w.cards), &starter{core: w.core, on: w.look}
	w.starter.ask = w.router.askUnit
	w.roomer.head = container.New(layout.NewCustomPaddedVBoxLayout(0), w.top.whole, w.router.line)
	head := container.New(layout.NewCustomPaddedVBoxLayout(0), w.roomer.head, paper.Back(paper.Line))
	w.fill()
	w.win.SetMainMenu(w.mainMenu())
	w.win.SetContent(paper.NewDesk(container.New(layout.NewBorderLayout(head, foot, nil, nil), head, foot, container.NewStack(all, w.comparing.Whole))))
	w.win.SetPadded(false)
}

func (w *window) makeCards() {
	c := w.cards
	c.stand, c.chalk = card.NewStand(w), card.NewChalk(w)
	c.scans = card.NewScans(w, card.Joiner{Remove: w.removeScan, Place: w.placeScan, Cut: w.cutScan, Blend: w.blendSeams})
	c.lay([]*card.Card{card.NewPiece(w), c.scans, card.NewMending(w), c.stand, card.NewBoard(w), card.NewWall(w), card.NewFinish(w),
		card.NewCutters(w, card.OwnCutters{Keep: w.keepCutter, Drop: w.dropCutter}), card.NewPanels(w),
		card.NewCarving(w, card.Carver{Seek: w.seek, Take: w.carver.take, Took: w.took}), card.NewGlueUp(w),
		card.NewDirections(w, card.Steerer{Compare: w.compareDirections, Take: w.takeBest, Weigh: w.weigh}), c.chalk}, w.Hint, func(one *card.Card, open bool) {
		if one == c.stand {
			w.bench.Screen.Turning = open
		}
		c.scroll.Refresh()
		w.shareAgain() // a card that was folded out is to be seen
		w.trace.placesLater()
		w.changed() // dragging may mean something else now, and marks are shown while their card is open
	})
}

// begin opens the piece to start with.
func (w *window) begin() {
	if len(w.o.Scans) > 0 {
		w.openScans(append([]string{w.o.Path}, w.o.Scans...))
	} else {
		w.openNow(w.o.Path)
	}
	if fault := w.bench.Shelf.Fault; fault != "" {
		w.say("Your own stock", w.sentence(errors.New(fault)))
	}
	w.offer()
}

// askToClose closes the window, but asks first where something would be lost.
func (w *window) askToClose() {
	w.askToLeave([]string{"Save it and leave", "Leave without it", "Stay"}, w.close)
}

// close keeps the window's size, stops all work and ends the program.
func (w *window) close() {
	size := w.win.Canvas().Size()
	p := w.app.Preferences()
	p.SetFloat(prefWidth, float64(size.Width))
	p.SetFloat(prefHeight, float64(size.Height))
	w.tasks.stock.Wait()
	w.stopAll()
	w.gate.close()
	w.forget()
	w.win.SetCloseIntercept(nil)
	w.win.Close()
}

// workers are all work in the background one by one.
func (w *window) workers() (all []worker) {
	for _, r := range w.tasks.rows {
		all = append(all, r)
	}
	for _, v := range w.drawers {
		all = append(all, v)
	}
	if p := w.joiner.matching; p != nil {
		all = append(all, p.sides[0].look, p.sides[1].look)
	}
	if p := w.joiner.cutting; p != nil {
		all = append(all, p.side.look)
	}
	return all
}

// stopAll ends all work for good.
func (w *window) stopAll() {
	for _, one := range w.workers() {
		one.Stop()
	}
}

// followAll follows a change, whatever has changed: what can be looked up is put on the bench, tasks and views ask for what they
// want of it now, and all is shown.
func (w *window) followAll() {
	b := w.bench
	b.Screen.Dark, b.Screen.Trial = w.dark(), w.trialPixels()
	if high := w.win.Canvas().Size().Height; high > 0 {
		b.Screen.Low = high < lowWindow
	}
	w.arrange()
	b.Screen.Workshop = w.folder.inFront().shop || b.Screen.Files
	w.look.Marked = w.cards.chalk.Open() || w.brushing() // folded away, they leave the look as it will be
	if b.Model != nil {
		b.Recall()
		for _, r := range w.tasks.rows {
			if r.want != nil {
				r.want()
			}
		}
		w.traceNew()
	}
	w.programHand.still()
	for _, v := range w.inSight() {
		v.Ask(b, w.change.asked)
	}
	if w.look.Drawing() || w.folder.inFront().view.Drawing() || w.comparing.Drawing() {
		w.last.owed = true // each repaint of the window costs as much as a picture
		return
	}
	w.showAll()
}

// inSight are the pictures that can be seen.
func (w *window) inSight() (all []drawer) {
	all = append(all, w.comparing)
	for _, one := range []struct {
		whole fyne.CanvasObject
		view  drawer
	}{{w.look.Whole, w.look}, {w.stick.Whole, w.stick}, {w.folder.whole, w.folder.inFront().view}} {
		if one.whole.Visible() {
			all = append(all, one.view)
		}
	}
	return all
}

// traceNew logs what is new on the bench, and has the panel sheet follow another workshop.
func (w *window) traceNew() {
	b, last := w.bench, w.last
	if m := b.Model; m != last.model {
		w.last.model = m
		if last.model != nil && last.model.Key.Scan == m.Key.Scan && last.model.Key != m.Key {
			w.traceMended()
		}
	}
	if v := b.Shop.Last; v != last.shop {
		w.last.shop = v
		if v == nil {
			return
		}
		w.panels.Took(b, v)
		w.trace.line("what=workshop rev=%d panels=%d parts=%d too_large=%d boards=%d joints=%d cautions=%d improved=%v", b.Revision(), v.Panels(), len(v.Parts),
			len(v.Layout.TooLarge), v.Boards.Count(), len(v.Joints), len(v.Cautions), v.Improved)
		if p := w.making.page; p != nil && !w.making.busy() {
			p.refresh()
		}
	}
}

// pay shows what is owed.
func (w *window) pay() {
	if w.last.owed {
		w.showAll()
	}
}

// settledCame takes the figures that take longer.
func (w *window) settledCame(key state.FigureKey, f *job.Figures, err error) {
	if err != nil {
		w.fail(err)
		return
	}
	w.bench.Take(key, f)
	w.traceChalk(f)
	if w.brushing() && w.cards.chalk.Open() { // it may have grown
		w.cards.put(w.cardState())
		w.cards.reveal(w.cards.chalk)
	}
}

// cardState is what the cards show.
func (w *window) cardState() card.State {
	b := w.bench
	s := card.State{
		Settings: b.Settings(), Angles: b.Angles(), Catalogue: b.Shelf.Now, Standing: b.Standing, Figures: b.Figures, Stale: b.Stale(),
		View: b.View, Picked: card.Picked{Layer: b.Layer(), Distance: b.Selected.Picking.Distance(), Click: b.Selected.Picking.What}, Carving: w.carvingState(),
		Compass: w.compassState(), Off: w.tasks.cardsOff(),
		Mend: card.MendState{Survey: b.Scan.Survey, Finding: b.Selected.Finding, Busy: b.BeingMended(), Fault: b.MendFault()},
		Join: card.JoinState{Busy: b.Tasks.Join.State == task.Working, Blend: b.Blend()},
	}
	if b.Model != nil {
		s.Piece = b.Model.Piece
	}
	if v, now := b.Shop.Newest(); now {
		s.Workshop = v
	}
	return s
}

// showAll shows the bench in every widget. Widgets draw again only what has changed.
func (w *window) showAll() {
	w.last.owed = false
	w.followPlace()
	b, s := w.bench, w.cardState()
	w.cards.put(s)
	if w.ticket.Low(b.Screen.Low) {
		w.relay()
	}
	w.ticket.Put(b.FiguresWithShop(), s.Workshop, b.Provisional(), b.Why(), s.View.Units)
	if b.Figures != w.last.figures && b.Figures != nil && !s.Stale {
		w.trace.shown("ticket", w.change.asked, b.Figures, "")
	}
	w.last.figures = b.Figures
	w.showTop(s)
	w.look.Caption.Say(w.caption(s))
	if l := w.folder.inFront(); l.show != nil {
		l.show()
	}
	w.router.show()
	w.starter.show()
	w.look.Drag(b.Screen.Turning, w.brushing(), b.Model != nil)
	w.showStrip()
	w.showAgainst()
	open, _ := b.Snags()
	if w.folder.count(snagsName, len(open)) {
		w.panes.Refresh()
	}
	w.tasks.showFoot()
	if w.last.places {
		w.last.places = false
		w.post(w.tracePlaces) // when they are laid out
	}
}

func (w *window) showTop(s card.State) {
	name, facts := "No piece", "drop a mesh here, or open one"
	if s.Piece != nil {
		name = s.Piece.Name
		facts = card.SizeWords(s) + " · " + card.Thousands(s.Piece.Findings.Triangles) + " facets · " + card.Solidity(s)
	}
	w.top.put(name, facts, w.bench.UndoName(), w.bench.RedoName())
	w.nameUndo()
}
