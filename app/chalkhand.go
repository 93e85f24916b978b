package app

import (
	"fyne.io/fyne/v2"

	"grainstack/app/edit"
	"grainstack/app/session"
	"grainstack/app/state"
	"grainstack/app/view"
	"grainstack/slicing/chalk"
	"grainstack/slicing/job"
)

// A chalkHand marks the piece with chalk.
type chalkHand struct {
	*core
	piece *view.Look
	cards *cards
}

// brushing reports whether dragging on the piece marks it.
func (h *chalkHand) brushing() bool { return h.bench.View.Brush.On && h.bench.Model != nil }

// takeChalk takes the brush up, or puts it down.
func (h *chalkHand) takeChalk() {
	on := !h.bench.View.Brush.On
	if on {
		h.bench.Selected.Picking = state.Picking{}
		h.cards.show(h.cards.chalk)
		h.piece.Focus()
	} else {
		h.piece.Stroke.Drop()
		h.showBrush(fyne.Position{}, false)
	}
	h.Look(func(v *session.View) { v.Brush.On = on })
}

// brush is a movement of the hand over the piece; it reports false where that is to turn the view.
func (h *chalkHand) brush(from, at fyne.Position) bool {
	l := h.piece
	if !h.brushing() || l.Stroke.Turns {
		return false
	}
	if !l.Stroke.Drawing() {
		h.beginStroke(from)
	}
	l.Stroke.Sweep(l.At(from), l.At(at), max(1, h.brushPixels()/2))
	h.showBrush(at, true)
	h.touched()
	return true
}

// dab marks the place of a click.
func (h *chalkHand) dab(at fyne.Position) {
	if h.piece.Stroke.Drawing() {
		return
	}
	h.beginStroke(at)
	h.piece.Stroke.Up = true
	h.touched()
}

func (h *chalkHand) beginStroke(at fyne.Position) {
	b, s, l := h.bench.View.Brush, h.bench.Settings(), h.piece
	l.Stroke.Begin(chalk.Stroke{Kind: b.Kind, Radius: b.Radius / s.Scale, Sight: s.Turn.Inverse().Apply(l.Camera.Ahead())}, l.At(at))
}

// touched asks for the picture with the stroke as it is now.
func (h *chalkHand) touched() {
	h.piece.Stroke.Moves++
	h.changed()
}

// liftBrush ends a stroke, or the turning that a drag beside the piece was.
func (h *chalkHand) liftBrush() (wasStroke bool) {
	s := &h.piece.Stroke
	if !s.Drawing() {
		s.Turns = false
		return false
	}
	s.Up = true
	h.endStroke()
	return true
}

// endStroke puts a stroke that is whole into the settings.
func (h *chalkHand) endStroke() {
	kind, done, ok := h.piece.Stroke.Whole()
	if !ok {
		return
	}
	marks, err := edit.WithStrokes(h.bench.Settings().Chalk, done)
	if err != nil {
		h.Hint(h.sentence(err))
	}
	h.Do("chalk: "+kind.String(), func(s job.Settings) job.Settings {
		s.Chalk = marks
		return s
	})
	h.Rest()
	h.changed()
}

// brushPixels is the brush's radius on the picture.
func (h *chalkHand) brushPixels() float64 { return h.piece.Brush(h.bench.View.Brush.Radius) }

// showBrush rings what the brush would mark.
func (h *chalkHand) showBrush(at fyne.Position, here bool) {
	l := h.piece
	if !here || !h.brushing() {
		l.Ring(fyne.Position{}, 0)
		return
	}
	l.Ring(at, float32(h.brushPixels()/l.Scale()))
}
