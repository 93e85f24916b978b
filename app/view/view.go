package view

import (
	"context"
	"errors"
	"time"

	"fyne.io/fyne/v2"

	"grainstack/app/latest"
	"grainstack/app/pane"
	"grainstack/app/state"
	"grainstack/render/frame"
)

// A Desk is where views hand in, on the window's goroutine.
type Desk struct {
	Post    func(func())
	Came    func()      // a picture has been drawn
	Changed func()      // the hand has zoomed or moved one
	Failed  func(error) // something can't be drawn
}

// A Draw draws a picture, away from the window's goroutine: it sees what it is asked for and what it drew last.
type Draw[Ask, Out any] func(context.Context, Ask) (*frame.Frame, Out, error)

// Shown is what is on the screen: what was asked for, and what came with its frame.
type Shown[Ask, Out any] struct {
	state.Asking
	Ask  Ask
	Out  Out
	Fine bool
}

// How is a word for whether the picture is the quick or the fine one.
func (s Shown[Ask, Out]) How() string {
	if s.Fine {
		return "fine"
	}
	return "quick"
}

// fineAfter is how long the hand has to rest before the fine picture is begun.
const fineAfter = 140 * time.Millisecond

// A View shows pictures of one kind, each the newest that there is. While it waits for the next, the last stays.
type View[Key comparable, Ask, Out any] struct {
	*pane.Picture
	Whole   fyne.CanvasObject // the picture with what stands round it
	Now     Shown[Ask, Out]
	Accepts func(Ask) bool        // whether a picture still belongs on the screen, nil for all
	Came    func(Shown[Ask, Out]) // a frame has been put on the screen
	Painted func(Shown[Ask, Out]) // and it has been painted
	Lost    func(Ask)             // it could not be drawn

	desk        Desk
	drawers     []func() Draw[Ask, Out]
	loops       []*latest.Loop[request[Ask], drawn[Out]] // the quick one and, if there is one, the fine one
	asked       Key
	serial      int // of the newest request
	shown       int // of the frame on the screen
	frame       *frame.Frame
	justPainted bool
}

type request[Ask any] struct {
	state.Asking
	ask    Ask
	serial int
	fine   bool
}

type drawn[Out any] struct {
	frame *frame.Frame
	out   Out
}

// newView is a view in a pane; quick makes what draws its pictures and fine, unless it is nil, what draws those for a resting
// hand. Each keeps what it drew last.
func newView[Key comparable, Ask, Out any](d Desk, p *pane.Picture, quick, fine func() Draw[Ask, Out]) *View[Key, Ask, Out] {
	v := &View[Key, Ask, Out]{Picture: p, desk: d, drawers: []func() Draw[Ask, Out]{quick}}
	if fine != nil {
		v.drawers = append(v.drawers, fine)
	}
	p.Painted = func() {
		if v.justPainted && v.Painted != nil {
			v.justPainted = false
			v.Painted(v.Now)
		}
	}
	v.begin()
	return v
}

func (v *View[Key, Ask, Out]) begin() {
	v.loops = nil
	for i, drawer := range v.drawers {
		manner, draw := latest.Finish, drawer()
		if i > 0 {
			manner = latest.Cancel
		}
		run := func(ctx context.Context, r request[Ask]) (drawn[Out], error) {
			f, out, err := draw(ctx, r.ask)
			return drawn[Out]{f, out}, err
		}
		v.loops = append(v.loops, latest.New(manner, v.desk.Post, run, v.came))
	}
}

// want asks for the picture of a key, unless that is the one that was asked for last; fine says whether a fine one is to follow.
// It reports whether it was asked for.
func (v *View[Key, Ask, Out]) want(a state.Asking, key Key, ask Ask, fine bool) bool {
	if v.serial > 0 && key == v.asked {
		return false
	}
	v.asked = key
	v.serial++
	r := request[Ask]{a, ask, v.serial, false}
	v.loops[0].Ask(r)
	for _, l := range v.loops[1:] {
		if r.fine = true; fine {
			l.AskAfter(fineAfter, r)
		} else {
			l.Drop() // it would lack what has not been found yet
		}
	}
	return true
}

// again has the picture asked for once more, whatever it was of.
func (v *View[Key, Ask, Out]) again() {
	var none Key
	v.asked = none
}

// Renew lets go of all that was asked for and drawn, but for the frame on the screen.
func (v *View[Key, Ask, Out]) Renew() {
	v.Stop()
	v.again()
	v.Now = Shown[Ask, Out]{}
	v.justPainted = false
	v.begin()
}

// came puts a frame on the screen unless a newer one is there. The frame before it goes back to its pool.
func (v *View[Key, Ask, Out]) came(r request[Ask], d drawn[Out], err error) {
	if err != nil {
		if errors.Is(err, context.Canceled) {
			return
		}
		if v.Lost != nil && !r.fine {
			v.Lost(r.ask)
		}
		v.desk.Failed(err)
		return
	}
	if r.serial < v.shown || r.serial == v.shown && !r.fine || v.Accepts != nil && !v.Accepts(r.ask) {
		d.frame.Release()
		v.desk.Came()
		return
	}
	last := v.frame
	v.frame, v.shown = d.frame, r.serial
	v.Now = Shown[Ask, Out]{r.Asking, r.ask, d.out, r.fine}
	v.Put(d.frame.Image)
	v.justPainted = true
	last.Release()
	if v.Came != nil {
		v.Came(v.Now)
	}
	v.desk.Came()
}

// Parts are the picture, and it with what stands round it.
func (v *View[Key, Ask, Out]) Parts() (*pane.Picture, fyne.CanvasObject) { return v.Picture, v.Whole }

// Serial counts the pictures that were asked for.
func (v *View[Key, Ask, Out]) Serial() int { return v.serial }

// Drawing reports whether a quick picture is on its way, Busy whether any is.
func (v *View[Key, Ask, Out]) Drawing() bool { return v.loops[0].Busy() }

// Busy reports whether a picture is being drawn.
func (v *View[Key, Ask, Out]) Busy() bool {
	for _, l := range v.loops {
		if l.Busy() {
			return true
		}
	}
	return false
}

// Stop ends the drawing for good.
func (v *View[Key, Ask, Out]) Stop() {
	for _, l := range v.loops {
		l.Stop()
	}
}

// Wait returns when nothing is left to draw.
func (v *View[Key, Ask, Out]) Wait() {
	for _, l := range v.loops {
		l.Wait()
	}
}
