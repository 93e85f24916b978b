package app

import (
	"context"
	"errors"
	"image"
	"path/filepath"

	"grainstack/app/files"
	"grainstack/app/picture"
	"grainstack/render/still"
)

// A stillAsk is a still, or a turntable, to be drawn and written to a file.
type stillAsk struct {
	lookAsk
	path  string
	turns bool
}

// stillDialog asks where to write a still or a turntable.
func (w *window) stillDialog(turns bool) {
	ending, title := ".png", "Still: where to? A PNG of 3840 by 2160"
	if turns {
		ending, title = ".gif", "Turntable: where to? A GIF of 720 by 720"
	}
	w.chooseWhere(title, w.model.piece.Name+ending, func(path string) {
		w.askStill(path, turns)
	}, func() {})
}

// askStill begins a still or a turntable of the finished piece as it is seen now, in a loop of its own.
func (w *window) askStill(path string, turns bool) {
	a := stillAsk{w.sightNow(still.UsualSize()), path, turns}
	if turns {
		a.sight.Size, _, _ = still.UsualTurn()
	}
	a.sight.CutAway, a.sight.Lift, a.show = false, 0, false
	w.taking = path
	w.margin.work("drawing "+filepath.Base(path), 0)
	w.loops.take.Ask(a)
}

// takeStill is the worker of the take loop.
func (w *window) takeStill(ctx context.Context, a stillAsk) (struct{}, error) {
	p := painter{workers: workers{w.letters}}
	view, dress, _ := p.scene(a.lookAsk)
	if a.seen {
		dress.Seen = a.model.seenOn(a.model.full)
	}
	s := still.Scene{Body: a.model.full, View: view, Dress: dress}
	tell := w.progress(ctx, "drawing "+filepath.Base(a.path))
	progress := func(done float64) { tell("", done) }
	if a.turns {
		_, frames, seconds := still.UsualTurn()
		return struct{}{}, files.SaveTurntable(ctx, s, a.path, frames, seconds, progress)
	}
	return struct{}{}, files.SaveStill(ctx, s, a.path, progress)
}

// stillTaken says so, or why not.
func (w *window) stillTaken(a stillAsk, _ struct{}, err error) {
	if w.taking == a.path {
		w.taking = ""
		w.calm()
	}
	switch {
	case err == nil:
		w.margin.hint("Saved: " + a.path)
	case !errors.Is(err, context.Canceled):
		w.tellSaved(err)
	}
}

// leaveStill calls off what is being drawn for a file.
func (w *window) leaveStill() {
	w.loops.take.Drop()
	w.taking = ""
}

// sightNow is what a picture of the finished piece, so many pixels large, needs as everything is now, but for marks.
func (w *window) sightNow(size image.Point) lookAsk {
	v := &w.session.View
	return lookAsk{
		asking: w.asked, model: w.model, standing: w.standing, settings: w.session.Settings(),
		sight: picture.Sight{
			Camera: w.camera, Size: size, CutAway: v.CutAway, Lift: v.Lift, Layer: w.session.Layer(), Light: v.Light, Ground: v.Ground,
		},
		show: w.chosen || v.CutAway, seen: v.Seen, dark: w.dark(),
	}
}
