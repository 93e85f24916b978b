package paper

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Words are one line of text in an ink and a size of the theme. What does not fit is cut short with an ellipsis where Cut
// is set; otherwise the line asks for its whole width.
type Words struct {
	widget.BaseWidget
	text  string
	ink   fyne.ThemeColorName
	size  fyne.ThemeSizeName
	style fyne.TextStyle
	align fyne.TextAlign
	cut   bool
}

// Write is a line of words.
func Write(text string, size fyne.ThemeSizeName, ink fyne.ThemeColorName) *Words {
	w := &Words{text: text, ink: ink, size: size}
	w.ExtendBaseWidget(w)
	return w
}

// Bold, Cut and Right set how the words stand; each returns the words.
func (w *Words) Bold() *Words { w.style.Bold = true; return w }

// Cut lets the words be cut short.
func (w *Words) Cut() *Words { w.cut = true; return w }

// Right sets the words against the right edge.
func (w *Words) Right() *Words { w.align = fyne.TextAlignTrailing; return w }

// Strong makes the words bold, or ends that.
func (w *Words) Strong(on bool) {
	if on != w.style.Bold {
		w.style.Bold = on
		w.Refresh()
	}
}

// Sized writes the words in another size.
func (w *Words) Sized(size fyne.ThemeSizeName) {
	if size != w.size {
		w.size = size
		w.Refresh()
	}
}

// Wide is how wide they are in full.
func (w *Words) Wide() float32 {
	return fyne.MeasureText(w.text, w.Theme().Size(w.size), w.style).Width
}

// Text is what is written.
func (w *Words) Text() string { return w.text }

// IsCut reports whether they don't fit their room.
func (w *Words) IsCut() bool {
	return w.Size().Width > 0 && w.Wide() > w.Size().Width+0.5
}

// Say writes something else; nothing is drawn again where nothing changes.
func (w *Words) Say(text string) {
	if text != w.text {
		w.text = text
		w.Refresh()
	}
}

// In changes the ink.
func (w *Words) In(ink fyne.ThemeColorName) {
	if ink != w.ink {
		w.ink = ink
		w.Refresh()
	}
}

// CreateRenderer is the toolkit's.
func (w *Words) CreateRenderer() fyne.WidgetRenderer {
	r := &wordsRenderer{w: w, line: canvas.NewText("", nil)}
	r.style()
	return Laid(r, w)
}

type wordsRenderer struct {
	w    *Words
	line *canvas.Text
	size fyne.Size
}

func (r *wordsRenderer) style() {
	t, v := r.w.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	r.line.Color = t.Color(r.w.ink, v)
	r.line.TextSize = t.Size(r.w.size)
	r.line.TextStyle = r.w.style
	r.line.Alignment = r.w.align
	r.line.Text = r.fitted()
}

// fitted is as much of the text as the width holds.
func (r *wordsRenderer) fitted() string {
	if !r.w.cut || r.size.Width <= 0 {
		return r.w.text
	}
	fits := func(s string) bool {
		return fyne.MeasureText(s, r.line.TextSize, r.line.TextStyle).Width <= r.size.Width+0.5
	}
	if fits(r.w.text) {
		return r.w.text
	}
	runes := []rune(r.w.text)
	low, high := 0, len(runes)
	for low < high {
		if mid := (low + high + 1) / 2; fits(string(runes[:mid]) + "…") {
			low = mid
		} else {
			high = mid - 1
		}
	}
	return string(runes[:low]) + "…"
}

func (r *wordsRenderer) Layout(s fyne.Size) {
	r.size = s
	r.line.Text = r.fitted()
	r.line.Move(fyne.NewPos(0, (s.Height-r.line.MinSize().Height)/2))
	r.line.Resize(fyne.NewSize(s.Width, r.line.MinSize().Height))
}

func (r *wordsRenderer) MinSize() fyne.Size {
	whole := fyne.MeasureText(r.w.text, r.line.TextSize, r.line.TextStyle)
	if r.w.cut {
		whole.Width = 20
	}
	if whole.Height == 0 {
		whole.Height = fyne.MeasureText("M", r.line.TextSize, r.line.TextStyle).Height
	}
	return whole
}

func (r *wordsRenderer) Refresh() {
	r.style()
	r.Layout(r.w.Size())
	r.line.Refresh()
}

func (r *wordsRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.line} }
func (r *wordsRenderer) Destroy()                     {}

// Sentence is wrapping text in small size.
func Sentence(ink fyne.ThemeColorName) *widget.Label {
	l := widget.NewLabel("")
	l.Wrapping = fyne.TextWrapWord
	l.SizeName = Small
	switch ink {
	case Red:
		l.Importance = widget.DangerImportance
	case Pencil:
		l.Importance = widget.LowImportance
	}
	return l
}

// Backing is a rectangle in a colour of the theme, to put under something.
type Backing struct {
	widget.BaseWidget
	fill fyne.ThemeColorName
}

// Back is a backing.
func Back(fill fyne.ThemeColorName) *Backing {
	b := &Backing{fill: fill}
	b.ExtendBaseWidget(b)
	return b
}

// In changes the colour.
func (b *Backing) In(fill fyne.ThemeColorName) {
	if fill != b.fill {
		b.fill = fill
		b.Refresh()
	}
}

// CreateRenderer is the toolkit's.
func (b *Backing) CreateRenderer() fyne.WidgetRenderer {
	r := &backingRenderer{b: b, rect: canvas.NewRectangle(nil)}
	r.Refresh()
	return Laid(r, b)
}

type backingRenderer struct {
	b    *Backing
	rect *canvas.Rectangle
}

func (r *backingRenderer) Layout(s fyne.Size)           { r.rect.Resize(s) }
func (r *backingRenderer) MinSize() fyne.Size           { return fyne.NewSize(1, 1) }
func (r *backingRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.rect} }
func (r *backingRenderer) Destroy()                     {}
func (r *backingRenderer) Refresh() {
	r.rect.FillColor = r.b.Theme().Color(r.b.fill, fyne.CurrentApp().Settings().ThemeVariant())
	r.rect.Refresh()
}
