package state

import (
	"math"

	"grainstack/app/task"
	"grainstack/slicing/proof"
	"grainstack/slicing/workshop"
)

// ProgramsSheet is the name of the sheet on which programs are seen at work.
const ProgramsSheet = "Runs"

// Programs are what is known of the machine's programs: those of each panel that has been worked out, and the minute that is looked
// at.
type Programs struct {
	shop *Shop

	Made    []*proof.Batch
	Of      ShopKey            // that they are of
	Shop    *workshop.Workshop // the same
	Course  *proof.Course      // of one of them
	Carved  *proof.Batch       // that one
	Panel   int                // that is looked at: its place in Made
	Minute  float64            // that is looked at, from the start of the panel's first program
	Speed   int                // how many times as fast as the machine it plays
	Playing bool
	Fault   int // that is picked, from 1; 0 for none
}

// UsualSpeed is how many times as fast as the machine programs are played at first.
const UsualSpeed = 60

// Key is the key of the present programs.
func (p *Programs) Key() ShopKey { return p.shop.Key() }

// Stale reports whether they are of other settings.
func (p *Programs) Stale() bool { return p.Of != p.Key() }

// Begin forgets what there is: programs of a workshop are about to be worked out.
func (p *Programs) Begin(of ShopKey, v *workshop.Workshop) {
	*p = Programs{shop: p.shop, Of: of, Shop: v, Speed: p.Speed, Panel: p.Panel}
}

// Take takes the programs of the panels that have been worked out.
func (p *Programs) Take(all []*proof.Batch) { p.Made = all }

// Shown are the programs of the panel that is looked at, nil where there are none yet.
func (p *Programs) Shown() *proof.Batch {
	if p.Panel < 0 || p.Panel >= len(p.Made) {
		return nil
	}
	return p.Made[p.Panel]
}

// Running is the course of the panel that is looked at, nil while its board has not been carved.
func (p *Programs) Running() *proof.Course {
	if b := p.Shown(); b != nil && b == p.Carved {
		return p.Course
	}
	return nil
}

// TurnTo looks at another panel, from its beginning.
func (p *Programs) TurnTo(panel int) {
	if panel = max(0, min(panel, len(p.Made)-1)); panel != p.Panel {
		p.Panel, p.Minute, p.Fault, p.Playing = panel, 0, 0, false
	}
}

// GoTo looks at a minute, as near as there is one.
func (p *Programs) GoTo(minute float64) {
	if c := p.Running(); c != nil && !math.IsNaN(minute) {
		p.Minute, p.Fault = max(0, min(minute, c.Minutes())), 0
	}
}

// Advance plays on for so many seconds of the maker's time; it stops at the end.
func (p *Programs) Advance(seconds float64) {
	c := p.Running()
	if c == nil {
		p.Playing = false
		return
	}
	p.GoTo(p.Minute + seconds/60*float64(p.Speed))
	p.Playing = p.Minute < c.Minutes()
}

// ToProgram looks at the beginning of a program of the panel.
func (p *Programs) ToProgram(number int) {
	c, b := p.Running(), p.Shown()
	if c == nil || number < 0 || number >= len(b.Programs) {
		return
	}
	begins, _ := c.Span(number)
	p.GoTo(begins)
}

// ToFault picks a fault of the panel, from 1, and goes to where it happens.
func (p *Programs) ToFault(number int) {
	c, b := p.Running(), p.Shown()
	if c == nil || b.Proof == nil || number < 1 || number > len(b.Proof.Faults) {
		return
	}
	f := b.Proof.Faults[number-1]
	p.Playing = false
	if minute, ok := c.When(f.File, f.Line); ok {
		p.GoTo(math.Nextafter(minute, 0)) // with the line that does it
	}
	p.Fault = number
}

// Faults is how many faults the proof of the panel has found.
func (p *Programs) Faults() int {
	if b := p.Shown(); b != nil && b.Proof != nil {
		return len(b.Proof.Faults)
	}
	return 0
}

// Why says why there is nothing to look at yet, "" where there is.
func (p *Programs) Why() string {
	at, course := p.shop.bench.Tasks.Programs, p.shop.bench.Tasks.Course
	b := p.Shown()
	switch {
	case p.Running() != nil:
		return ""
	case b != nil && len(b.Programs) == 0:
		return b.Refused.In(p.shop.bench.View.Units)
	case b != nil && course.Of(b) == task.Failed:
		return "The work can't be shown: " + course.Fault
	case b != nil && course.Of(b) == task.Off:
		return "Carving the board was called off. Press \"go on\" at the foot of the window."
	case b != nil:
		return "The board is being carved to be looked at …"
	case at.State == task.Working:
		return "Programs are being worked out: paths laid, written, read back and proven …"
	case at.State == task.Off:
		return "Working the programs out was called off. Press \"go on\" at the foot of the window, or Work out to begin anew."
	case at.State == task.Failed && at.Key == p.Key():
		return "Programs can't be worked out: " + at.Fault
	}
	return "What will the machine do? Press Work out: the programs of all panels are laid, written, read back and proven on a model of the board, which takes a minute or more. Then watch them carve."
}
