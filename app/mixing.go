package app

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"grainstack/slicing/job"
)

// keyStick takes both Return keys for the same.
func (h *layerHand) keyStick(k fyne.KeyName) {
	if k == fyne.KeyEnter {
		k = fyne.KeyReturn
	}
	h.key(k)
}

// askBlank picks the layer under the hand on the story stick and asks what it is to be carved from.
func (h *layerHand) askBlank(at fyne.Position) {
	n, ok := h.on.stick.Now.Out.LayerAt(float64(at.Y))
	if !ok {
		return
	}
	h.pick(n)
	h.showBlank(at)
}

// blankOfPicked asks the same for the picked layer, beside it on the story stick.
func (h *layerHand) blankOfPicked() {
	at := h.on.stick.Now.Out.Body.Max
	if n := h.bench.Layer(); h.bench.Figures != nil && n <= len(h.bench.Figures.Layers) {
		at.Y = h.on.stick.Now.Out.Y(h.bench.Figures.Layers[n-1].Top)
	}
	h.showBlank(fyne.NewPos(float32(at.X), float32(at.Y)))
}

// showBlank opens the menu of the picked layer at a place of the story stick.
func (h *layerHand) showBlank(at fyne.Position) {
	if h.bench.Figures == nil || h.bench.Layer() > len(h.bench.Figures.Layers) {
		return
	}
	from := h.app.Driver().AbsolutePositionForObject(h.on.stick.Picture)
	h.blank = widget.NewPopUpMenu(h.blankMenu(), h.win.Canvas())
	h.blank.ShowAtPosition(from.Add(at))
}

// mostListed is how many boards the menu lists: with more it would not fit a small window, and the Board card has them all.
const mostListed = 15

// blankMenu is the menu of the picked layer: its board, its turn, and both as the others have them.
func (h *layerHand) blankMenu() *fyne.Menu {
	n, s := h.bench.Layer(), h.bench.Settings()
	now := s.Mix.Of(n)
	set := func(what string, o job.Other) func() {
		return func() {
			h.Do(fmt.Sprintf("%s of layer %d", what, n), func(s job.Settings) job.Settings {
				s.Mix = s.Mix.With(n, o)
				return s
			})
			h.Rest()
		}
	}
	head := fyne.NewMenuItem(fmt.Sprintf("Layer %d is of", n), nil)
	head.Disabled = true
	items := []*fyne.MenuItem{head}
	usual, _ := s.BoardIn(h.bench.Shelf.Now)
	thick := s.LayerThickness(h.bench.Shelf.Now)
	for _, b := range h.bench.Shelf.Now.Boards {
		if len(items) > mostListed {
			more := fyne.NewMenuItem("More boards stand on the Board card", nil)
			more.Disabled = true
			items = append(items, more)
			break
		}
		key, name := b.Key, b.Name
		if b.Key == s.Board {
			key, name, b = "", name+", as the others", usual
		}
		item := fyne.NewMenuItem(name, set("board", job.Other{Board: key, Turn: now.Turn}))
		item.Checked = key == now.Board || key == "" && now.Board == s.Board
		if b.Thickness < thick-1e-6 {
			item.Label, item.Disabled = name+" (too thin)", true
		}
		items = append(items, item)
	}
	turn := fyne.NewMenuItem("Turned by 90° against its place in the stack", set("turn", job.Other{Board: now.Board, Turn: !now.Turn}))
	turn.Checked = now.Turn
	back := fyne.NewMenuItem("Board and turn as the others", set("board and turn", job.Other{}))
	back.Disabled = now == (job.Other{})
	return fyne.NewMenu("", append(items, fyne.NewMenuItemSeparator(), turn, fyne.NewMenuItemSeparator(), back)...)
}
