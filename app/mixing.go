package app

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"grainstack/slicing/job"
)

// keyStick takes both Return keys for the same.
func (w *window) keyStick(k fyne.KeyName) {
	if k == fyne.KeyEnter {
		k = fyne.KeyReturn
	}
	w.key(k)
}

// askBlank picks the layer under the hand on the story stick and asks what it is to be carved from.
func (w *window) askBlank(at fyne.Position) {
	n, ok := w.stick.drawn.LayerAt(float64(at.Y))
	if !ok {
		return
	}
	w.pick(n)
	w.showBlank(at)
}

// blankOfPicked asks the same for the picked layer, beside it on the story stick.
func (w *window) blankOfPicked() {
	at := w.stick.drawn.Body.Max
	if n := w.session.Layer(); w.figures != nil && n <= len(w.figures.Layers) {
		at.Y = w.stick.drawn.Y(w.figures.Layers[n-1].Top)
	}
	w.showBlank(fyne.NewPos(float32(at.X), float32(at.Y)))
}

// showBlank opens the menu of the picked layer at a place of the story stick.
func (w *window) showBlank(at fyne.Position) {
	if w.figures == nil || w.session.Layer() > len(w.figures.Layers) {
		return
	}
	from := w.app.Driver().AbsolutePositionForObject(w.stick.Picture)
	w.blank = widget.NewPopUpMenu(w.blankMenu(), w.win.Canvas())
	w.blank.ShowAtPosition(from.Add(at))
}

// mostListed is how many boards the menu lists: with more it would not fit a small window, and the Board card has them all.
const mostListed = 15

// blankMenu is the menu of the picked layer: its board, its turn, and both as the others have them.
func (w *window) blankMenu() *fyne.Menu {
	n, s := w.session.Layer(), w.session.Settings()
	now := s.Mix.Of(n)
	set := func(what string, o job.Other) func() {
		return func() {
			w.Do(fmt.Sprintf("%s of layer %d", what, n), func(s job.Settings) job.Settings {
				s.Mix = s.Mix.With(n, o)
				return s
			})
			w.Rest()
		}
	}
	head := fyne.NewMenuItem(fmt.Sprintf("Layer %d is of", n), nil)
	head.Disabled = true
	items := []*fyne.MenuItem{head}
	usual, _ := s.BoardIn(w.shelf.now)
	thick := s.LayerThickness(w.shelf.now)
	for _, b := range w.shelf.now.Boards {
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
