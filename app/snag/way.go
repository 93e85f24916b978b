package snag

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

// A Way is a way out: a small picture of what comes of it, what it is and does, what it costs, and what it makes worse.
type Way struct {
	Picture *image.RGBA // nil until it is drawn, and for what is made by hand
	Text    string
	Price   string
	Worse   string // "" for nothing
	ByHand  bool   // a click can't take it
}

// Sizes of a way out's picture: those of a trial's.
const pictureW, pictureH = 82, 70

// newWayCell is a way out with what can be done with it.
func newWayCell(w Way, take, keep func()) fyne.CanvasObject {
	picture := canvas.NewRaster(func(int, int) image.Image {
		if w.Picture == nil {
			return image.NewRGBA(image.Rect(0, 0, 1, 1))
		}
		return w.Picture
	})
	label := func(text string, ink fyne.ThemeColorName) *widget.Label {
		l := paper.Sentence(ink)
		l.SetText(text)
		if text == "" {
			l.Hide()
		}
		return l
	}
	var tools fyne.CanvasObject = container.NewHBox(button("Take it", take), button("Keep as trial", keep))
	if w.ByHand {
		tools = label("Made by hand: all layers have one thickness here.", paper.Pencil)
		picture.Hide()
	}
	return container.New(wayLayout{}, picture, label(w.Text, paper.Ink), label(w.Price, paper.Pencil), label(w.Worse, paper.Red), tools)
}

// wayLayout sets the picture at the left, and the words and tools one under another beside it.
type wayLayout struct{}

func (wayLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	left, y := float32(0), float32(0)
	if o[0].Visible() {
		o[0].Move(fyne.NewPos(2, 6))
		o[0].Resize(fyne.NewSize(pictureW, pictureH))
		left = pictureW + 2
	}
	for _, one := range o[1:] {
		if !one.Visible() {
			continue
		}
		one.Move(fyne.NewPos(left, y))
		one.Resize(fyne.NewSize(max(0, s.Width-left), one.MinSize().Height)) // wrapped anew at this width,
		high := one.MinSize().Height                                         // so high is it then
		one.Resize(fyne.NewSize(max(0, s.Width-left), high))
		y += high - tight
	}
}

// tight is how much of the toolkit's padding between lines is taken away.
const tight = 7

func (wayLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	high := float32(tight)
	for _, one := range o[1:] {
		if one.Visible() {
			high += one.MinSize().Height - tight
		}
	}
	if o[0].Visible() {
		high = max(high, pictureH+10)
	}
	return fyne.NewSize(pictureW+60, high)
}
