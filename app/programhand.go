package app

import (
	"time"

	"fyne.io/fyne/v2"

	"grainstack/app/files"
	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/app/view"
	"grainstack/app/work"
	"grainstack/slicing/proof"
	"grainstack/slicing/unit"
)

// A programHand is what the maker does with the machine's programs on their sheet.
type programHand struct {
	*core
	on    *views
	tasks *tasks
	from  func() (files.Work, error) // what programs are made of
	seen  func() bool                // the sheet is in sight
	clock clock
	last  time.Time // that was played up to
	due   bool      // a beat is on its way
}

// A clock is what playing goes by.
type clock struct {
	now   func() time.Time
	later func(time.Duration, func())
}

func wallClock() clock {
	return clock{time.Now, func(d time.Duration, f func()) { time.AfterFunc(d, f) }}
}

// beat is how often a picture is asked for while programs are played.
const beat = 50 * time.Millisecond

// workOut begins to work the programs out; a second time it leaves that.
func (h *programHand) workOut() {
	if h.bench.Tasks.Programs.State == task.Working {
		h.tasks.programs.Drop()
		h.changed()
		return
	}
	w, err := h.from()
	if err != nil {
		h.Hint(h.sentence(err))
		return
	}
	work.WorkOut(h.bench, h.tasks.programs, w)
	h.front(state.ProgramsSheet)
	h.changed()
}

// programsCame takes the programs of the panels so far, programsMade all of them.
func (h *programHand) programsCame(_ work.ProgramsAsk, all []*proof.Batch) {
	h.bench.Programs.Take(all)
}

func (h *programHand) programsMade(_ work.ProgramsAsk, all []*proof.Batch, err error) {
	if err != nil {
		h.Hint(h.bench.Programs.Why())
		return
	}
	h.bench.Programs.Take(all)
	refused := 0
	for _, b := range all {
		if !b.Refused.None() {
			refused++
		}
	}
	h.trace.line("what=programs panels=%d refused=%d", len(all), refused)
}

// carved takes a board that was carved to be looked at.
func (h *programHand) carved(b *proof.Batch, c *proof.Course, err error) {
	if err == nil {
		h.bench.Programs.Course, h.bench.Programs.Carved = c, b
	}
}

// with does something to what is looked at, by hand.
func (h *programHand) with(do func(*state.Programs)) {
	do(&h.bench.Programs)
	h.changed()
}

// play plays the programs, from the beginning where they are at their end, or stops.
func (h *programHand) play() {
	p := &h.bench.Programs
	c := p.Running()
	switch {
	case c == nil:
		return
	case p.Playing:
		p.Playing = false
	default:
		if p.Minute >= c.Minutes() {
			p.GoTo(0)
		}
		p.Playing, h.last = true, h.clock.now()
		h.next()
	}
	h.changed()
}

// next has the next beat come.
func (h *programHand) next() {
	if !h.due {
		h.due = true
		h.clock.later(beat, func() { h.post(h.beat) })
	}
}

// beat plays on to now.
func (h *programHand) beat() {
	h.due = false
	p := &h.bench.Programs
	if !p.Playing {
		return
	}
	now := h.clock.now()
	p.Advance(now.Sub(h.last).Seconds())
	h.last = now
	if p.Playing {
		h.next()
	}
	h.changed()
}

// still stops playing once the sheet is out of sight.
func (h *programHand) still() {
	if p := &h.bench.Programs; p.Playing && !h.seen() {
		p.Playing = false
	}
}

// keyPrograms takes the keys of the sheet.
func (h *programHand) keyPrograms(k fyne.KeyName) {
	p := &h.bench.Programs
	c := p.Running()
	if c == nil {
		h.key(k)
		return
	}
	switch k {
	case fyne.KeyLeft:
		h.with(func(p *state.Programs) { p.GoTo(p.Minute - 1) })
	case fyne.KeyRight:
		h.with(func(p *state.Programs) { p.GoTo(p.Minute + 1) })
	case fyne.KeyPageUp:
		h.with(func(p *state.Programs) { p.ToProgram(c.At(p.Minute).Program - 1) })
	case fyne.KeyPageDown:
		h.with(func(p *state.Programs) { p.ToProgram(c.At(p.Minute).Program + 1) })
	case fyne.KeyReturn, fyne.KeyEnter:
		if p.Faults() > 0 {
			h.nextFault()
			return
		}
		h.key(k)
	default:
		h.key(k)
	}
}

// clickPrograms goes to the fault under the hand.
func (h *programHand) clickPrograms(at fyne.Position) {
	if n := h.on.programs.FaultAt(at); n > 0 {
		h.with(func(p *state.Programs) { p.ToFault(n) })
	}
}

// nextFault goes to the fault after the one that is picked, round all of the panel.
func (h *programHand) nextFault() {
	if n := h.bench.Programs.Faults(); n > 0 {
		h.with(func(p *state.Programs) { p.ToFault(p.Fault%n + 1) })
	}
}

// line goes so many lines on, or back.
func (h *programHand) line(by int) {
	h.with(func(p *state.Programs) { p.GoTo(p.Running().Stepped(p.Minute, by)) })
}

// pointPrograms says where on the panel the pointer is.
func (h *programHand) pointPrograms(at fyne.Position, here bool) {
	words := ""
	if here {
		words = "Space plays and stops · arrow keys go by minutes, square brackets by lines, the page keys by programs"
		if p, ok := h.on.programs.PanelAt(at); ok {
			words = unit.Length(p.X, h.bench.View.Units) + ", " + unit.Length(p.Y, h.bench.View.Units) + " · " + words
		}
	}
	h.Hint(words)
}

// programActions are what buttons and rules of the sheet do.
func (h *programHand) programActions() view.ProgramActions {
	return view.ProgramActions{
		WorkOut: h.workOut, Play: h.play,
		Panel:   func(i int) { h.with(func(p *state.Programs) { p.TurnTo(i) }) },
		Program: func(i int) { h.with(func(p *state.Programs) { p.ToProgram(i) }) },
		Minute:  func(m float64) { h.with(func(p *state.Programs) { p.GoTo(m) }) },
		Speed:   func(n int) { h.with(func(p *state.Programs) { p.Speed = n }) },
		Fault:   h.nextFault,
	}
}

// programCommands are those of the sheet.
func (h *programHand) programCommands() []command {
	runs := func() bool {
		return h.bench.Screen.Sheet == state.ProgramsSheet && h.bench.Programs.Running() != nil
	}
	return []command{
		{name: "programs", menu: "Change", words: "Work the machine's programs out", enabled: func() bool { return h.bench.Model != nil }, do: h.workOut},
		{name: "play", menu: "View", words: "Play the programs, or stop", key: fyne.KeySpace, enabled: runs, do: h.play},
		{name: "line back", menu: "View", words: "A line of the program back", key: fyne.KeyLeftBracket, enabled: runs, do: func() { h.line(-1) }},
		{name: "line on", menu: "View", words: "A line of the program on", key: fyne.KeyRightBracket, enabled: runs, do: func() { h.line(1) }},
	}
}
