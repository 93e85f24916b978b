package card

import (
	"fmt"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"grainstack/app/paper"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// edge draws the board's edge: every veneer, what the skim takes off pale, and says what is left.
type edge struct {
	picture *fyne.Container
	label   *paper.Told
	box     fyne.CanvasObject
	drawn   edgeKey
}

// edgeKey is all that the drawing depends on.
type edgeKey struct {
	board           string
	thickness, skim float64
	ground          color.Color
	units           unit.System
}

const perMM = 2.6 // units of height a millimetre of board

func (e *edge) on() *edge {
	e.picture = container.NewWithoutLayout()
	e.label = paper.Tell("", paper.Tiny, paper.Pencil)
	e.box = container.New(edgeLayout{}, e.picture, e.label)
	return e
}

func (e *edge) object() fyne.CanvasObject { return e.box }

func (e *edge) show(s State) {
	b, ok := s.Settings.BoardIn(s.Catalogue)
	app := fyne.CurrentApp().Settings()
	ground := app.Theme().Color(paper.Ground, app.ThemeVariant())
	key := edgeKey{s.Settings.Board, b.Thickness, s.Settings.Skim, ground, s.View.Units}
	if !ok || key == e.drawn {
		return
	}
	e.drawn = key
	left, err := b.Skimmed(s.Settings.Skim)
	if err != nil {
		e.label.Say("the skim leaves nothing")
		return
	}
	e.label.Say(fmt.Sprintf("%d of %d left; outer %s, %s", len(left), len(b.Recipe), fine(left[0].Thickness, s.View.Units), fine(left[len(left)-1].Thickness, s.View.Units)))
	e.draw(b, s.Settings.Skim, ground)
}

// draw lays the veneers out from top to bottom.
func (e *edge) draw(b stock.Board, skim float64, ground color.Color) {
	e.picture.RemoveAll()
	const width = 100 // until it is laid out
	top := 0.0
	for i := len(b.Recipe) - 1; i >= 0; i-- {
		v := b.Recipe[i]
		tone := color.NRGBA{0xe9, 0xcd, 0x9c, 0xff}
		if v.Grain == stock.Across {
			tone = color.NRGBA{0xb5, 0x89, 0x56, 0xff}
		}
		r := canvas.NewRectangle(tone)
		r.Move(fyne.NewPos(0, float32(top*perMM)))
		r.Resize(fyne.NewSize(width, float32(v.Thickness*perMM)-0.4))
		e.picture.Add(r)
		top += v.Thickness
	}
	gr, gg, gb, _ := ground.RGBA()
	pale := color.NRGBA{uint8(gr >> 8), uint8(gg >> 8), uint8(gb >> 8), 0xc0}
	for _, at := range []float64{0, b.Thickness - skim} {
		r := canvas.NewRectangle(pale)
		r.Move(fyne.NewPos(0, float32(at*perMM)))
		r.Resize(fyne.NewSize(width, float32(skim*perMM)))
		e.picture.Add(r)
	}
	e.picture.Resize(fyne.NewSize(width, float32(b.Thickness*perMM)))
	e.box.Refresh()
}

// edgeLayout gives the drawing the board's height and the words a line under it.
type edgeLayout struct{}

func (edgeLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	pic, ok := o[0].(*fyne.Container)
	if !ok {
		return
	}
	h := s.Height - 16
	pic.Move(fyne.NewPos(inset, 2))
	pic.Resize(fyne.NewSize(s.Width-inset, h))
	for _, r := range pic.Objects {
		r.Resize(fyne.NewSize(s.Width-inset, r.Size().Height))
	}
	o[1].Move(fyne.NewPos(inset, h+2))
	o[1].Resize(fyne.NewSize(s.Width, 14))
}

func (edgeLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	low := float32(0)
	if pic, ok := o[0].(*fyne.Container); ok {
		for _, r := range pic.Objects {
			low = max(low, r.Position().Y+r.Size().Height)
		}
	}
	return fyne.NewSize(100, low+18)
}
