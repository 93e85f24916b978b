package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"

	"grainstack/app/paper"
	"grainstack/app/session"
	"grainstack/app/state"
	"grainstack/render/draw"
	"grainstack/slicing/job"
)

// A core is what every part of the window works with: the bench, the one way to change it, and where words are said. Everything
// in it belongs to the window's goroutine.
type core struct {
	o       Options
	app     fyne.App
	win     fyne.Window
	theme   *paper.Theme
	letters *draw.Letters
	trace   *tracer
	poster
	bench  *state.Bench
	margin *margin
	change change
	follow func()               // follows all that has changed; see window
	run    func(command string) // runs a command of the table by its name
	key    func(fyne.KeyName)   // runs the command of a key without a modifier
	front  func(sheet string)   // brings a sheet to the front
	pages  []dialog.Dialog      // over the bench, the last on top
}

// A change is what has not been followed yet.
type change struct {
	asked     state.Asking // of the newest by hand
	following bool         // one was followed and posted functions have not been run since
	behind    bool         // and another has come
}

// changed is what everything that the hand does ends in: what has changed is followed, and shown.
func (c *core) changed() {
	if c.change.behind {
		c.change.asked.Rev = c.bench.Revision() // asked when the oldest of them was
	} else {
		c.change.asked = c.bench.Now()
	}
	c.refresh()
}

// refresh follows whatever has changed: the first change at once, so that it is on the next frame, and those that come before the
// posted functions are next run together, since the toolkit hands on every movement of the mouse.
func (c *core) refresh() {
	if c.change.following {
		c.change.behind = true
		return
	}
	c.change.following, c.change.behind = true, false
	c.post(c.caughtUp)
	c.follow()
}

// caughtUp follows what has come since the last follow, if anything has.
func (c *core) caughtUp() {
	c.change.following = false
	if c.change.behind {
		c.refresh()
	}
}

// soon refreshes when the posted functions are run: while the toolkit lays widgets out nothing may be shown.
func (c *core) soon() {
	if !c.change.following {
		c.change.following = true
		c.post(c.caughtUp)
	}
	c.change.behind = true
}

// Do changes the settings. It is how cards write; see card.Bench.
func (c *core) Do(name string, with func(job.Settings) job.Settings) {
	if c.bench.Do(name, with(c.bench.Settings())) {
		c.changed()
	}
}

// Rest ends a gesture.
func (c *core) Rest() {
	c.bench.Rest()
	c.refresh()
}

// put puts something by hand: parts, tabs, pins or joint lines.
func (c *core) put(name string, p job.Places) {
	if c.bench.Session.Put(name, p) {
		c.bench.Rest()
		c.changed()
	}
}

// Look changes how the pictures are looked at.
func (c *core) Look(with func(*session.View)) {
	was := c.bench.View
	with(&c.bench.View)
	if c.bench.View == was {
		return
	}
	if was.Units != c.bench.View.Units {
		c.app.Preferences().SetInt(prefUnits, int(c.bench.View.Units))
	}
	c.changed()
}

// pick chooses a layer.
func (c *core) pick(layer int) {
	b := c.bench
	if b.Figures == nil || !b.Pick(layer, len(b.Figures.Layers)) {
		return
	}
	b.Selected.Chosen = true
	c.changed()
}

// Run runs a command by its name.
func (c *core) Run(command string) { c.run(command) }

// Hint says a word in the margin.
func (c *core) Hint(words string) { c.margin.hint(words) }

// hinting is what a pane says of itself while the pointer is over it.
func (c *core) hinting(words string) func(fyne.Position, bool) {
	return func(_ fyne.Position, here bool) {
		if !here {
			c.Hint("")
			return
		}
		c.Hint(words)
	}
}

// fail says in the margin why there are no figures; what is on the screen stays.
func (c *core) fail(err error) {
	c.bench.Fail(c.bench.FigureKey(), err)
	c.Hint(err.Error())
	c.refresh()
}

// relay lays the window out anew, unless it is closed.
func (c *core) relay() {
	if content := c.win.Content(); content != nil {
		content.Refresh()
	}
}

func (c *core) dark() bool { return c.theme.IsDark(c.app.Settings().ThemeVariant()) }
