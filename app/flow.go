package app

import (
	"context"
	"errors"
	"fmt"
	"time"

	"grainstack/app/card"
	"grainstack/app/picture"
	"grainstack/app/session"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// now is the mark that requests of a change carry.
func (w *window) now() asking { return asking{w.session.Revision(), time.Now(), w.shelf.now} }

// Do changes the settings. It is how cards write; see card.Bench.
func (w *window) Do(name string, change func(job.Settings) job.Settings) {
	if w.session.Do(name, change(w.session.Settings())) {
		w.changed()
	}
}

// Rest ends a gesture.
func (w *window) Rest() {
	w.session.Rest()
	w.keepWork()
	if w.model != nil && !w.stands() {
		w.stoodAt = time.Time{} // do not put it off
		w.changed()
	}
}

// Look changes how the pictures are looked at.
func (w *window) Look(change func(*session.View)) {
	was := w.session.View
	change(&w.session.View)
	if w.session.View == was {
		return
	}
	w.asked = w.now()
	if was.Units != w.session.View.Units {
		w.app.Preferences().SetInt(prefUnits, int(w.session.View.Units))
		w.askStick()
	}
	w.askLook()
	w.askSheet()
	w.showAll()
}

// Run runs a command by its name.
func (w *window) Run(command string) { w.run(command) }

// Hint says a word in the margin.
func (w *window) Hint(words string) { w.margin.hint(words) }

// changed follows a change of the settings: the first at once, so that it is on the next frame, and those that come before the
// posted functions are next run together, since the toolkit hands on every movement of the mouse.
func (w *window) changed() {
	if w.behind {
		w.asked.rev = w.session.Revision() // asked when the oldest of them was
		return
	}
	w.asked = w.now()
	if w.following {
		w.behind = true
		return
	}
	w.goOn()
}

func (w *window) goOn() {
	w.following, w.behind = true, false
	w.post(w.caughtUp)
	w.follow()
}

// caughtUp follows what has come since the last follow, if anything has.
func (w *window) caughtUp() {
	w.following = false
	if w.behind {
		w.goOn()
	}
}

// follow shows what can be looked up at once and asks for the rest.
func (w *window) follow() {
	if w.model == nil {
		w.showAll()
		return
	}
	w.askMend()
	w.askHollow()
	w.askSurvey()
	w.askLook()
	if !w.stands() {
		w.askStand()
		w.owe()
		return
	}
	if w.standing.Grid != w.model.grid {
		w.askStand()
	}
	w.refigure()
}

// owe leaves widgets to be shown together with the next picture: each repaint of the window costs as much as a picture.
func (w *window) owe() {
	if w.loops.look.Busy() || w.loops.sheet.Busy() || w.loops.bench.Busy() {
		w.owed = true
		return
	}
	w.showAll()
}

// pay shows what is owed.
func (w *window) pay() {
	if w.owed {
		w.showAll()
	}
}

// stands reports whether the standing is that of the settings.
func (w *window) stands() bool {
	return w.standing != nil && w.standing.Piece == w.model.piece && w.standing.Stand == w.session.Settings().Stand()
}

// standEvery is how often at most a piece that is being turned is tabulated anew: the picture goes before the figures.
const standEvery = 300 * time.Millisecond

// askStand asks for the standing, or makes sure that it is asked for in a while.
func (w *window) askStand() {
	w.loops.settle.Drop()
	if time.Since(w.stoodAt) < standEvery {
		w.loops.later.Ask(struct{}{})
		return
	}
	w.loops.stand.Ask(standAsk{w.asked, w.model, w.session.Settings().Stand(), w.standing})
}

// stood takes a standing: it may be of an older turn while the hand goes on, but then it is newer than the last.
func (w *window) stood(a standAsk, st *job.Standing, err error) {
	if a.model.piece != w.model.piece || a.model.grid != w.model.grid {
		return
	}
	if err != nil {
		w.failed(err)
		return
	}
	w.standing, w.fault, w.stoodAt = st, "", time.Now()
	if w.stands() {
		if !w.dragging {
			w.askLook()
		}
		w.refigure()
	}
}

// refigure looks the figures up. Upright pockets take longer than a look-up: they are left to the loop.
func (w *window) refigure() {
	a := figureAsk{w.asked, w.standing, w.session.Settings()}
	if a.settings.Core == job.Straight && a.settings.Wall > 0 && w.standing.Table != nil {
		w.loops.figure.Ask(a)
		w.showAll()
		return
	}
	f, err := job.Instant(context.Background(), a.standing, a.settings, w.shelf.now)
	w.figured(a, f, err)
}

// figured takes instant figures and asks for what hangs on them.
func (w *window) figured(a figureAsk, f *job.Figures, err error) {
	if a.standing != w.standing || err != nil {
		if err != nil {
			w.failed(err)
		}
		return
	}
	w.leaveReach()
	w.leaveWorkshop()
	w.reckoned(f)
	w.figures = w.dressed(f.KeptFrom(w.figures, w.standing))
	w.session.Pick(w.session.Layer(), len(f.Layers))
	if !w.stale() && f.Withheld == "" {
		w.loops.settle.Ask(a)
	}
	w.askStick()
	if w.askSheet() {
		w.owed = true
	} else {
		w.showAll()
	}
}

// settled takes the figures that take longer. They are current or they were called off.
func (w *window) settled(a figureAsk, f *job.Figures, err error) {
	if err != nil || a.standing != w.standing || a.settings != w.session.Settings() {
		if err != nil && !errors.Is(err, context.Canceled) {
			w.failed(err)
		}
		return
	}
	w.reckoned(f)
	w.figures = w.dressed(f)
	w.traceChalk(f)
	w.askReach(a, f)
	if w.folder.now().shop {
		w.askWorkshop()
	}
	w.askSheet()
	w.askStick()
	if w.session.View.Marks {
		w.askLook()
	}
	w.showAll()
	if w.brushing() && w.chalkCard.Open() { // it may have grown
		w.reveal(w.chalkCard)
	}
}

// failed says what went wrong in the margin; what is on the screen stays.
func (w *window) failed(err error) {
	if errors.Is(err, context.Canceled) {
		return
	}
	w.fault = err.Error()
	w.figures = nil
	w.margin.hint(w.fault)
	w.showAll()
}

// stale reports whether the figures are of other settings than the present ones.
func (w *window) stale() bool {
	if w.beingMended() && !(w.model.piece == w.mending.raw.piece && w.model.piece.Solid()) {
		return true
	}
	return w.figures == nil || w.figures.For != w.session.Settings() || !w.stands()
}

// pick chooses a layer.
func (w *window) pick(layer int) {
	if w.figures == nil || !w.session.Pick(layer, len(w.figures.Layers)) {
		return
	}
	w.chosen = true
	w.asked = w.now()
	w.turnToLayer()
	w.askSheet()
	w.askStick()
	w.askLook()
	w.showAll()
}

// state is what the cards show.
func (w *window) state() card.State {
	s := card.State{
		Settings: w.session.Settings(), Angles: w.session.Angles(), Catalogue: w.shelf.now,
		Standing: w.standing, Figures: w.figures, Stale: w.stale(), View: w.session.View, Layer: w.session.Layer(), Picking: w.picking.what,
		Carving: w.carvingState(), Compass: w.steeringState(), Survey: w.survey, Finding: w.finding, Mending: w.beingMended(), MendFault: w.mending.fault, Off: w.off(),
	}
	if w.model != nil {
		s.Piece = w.model.piece
	}
	if v, now := w.workshop(); now {
		s.Workshop = v
	}
	if p := w.picking.points; len(p) == 2 {
		s.Distance = p[0].Sub(p[1]).Len()
	}
	return s
}

// showAll shows the session and the figures in every widget. Widgets draw again only what has changed.
func (w *window) showAll() {
	w.owed = false
	w.showCards()
	s := w.state()
	w.ticket.Put(w.figuresWithShop(), s.Workshop, s.Stale, w.why(), s.View.Units)
	if w.figures != w.told && w.figures != nil && !s.Stale {
		w.trace.shown("ticket", w.asked, w.figures, "")
	}
	w.told = w.figures
	w.showTop(s)
	w.showCaptions(s)
	w.showTrials()
}

func (w *window) showCards() {
	s := w.state()
	for _, c := range w.cards {
		c.Put(s)
	}
}

// why says why there are no figures.
func (w *window) why() string {
	switch {
	case w.fault != "":
		return w.fault
	case w.model == nil:
		return "no piece is open yet."
	}
	return "it is being worked out."
}

func (w *window) showTop(s card.State) {
	name, facts := "No piece", "drop a mesh here, or open one"
	if s.Piece != nil {
		name = s.Piece.Name
		facts = card.Size(s) + " · " + card.Thousands(s.Piece.Findings.Triangles) + " facets · " + card.Solidity(s)
	}
	w.top.put(name, facts, w.session.UndoName(), w.session.RedoName())
	w.nameUndo()
}

// showCaptions writes the lines above the pictures.
func (w *window) showCaptions(s card.State) {
	look := "Finished piece"
	if f, ok := s.Catalogue.Finish(s.Settings.Finish); ok {
		look += " · " + phrase.Inside(f.Name) + " · " + picture.Lights()[s.View.Light].Words
	}
	switch {
	case s.Picking == "lay":
		look = "Click the facet that the piece shall lie on · Escape leaves it"
	case s.Picking == "floor":
		look = fmt.Sprintf("Click point %d of 3 that shall stand on the floor · Escape leaves it", 1+len(w.picking.points)%3)
	case s.Picking == "saw":
		look = "Click where the saw shall go through, level · Escape leaves it"
	case s.Distance > 0:
		look = "Between the two points: " + unit.Length(s.Distance*s.Settings.Scale, s.View.Units) + " · type what it truly is in the Piece card"
	case s.Picking == "measure":
		look = fmt.Sprintf("Click point %d of 2 · Escape leaves it", 1+len(w.picking.points)%2)
	case w.brushing():
		look = "Chalk: " + s.View.Brush.Kind.String() + " · drag on the piece · Escape puts it down"
	case w.turning():
		look = "Drag to turn the piece under the stack · shift-drag moves the view"
	case s.View.CutAway:
		look += fmt.Sprintf(" · cut away above layer %d", s.Layer)
	}
	if s.View.Lift > 0 {
		look += " · lifted " + unit.Length(s.View.Lift, s.View.Units)
	}
	if b := w.steering.pointed; b != nil && w.folder.shows(w.compass.Picture) {
		look = "Finished piece as it would stand · a click on the map takes it"
	}
	w.look.caption.Say(look)
	w.stick.caption.Say("Story stick")
}
