package app

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/card"
	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/task"
	"grainstack/app/view"
	"grainstack/render/swatch"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// What is picked on a photo, in this order.
const (
	lightVeneer = iota
	darkVeneer
	endGrain
	cardPatch
	patches
)

// patchNames are the names of what is picked, and where it is found on a board.
var patchNames = [patches][2]string{
	{"Light veneer", "along its fibres: the face, or a veneer that runs with it"},
	{"Dark veneer", "along its fibres: a veneer between two light ones"},
	{"End grain", "a veneer cut across its fibres"},
	{"Card", "grey or white, in the same light; only if you have one"},
}

// cardKinds are the cards and the share of light that they throw back.
var cardKinds = []struct {
	name     string
	reflects float64
}{{"card: hue alone", 0}, {"card: grey, 18 %", swatch.GreyCard}, {"card: white paper", swatch.WhitePaper}}

// A toning is a photo from which tones are being picked.
type toning struct {
	*core
	photo  *swatch.Photo
	page   dialog.Dialog
	closed func()

	view  *view.Photo
	rings [patches]*canvas.Circle
	rows  [patches]*toneRow
	kind  *paper.Select
	fault *widget.Label
	use   *paper.Button

	picked [patches]swatch.Patch // without pixels where nothing is picked
	at     int                   // what the next click picks
	cross  image.Point           // where the keys are, in pixels of the photo
	card   swatch.Balance
}

// A toner opens photos to pick tones from.
type toner struct {
	*core
	tasks  *tasks
	toning *toning // a photo that tones are picked from, nil for none
	asks   int
}

// tonesDialog asks for a photo.
func (r *toner) tonesDialog() {
	r.choose(chooser{title: "Open a photo of your finished board", confirm: "Open", endings: []string{".png", ".jpg", ".jpeg"}}, r.openPhoto)
}

// openPhoto reads a photo.
func (r *toner) openPhoto(path string) {
	r.asks++
	r.tasks.photo.Want(r.asks, 0, path)
}

func readPhoto(_ context.Context, path string, _ task.Report[*swatch.Photo]) (*swatch.Photo, error) {
	return swatch.Open(path)
}

// photoRead opens the page on which tones are picked.
func (r *toner) photoRead(_ string, p *swatch.Photo, err error) {
	if err != nil {
		r.say(notOpened, r.sentence(err))
		return
	}
	t := &toning{core: r.core, photo: p, cross: p.Size().Div(2), closed: func() { r.toning = nil }}
	r.toning = t
	t.build()
	size := r.win.Canvas().Size()
	t.page.Resize(fyne.NewSize(min(980, size.Width-40), min(660, size.Height-40)))
	r.show(t.page)
	t.choose(lightVeneer)
	r.win.Canvas().Focus(t.view)
}

// build arranges the page.
func (t *toning) build() {
	t.view = view.NewPhoto(view.Desk{Post: t.post, Came: t.placeRings, Failed: t.fail},
		pane.Gestures{Clicked: t.click, Key: t.keyed, Sized: t.redraw, Turned: func(float32, float32) {}})
	over := container.NewWithoutLayout()
	for i := range t.rings {
		t.rings[i] = canvas.NewCircle(nil)
		t.rings[i].StrokeWidth = 3
		t.rings[i].Hide()
		over.Add(t.rings[i])
	}
	list := container.NewVBox()
	for i := range t.rows {
		t.rows[i] = newToneRow(patchNames[i], func() { t.choose(i) })
		list.Add(t.rows[i].whole)
	}
	names := make([]string, len(cardKinds))
	for i, k := range cardKinds {
		names[i] = k.name
	}
	t.kind = paper.NewSelect(names, func(string) { t.balance() })
	t.kind.SetSelectedIndex(0)
	list.Add(t.kind)
	t.fault = paper.Sentence(paper.Red)
	list.Add(t.fault)
	advice := paper.Sentence(paper.Pencil)
	advice.SetText("A photo in even daylight, without flash, sharp and not burnt out. Click each place, or move the ring with the arrow keys and pick with Return. The board shall be finished as the piece will be.")
	list.Add(advice)
	side := paper.NewScroll(container.New(layout.NewCustomPaddedLayout(0, 0, 10, 4), list))
	side.SetMinSize(fyne.NewSize(270, 200))
	d := dialog.NewCustomWithoutButtons("Tones from your board", container.NewBorder(nil, nil, nil, side.Whole, container.NewStack(t.view, over)), t.win)
	t.use = paper.NewButton("Use these tones", t.apply)
	t.use.Importance = widget.HighImportance
	t.use.Disable()
	d.SetButtons([]fyne.CanvasObject{paper.NewButton("Back to the bench", d.Hide), t.use})
	d.SetOnClosed(func() {
		t.view.Stop()
		t.closed()
	})
	t.page = d
}

// redraw asks for the photo in the size that its pane has.
func (t *toning) redraw() { t.view.Ask(t.photo, t.card) }

// click picks the tone under the hand.
func (t *toning) click(at fyne.Position) {
	x, y := t.view.Pixel(at)
	if place, ok := t.view.Now.Out.Place(float64(x)+0.5, float64(y)+0.5); ok {
		t.cross = place
		t.pick()
	}
}

// crossStep is how far an arrow key moves the cross, as a share of the photo's longer side.
const crossStep = 0.01

// keyed moves the cross, picks, or leaves the page.
func (t *toning) keyed(k fyne.KeyName) {
	size := t.photo.Size()
	step := max(1, int(crossStep*float64(max(size.X, size.Y))))
	way := map[fyne.KeyName]image.Point{fyne.KeyLeft: {-step, 0}, fyne.KeyRight: {step, 0}, fyne.KeyUp: {0, -step}, fyne.KeyDown: {0, step}}
	switch k {
	case fyne.KeyEscape:
		t.page.Hide()
	case fyne.KeyReturn, fyne.KeyEnter:
		t.pick()
	default:
		to := t.cross.Add(way[k])
		t.cross = image.Pt(max(0, min(size.X-1, to.X)), max(0, min(size.Y-1, to.Y)))
		t.placeRings()
	}
}

// pick takes the tone at the cross, and goes on to what is not picked yet.
func (t *toning) pick() {
	p, err := t.photo.Patch(t.cross, t.photo.UsualRadius())
	if err != nil {
		t.fault.SetText(err.Error())
		return
	}
	t.picked[t.at] = p
	t.balance()
	for i := range endGrain + 1 {
		if t.picked[i].Pixels == 0 {
			t.choose(i)
			return
		}
	}
	t.choose(t.at)
}

// choose says what the next click picks.
func (t *toning) choose(i int) {
	t.at = i
	for k, r := range t.rows {
		r.chosen(k == i)
	}
	t.placeRings()
}

// balance works the card out, writes all tones, and draws the photo as it is balanced.
func (t *toning) balance() {
	if t.fault == nil {
		return // being built
	}
	was := t.card
	t.card = swatch.Balance{}
	fault := ""
	if p := t.picked[cardPatch]; p.Pixels > 0 {
		var err error
		if t.card, err = swatch.BalanceOf(p, cardKinds[max(0, t.kind.SelectedIndex())].reflects); err != nil {
			fault = err.Error()
		}
	}
	ready := true
	for i, p := range t.picked {
		t.rows[i].put(p, t.card)
		if i < cardPatch {
			ready = ready && p.Pixels > 0
		}
		if fault == "" && p.Pixels > 0 {
			fault = doubt(patchNames[i][0], p, i)
		}
	}
	t.fault.SetText(fault)
	if ready {
		t.use.Enable()
	}
	if t.card != was {
		t.redraw()
	}
	t.placeRings()
}

// Beyond these a tone is doubtful (common practice, no source).
const (
	mostHard   = 0.1 // share of pixels as light as a photo can say
	mostSpread = 8.0 // as a CIELAB distance: a veneer's own figure stays below
)

// doubt says why a tone may be wrong, "" where it may not.
func doubt(name string, p swatch.Patch, i int) string {
	switch {
	case p.Hard > mostHard:
		return name + ": the photo is burnt out or black there, so that the tone is not known. Pick another place, or take the photo anew."
	case p.Spread > mostSpread && i != cardPatch:
		return name + ": the place is uneven. Pick one within a single veneer, clear of glue lines and shine."
	}
	return ""
}

// placeRings shows where the tones were picked, and where the cross is.
func (t *toning) placeRings() {
	if t.view.Frame() == nil {
		return
	}
	k := t.view.Size().Width / float32(t.view.Frame().Rect.Dx()) // units a pixel
	for i, ring := range t.rings {
		at := t.picked[i].At
		ring.StrokeColor = color.Black
		if i == t.at {
			ring.StrokeColor, at = color.White, t.cross
		} else if t.picked[i].Pixels == 0 {
			ring.Hide()
			continue
		}
		r := max(9, float32(t.photo.UsualRadius()*t.view.Now.Out.Scale())*k)
		ring.Move(t.overPixel(at).SubtractXY(r, r))
		ring.Resize(fyne.NewSize(2*r, 2*r))
		ring.Show()
		ring.Refresh()
	}
}

// overPixel is where a pixel of the photo lies over its pane.
func (t *toning) overPixel(at image.Point) fyne.Position {
	x, y := t.view.Now.Out.Back(at)
	pixels, size := t.view.Frame().Rect.Size(), t.view.Size()
	return fyne.NewPos(float32(x)/float32(pixels.X)*size.Width, float32(y)/float32(pixels.Y)*size.Height)
}

// apply puts the tones into the settings.
func (t *toning) apply() {
	lab := func(i int) stock.Lab { return stock.Lab(t.card.Tone(t.picked[i])) }
	own := job.Tones{Own: true, Light: lab(lightVeneer), Dark: lab(darkVeneer), End: lab(endGrain)}
	t.page.Hide()
	t.Do("tones of the board", func(s job.Settings) job.Settings { s.Tones = own; return s })
	t.Rest()
}

// A toneRow is one thing to pick: its name, where to find it, its colour and its figures.
type toneRow struct {
	press *paper.Button
	patch *canvas.Rectangle
	words *paper.Words
	whole fyne.CanvasObject
}

func newToneRow(name [2]string, chosen func()) *toneRow {
	r := &toneRow{press: paper.NewButton(name[0], chosen), patch: canvas.NewRectangle(nil), words: paper.Write("not picked", paper.Tiny, paper.Pencil).Cut()}
	r.patch.SetMinSize(fyne.NewSize(46, 30))
	where := paper.Sentence(paper.Pencil)
	where.SetText(name[1])
	r.whole = container.NewVBox(container.NewBorder(nil, nil, nil, r.patch, r.press), where, r.words)
	return r
}

// chosen marks the row that the next click is for.
func (r *toneRow) chosen(yes bool) {
	r.press.Importance = widget.MediumImportance
	if yes {
		r.press.Importance = widget.HighImportance
	}
	r.press.Refresh()
}

// put shows a patch under a balance.
func (r *toneRow) put(p swatch.Patch, b swatch.Balance) {
	if p.Pixels == 0 {
		return
	}
	t := b.Tone(p)
	r.patch.FillColor = card.Swatch(t)
	r.patch.Refresh()
	r.words.Say(fmt.Sprintf("%s · L %.0f, a %.0f, b %.0f · uneven by %.1f", t.Hex(), t[0], rounded(t[1]), rounded(t[2]), p.Spread))
}

// rounded is a figure without its places, and without a sign where that leaves nothing.
func rounded(v float64) float64 { return math.Round(v) + 0 }
