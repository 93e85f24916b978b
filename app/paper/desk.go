package paper

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// A Desk is all of a window, with room over it for a slip of paper on which words that are cut short stand in full while the
// pointer is over them. The slip takes no clicks.
type Desk struct {
	widget.BaseWidget
	content fyne.CanvasObject
	slip    *fyne.Container
	ground  *canvas.Rectangle
	words   *widget.Label
	of      fyne.CanvasObject // whose words are on the slip
}

// NewDesk is a window's content.
func NewDesk(content fyne.CanvasObject) *Desk {
	d := &Desk{content: content, ground: canvas.NewRectangle(nil), words: Sentence(Ink)}
	d.ground.StrokeWidth = 1
	d.slip = container.NewStack(d.ground, d.words)
	d.slip.Hide()
	d.ExtendBaseWidget(d)
	return d
}

// Held is what lies on the desk.
func (d *Desk) Held() []fyne.CanvasObject { return []fyne.CanvasObject{d.content} }

const (
	slipWide = 380
	slipNear = 3 // to what it says in full
)

// tell writes the words of something on the slip and lays it beside that.
func (d *Desk) tell(of fyne.CanvasObject, words string) {
	app := fyne.CurrentApp().Settings()
	d.of = of
	d.ground.FillColor = app.Theme().Color(theme.ColorNameMenuBackground, app.ThemeVariant())
	d.ground.StrokeColor = app.Theme().Color(Ruling, app.ThemeVariant())
	d.words.SetText(words)
	one := fyne.MeasureText(words, app.Theme().Size(Small), fyne.TextStyle{}).Width + 4*app.Theme().Size(theme.SizeNameInnerPadding)
	wide := min(one, slipWide, d.Size().Width)
	d.slip.Resize(fyne.NewSize(wide, 10)) // it wraps to this width
	size := fyne.NewSize(wide, d.slip.MinSize().Height)
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(of).Subtract(fyne.CurrentApp().Driver().AbsolutePositionForObject(d))
	x := max(0, min(at.X, d.Size().Width-size.Width))
	y := at.Y + of.Size().Height + slipNear
	if y+size.Height > d.Size().Height {
		y = max(0, at.Y-size.Height-slipNear)
	}
	d.slip.Move(fyne.NewPos(x, y))
	d.slip.Resize(size)
	d.slip.Show()
	d.slip.Refresh()
}

// hush takes the slip away, unless it is of something else by now.
func (d *Desk) hush(of fyne.CanvasObject) {
	if d.of == of {
		d.of = nil
		d.slip.Hide()
	}
}

// Refresh lays out anew what lies on the desk.
func (d *Desk) Refresh() {
	d.content.Refresh()
	d.BaseWidget.Refresh()
}

// CreateRenderer is the toolkit's.
func (d *Desk) CreateRenderer() fyne.WidgetRenderer {
	return Laid(widget.NewSimpleRenderer(container.NewStack(d.content, container.NewWithoutLayout(d.slip))), d)
}

// deskOf is the desk that something lies on, nil for none.
func deskOf(o fyne.CanvasObject) *Desk {
	if c := canvasOf(o); c != nil {
		if d, ok := c.Content().(*Desk); ok {
			return d
		}
	}
	return nil
}

// Explain lays a slip with words beside something while on is set, and takes it away else.
func Explain(o fyne.CanvasObject, words string, on bool) {
	switch d := deskOf(o); {
	case d == nil:
	case on && words != "":
		d.tell(o, words)
	default:
		d.hush(o)
	}
}

var _ desktop.Hoverable = (*Told)(nil)

// Told are words that may be cut short and stand in full on a slip while the pointer is over them. Meaning, where it is set, is
// told as well, of a word that may need it.
type Told struct {
	Words
	Meaning string
}

// Tell is a line of such words.
func Tell(text string, size fyne.ThemeSizeName, ink fyne.ThemeColorName) *Told {
	t := &Told{Words: Words{text: text, ink: ink, size: size, cut: true}}
	t.ExtendBaseWidget(t)
	return t
}

// Means says what the words mean.
func (t *Told) Means(meaning string) *Told { t.Meaning = meaning; return t }

// slip is what is to be told of the words, "" for nothing.
func (t *Told) slip() string {
	switch cut := t.IsCut(); {
	case cut && t.Meaning != "":
		return t.text + ": " + t.Meaning
	case cut:
		return t.text
	}
	return t.Meaning
}

// MouseIn tells it.
func (t *Told) MouseIn(*desktop.MouseEvent) { Explain(t, t.slip(), true) }

// MouseMoved is not used.
func (t *Told) MouseMoved(*desktop.MouseEvent) {}

// MouseOut ends that.
func (t *Told) MouseOut() { Explain(t, "", false) }
