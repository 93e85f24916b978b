package app

import (
	"path/filepath"
	"strings"

	"grainstack/app/card"
	"grainstack/app/task"
)

// A stoppable is long work that Escape calls off: then the line at the foot says so until it is gone on with.
type stoppable struct {
	words   string
	off     bool // it was called off
	callOff func()
	goOn    func()
}

// stoppables are all such work, in the order in which it is done.
func (w *window) stoppables() []stoppable {
	open := "opening the piece"
	if path := w.loops.open.Asked().path; path != "" {
		open = "opening " + filepath.Base(path)
	}
	return []stoppable{
		stopping(open, w.loops.open),
		stopping("looking the scan over", w.loops.survey),
		{"mending", w.loops.mend.State() == task.Off, func() {
			if w.loops.mend.CallOff() {
				w.mending.fault = "Mending was called off: the piece is as it was before."
			}
		}, func() {
			w.loops.mend.GoOn()
			w.mending.fault = ""
		}},
		stopping("the hollow", w.loops.hollow),
		stopping("following the cutters", w.loops.reach),
		{"laying the parts out", w.layingOff(), func() {
			w.laying.left = w.laying.left || w.laying.busy
			w.leaveWorkshop()
		}, func() {
			w.laying.left, w.laying.asked = false, shopKey{}
			w.askWorkshop()
		}},
		{"following the cutters of trials", w.trying.left, w.leaveTrying, func() {
			w.trying.left = false
			w.askTrials()
		}},
	}
}

func stopping[Key comparable, Ask, Out any](words string, t *task.Task[Key, Ask, Out]) stoppable {
	return stoppable{words, t.State() == task.Off, func() { t.CallOff() }, func() { t.GoOn() }}
}

// callOff calls off all that is being worked out.
func (w *window) callOff() {
	mended := w.beingMended()
	for _, one := range w.stoppables() {
		one.callOff()
	}
	w.leaveWays()
	w.leaveSteering()
	w.leaveStill()
	w.calm()
	if mended {
		w.follow() // with the piece as it is
	}
	w.askSheet()
	w.showAll()
}

// resume goes on with all that was called off.
func (w *window) resume() {
	for _, one := range w.stoppables() {
		if one.off {
			one.goOn()
		}
	}
	w.calm()
	w.follow()
	w.askSheet()
	w.showAll()
}

// off is what of the work that cards tell of was called off.
func (w *window) off() card.Off {
	return card.Off{Survey: w.loops.survey.State() == task.Off, Hollow: w.loops.hollow.State() == task.Off,
		Reach: w.loops.reach.State() == task.Off, Shop: w.layingOff()}
}

// wordsOff name what was called off, "" for nothing.
func (w *window) wordsOff() string {
	var all []string
	for _, one := range w.stoppables() {
		if one.off {
			all = append(all, one.words)
		}
	}
	return strings.Join(all, ", ")
}

// calm is when work has come to an end: the line at the foot says nothing, or what was called off.
func (w *window) calm() { w.margin.rest(w.wordsOff()) }
