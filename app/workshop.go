package app

import (
	"context"
	"errors"
	"slices"
	"time"

	"grainstack/app/task"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// A laying is what the window knows of the workshop: parts on panels, joints and the glue-up.
type laying struct {
	last  *job.Workshop // the newest, maybe of other settings or places
	of    shopKey       // that it is of
	asked shopKey       // that was asked for last
	busy  bool
	left  bool   // what was asked for last was called off by hand
	past  []laid // a few of before, for undo and redo
	told  figuresTold
	fault string // why there is none for what was asked for last, "" otherwise
}

// A laid is a workshop and what it is of.
type laid struct {
	key  shopKey
	shop *job.Workshop
}

// mostPast is how many workshops are kept for undo and redo; each holds a few MB.
const mostPast = 6

// A figuresTold is figures with the workshop's cautions, and what they were put together from.
type figuresTold struct {
	figures, with *job.Figures
	shop          *job.Workshop
}

// A shopKey is all that a workshop depends on.
type shopKey struct {
	standing *job.Standing
	settings job.Settings
	places   *job.Places
	stock    *stock.Catalogue
}

// A shopAsk asks for the workshop of settled figures.
type shopAsk struct {
	asking
	key     shopKey
	figures *job.Figures
	last    *job.Workshop // of the same settings, nil where there is none: other places may be all that is new
}

// shopAfter is how long the settings have to rest before parts are laid out: that keeps both cores busy for a second or two.
const shopAfter = 200 * time.Millisecond

// workOut is the worker of the workshop's loop.
func (w *window) workOut(ctx context.Context, a shopAsk) (*job.Workshop, error) {
	if a.last != nil {
		if v, ok := a.last.Relaid(ctx, *a.key.places, a.stock); ok {
			return v, nil
		}
	} else if err := rest(ctx, shopAfter); err != nil {
		return nil, err
	}
	early := func(v *job.Workshop) {
		w.post(func() {
			if ctx.Err() == nil {
				w.takeWorkshop(a, v)
			}
		})
	}
	return job.NewWorkshop(ctx, a.key.standing, a.figures, *a.key.places, a.stock, job.Watch{Tell: w.progress(ctx, "laying the parts out"), Early: early})
}

// shopKey is the key of the present workshop.
func (w *window) shopKey() shopKey {
	return shopKey{w.standing, w.session.Settings(), w.session.Places(), w.shelf.now}
}

// askWorkshop asks for the workshop of the present settings and places, once their figures are settled. What is there or on
// its way is not asked for again, nor is what was called off, unless a sheet that shows it is in front.
func (w *window) askWorkshop() {
	f := w.figures
	if f == nil || w.stale() || !f.Settled && f.Withheld == "" || !f.CoreKnown && w.loops.hollow.State() == task.Working {
		return
	}
	key, l := w.shopKey(), &w.laying
	if l.last != nil && l.of == key && l.last.Improved || l.asked == key && (l.busy || l.fault != "" || l.left && !w.folder.now().shop) {
		return
	}
	a := shopAsk{asking: w.now(), key: key, figures: f}
	for _, p := range l.past {
		if p.key == key {
			l.asked = key
			w.takeWorkshop(a, p.shop)
			return
		}
	}
	if l.last != nil && l.of.standing == key.standing && l.of.settings == key.settings && l.last.Withheld == "" {
		a.last = l.last
	}
	l.asked, l.busy, l.left, l.fault = key, true, false, ""
	w.loops.shop.Ask(a)
}

// leaveWorkshop calls off what is being laid out.
func (w *window) leaveWorkshop() {
	if w.hand.let {
		w.hand = hand{}
	}
	w.loops.shop.Drop()
	if w.laying.busy {
		w.laying.busy = false
		w.calm()
	}
}

// workedOut takes a workshop.
func (w *window) workedOut(a shopAsk, v *job.Workshop, err error) {
	if errors.Is(err, context.Canceled) {
		return
	}
	w.laying.busy = false
	w.calm()
	if err != nil {
		w.laying.fault = err.Error()
		w.margin.hint("The parts could not be laid out: " + err.Error())
		w.askSheet()
		w.showAll()
		return
	}
	w.takeWorkshop(a, v)
}

// takeWorkshop shows a workshop, which may be only the first layout found.
func (w *window) takeWorkshop(a shopAsk, v *job.Workshop) {
	l := &w.laying
	l.last, l.of = v, a.key
	if v.Improved {
		l.keep(laid{a.key, v})
	}
	if w.panels.at > v.Panels() && !w.hand.holds() {
		w.panels.at = max(1, v.Panels())
		w.turnToLayer()
	}
	if w.hand.let || w.hand.shop != v {
		adding := w.hand.adding
		w.hand = hand{adding: adding}
	}
	saw := v.BoardCount()
	w.trace.line("what=workshop rev=%d panels=%d parts=%d too_large=%d boards=%d joints=%d cautions=%d improved=%v", a.rev, v.Panels(), len(v.Parts),
		len(v.Layout.TooLarge), saw, len(v.Joints), len(v.Cautions), v.Improved)
	if p := w.making.page; p != nil && !w.making.busy {
		p.refresh()
	}
	w.asked = a.asking
	w.asked.rev = w.session.Revision() // a later step may have led to the same settings
	if !w.askSheet() {
		w.showAll()
		return
	}
	w.owed = true
}

// keep keeps a workshop, of each key the newest.
func (l *laying) keep(one laid) {
	all := slices.DeleteFunc(slices.Clone(l.past), func(p laid) bool { return p.key == one.key || p.key.standing != one.key.standing })
	all = append(all, one)
	l.past = all[max(0, len(all)-mostPast):]
}

// figuresWithShop are the figures with what the workshop has to say among what needs a look.
func (w *window) figuresWithShop() *job.Figures {
	v, now := w.workshop()
	f := w.figures
	if f == nil || !now {
		return f
	}
	t := &w.laying.told
	if t.figures != f || t.shop != v {
		with := *f
		if v.Withheld == "" {
			with.Totals.HandsOnMin = v.HandsOnMin(w.shelf.now)
		}
		with.Cautions = slices.Clone(f.Cautions)
		for _, c := range v.Cautions {
			if !slices.ContainsFunc(f.Cautions, func(o job.Caution) bool { return o.Text == c.Text }) {
				with.Cautions = append(with.Cautions, c)
			}
		}
		*t = figuresTold{f, &with, v}
	}
	return t.with
}

// workshop is the newest workshop; now says that it is of the present settings and places.
func (w *window) workshop() (v *job.Workshop, now bool) {
	l := &w.laying
	return l.last, l.last != nil && l.of == w.shopKey() && !w.stale()
}

// put puts something by hand: parts, tabs, pins or joint lines.
func (w *window) put(name string, p job.Places) {
	if w.session.Put(name, p) {
		w.session.Rest()
		w.keepWork()
		w.placed()
	}
}

// placed follows a change of places alone: the figures stay, the workshop is worked out anew.
func (w *window) placed() {
	w.asked = w.now()
	held := w.hand // what was let go is shown so until the workshop has followed
	w.leaveWorkshop()
	w.hand = held
	w.askWorkshop()
	w.askSheet()
	w.showAll()
}

// layingOff reports whether laying the parts out was called off as things are now.
func (w *window) layingOff() bool { return w.laying.left && w.laying.asked == w.shopKey() }
