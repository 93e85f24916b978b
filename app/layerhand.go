package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/edit"
)

// A layerHand is what the hand does on the layer sheet and on the story stick.
type layerHand struct {
	*core
	on    *views
	blank *widget.PopUpMenu // of the picked layer, the last that was opened
}

func (h *layerHand) clickStick(at fyne.Position) {
	if n, ok := h.on.stick.Now.Out.LayerAt(float64(at.Y)); ok {
		h.pick(n)
	}
}

func (h *layerHand) pointSheet(at fyne.Position, here bool) {
	words := ""
	if here {
		words = h.on.sheet.Under(at, h.bench.View.Units)
	}
	h.Hint(words)
}

// takeLine takes a joint line, or an end of it, into the hand.
func (h *layerHand) takeLine(at fyne.Position) bool {
	p, ok := h.on.sheet.ToMM(at)
	if !ok {
		return false
	}
	line, ok := edit.TakeLine(h.bench.Places().SplitsOf(h.bench.Layer()), p, h.on.sheet.Now.Out.PerMM)
	if ok {
		h.on.sheet.Line = line
	}
	return ok
}

// carryLine moves it with the hand.
func (h *layerHand) carryLine(at fyne.Position) {
	if p, ok := h.on.sheet.ToMM(at); ok && h.on.sheet.Line.Held {
		h.on.sheet.Line.Carry(p)
		h.changed()
	}
}

// letLine puts the line where it is, unless it splits nothing.
func (h *layerHand) letLine(moved bool) {
	l := h.on.sheet.Line
	h.on.sheet.Line = edit.Line{}
	switch {
	case !l.Held || !moved:
	case l.Apart():
		h.put("joint line", h.bench.Places().WithSplit(l.Split))
	default:
		h.Hint("The ends of a joint line have to lie apart.")
		h.changed()
	}
}
