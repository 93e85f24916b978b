package steady

import (
	"errors"
	"fmt"
	"os"
	"runtime/debug"
	"sync/atomic"
	"time"
	_ "unsafe" // for the name of the toolkit's flag

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"
)

// New is the toolkit's app, which also brings in the driver whose flag is named below.
func New(id string) fyne.App { return app.NewWithID(id) }

// toolkitRuns is the toolkit's own flag that its loop runs. A panic leaves the loop without lowering it, and then the loop can't
// be entered again. Everything that the toolkit calls (handlers, layouts, painting, posted functions) is called from that loop on
// one goroutine, so this one place guards all of it, where a guard in each handler would miss the toolkit's own.
//
//go:linkname toolkitRuns fyne.io/fyne/v2/internal/driver/glfw.running
var toolkitRuns atomic.Bool

// mostSlips within slipSpan are too many: then the window can't be shown any more, and the loop is left for good.
const (
	mostSlips = 6
	slipSpan  = 3 * time.Second
)

// errSlips is what too many panics come to.
var errSlips = errors.New("the program made the same mistake over and over, and had to end")

// Run runs an app and returns when its windows have been closed. A panic is written to standard error and told to slipped, which is
// called on the window's goroutine, and the window goes on. Panics that come over and over end it with an error.
func Run(a fyne.App, slipped func(fault any)) error {
	run := a.Run
	var lately []time.Time
	for {
		fault := try(run)
		if fault == nil {
			return nil
		}
		if lately = append(lately, time.Now()); len(lately) > mostSlips {
			lately = lately[1:]
			if time.Since(lately[0]) < slipSpan {
				return errSlips
			}
		}
		fyne.Do(func() { slipped(fault) }) // waits in the loop's queue until it is entered again
		toolkitRuns.Store(false)
		run = a.Driver().Run
	}
}

// try runs a function and gives what it panicked with, nil where it did not.
func try(run func()) (fault any) {
	defer func() {
		if fault = recover(); fault != nil {
			fmt.Fprintf(os.Stderr, "%v\n%s", fault, debug.Stack())
		}
	}()
	run()
	return nil
}
