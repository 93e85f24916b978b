package view

import (
	"context"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/picture"
	"grainstack/app/state"
	"grainstack/render/draw"
	"grainstack/render/frame"
	"grainstack/render/sheet"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// A StickAsk asks for the story stick.
type StickAsk struct {
	paperAsk
	standing *job.Standing
	Figures  *job.Figures
	Layer    int
	stock    *stock.Catalogue
}

// A StickKey is all that the story stick hangs on.
type StickKey struct {
	paperAsk
	standing *job.Standing
	stock    *stock.Catalogue
	settings job.Settings // what of them shows
	marks    string
	layer    int
}

// key is the key of a request.
func (a StickAsk) key() StickKey {
	s := a.Figures.For
	shows := job.Settings{Layering: s.Layering, Surface: s.Surface}
	var marks strings.Builder
	for _, f := range a.Figures.Cautions {
		marks.WriteString(fmt.Sprint(f.Kind, ":"))
		for _, p := range f.Places {
			marks.WriteString(fmt.Sprint(p.Layer, " "))
		}
	}
	for _, k := range a.Figures.Kept {
		marks.WriteString(fmt.Sprintf("%.1f to %.1f, %d ", k.Low, k.High, len(k.Crossings)))
	}
	return StickKey{a.paperAsk, a.standing, a.stock, shows, marks.String(), a.Layer}
}

// A Stick is the story stick.
type Stick struct {
	*View[StickKey, StickAsk, sheet.StickSheet]
	letters *draw.Letters
}

// NewStick is the story stick in a pane with gestures.
func NewStick(d Desk, letters *draw.Letters, g pane.Gestures) *Stick {
	s := &Stick{letters: letters}
	p := pane.NewPicture("story stick", fyne.NewSize(120, 120), g)
	s.View = newView[StickKey](d, p, func() Draw[StickAsk, sheet.StickSheet] { return newDrafter(letters).stick }, nil)
	s.Whole = captioned(paper.Write("Story stick", paper.Small, paper.Pencil).Cut(), s.Picture, nil)
	return s
}

// A ShownStick is what is on the screen.
type ShownStick = Shown[StickAsk, sheet.StickSheet]

// Ask asks for the stick as everything is now.
func (s *Stick) Ask(b *state.Bench, now state.Asking) bool {
	on, ok := paperOf(b, s.letters, s.Picture)
	if !ok || b.Model == nil || b.Figures == nil || b.Standing == nil {
		return false
	}
	a := StickAsk{on, b.Standing, b.FiguresWithShop(), b.Layer(), b.Shelf.Now}
	return s.want(now, a.key(), a, false)
}

func (d *drafter) stick(_ context.Context, a StickAsk) (*frame.Frame, sheet.StickSheet, error) {
	width, height := a.extent()
	out := sheet.Stick(picture.Stick(a.standing, a.Figures, a.stock, a.Layer), a.style, width, height)
	return d.frameOf(a.paperAsk, out.Drawing), out, nil
}
