package card

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"grainstack/app/paper"
	"grainstack/app/picture"
	"grainstack/app/session"
	"grainstack/slicing/scans"
)

// apartSteps is of how many fields the scale is drawn.
const apartSteps = 12

// An apartScale is the scale of the tones that say how far scans lie apart; it is there while they are shown.
type apartScale struct {
	of    *scans.Joined
	most  float64 // units
	marks [3]*paper.Words
	box   *fyne.Container
}

func (a *apartScale) on() *apartScale {
	field := func(rgb [3]uint8) *canvas.Rectangle {
		r := canvas.NewRectangle(color.NRGBA{rgb[0], rgb[1], rgb[2], 255})
		r.SetMinSize(fyne.NewSize(8, 14))
		return r
	}
	tones := container.New(sideBySide{})
	for i := range apartSteps {
		tones.Add(field(picture.ApartTone(float64(i) / (apartSteps - 1))))
	}
	a.marks[0], a.marks[1], a.marks[2] = paper.Write("0", paper.Tiny, paper.Pencil), paper.Write("", paper.Tiny, paper.Pencil).Cut(), paper.Write("", paper.Tiny, paper.Pencil).Right().Cut()
	key := func(rgb [3]uint8, words string) fyne.CanvasObject {
		r := field(rgb)
		r.SetMinSize(fyne.NewSize(18, 12))
		return container.NewBorder(nil, nil, r, nil, paper.Write(words, paper.Tiny, paper.Pencil).Cut())
	}
	a.box = container.NewVBox(tones, container.NewGridWithColumns(3, a.marks[0], a.marks[1], a.marks[2]),
		key(picture.AloneTone(), "one scan alone saw it"), key(picture.GuessTone(), "no scan saw it: a guess"))
	a.box.Hide()
	return a
}

func (a *apartScale) object() fyne.CanvasObject { return a.box }

func (a *apartScale) show(s State) {
	j := joinedOf(s)
	if j == nil || s.View.Over != session.ApartTints {
		a.box.Hide()
		return
	}
	if j != a.of {
		a.of, a.most = j, picture.MostApart(j)
	}
	a.marks[1].Say(fine(a.most*s.Settings.Scale/2, s.View.Units))
	a.marks[2].Say(fine(a.most*s.Settings.Scale, s.View.Units) + " and more")
	a.box.Show()
}

// sideBySide sets fields of equal width beside one another without gaps.
type sideBySide struct{}

func (sideBySide) Layout(o []fyne.CanvasObject, s fyne.Size) {
	wide := s.Width / float32(len(o))
	for i, c := range o {
		c.Move(fyne.NewPos(wide*float32(i), 0))
		c.Resize(fyne.NewSize(wide, s.Height))
	}
}

func (sideBySide) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(60, o[0].MinSize().Height)
}
