package card

import (
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

// A Field is a typed value. Typed is called for each change that the hand makes, Rested when the hand is done with it.
type Field struct {
	widget.Entry
	Typed   func(string)
	Rested  func()
	Stepped func(steps int) // arrow keys up and down
	Began   func()          // Escape takes it back to what stands here now
	Back    func()          // takes it back; nil where the text is all that there is
	Noticed func(bool)

	quiet   bool // the text is being set by program
	focused bool
	kept    string // what stood here when the hand came, or was done with it last
	under   *paper.Backing
}

// newField is an empty field.
func newField() *Field {
	f := &Field{}
	f.ExtendBaseWidget(f)
	f.Entry.Scroll = fyne.ScrollNone
	f.Entry.OnChanged = func(s string) {
		if !f.quiet && f.Typed != nil {
			f.Typed(s)
		}
	}
	f.Entry.OnSubmitted = func(string) {
		f.rest()
		f.begin()
	}
	return f
}

// Put sets the text without calling back. While the hand is in the field its own text stays, unless force is set.
func (f *Field) Put(text string, force bool) {
	if f.Text == text || f.focused && !force {
		return
	}
	f.quiet = true
	f.SetText(text)
	f.quiet = false
}

// begin remembers what stands here.
func (f *Field) begin() {
	f.kept = f.Text
	if f.Began != nil {
		f.Began()
	}
}

// FocusGained remembers what stood here.
func (f *Field) FocusGained() {
	f.focused = true
	f.begin()
	f.Entry.FocusGained()
	f.notice()
	paper.Reveal(f)
}

// FocusLost is the end of typing.
func (f *Field) FocusLost() {
	f.focused = false
	f.Entry.FocusLost()
	f.rest()
	f.notice()
}

// TypedKey steps with the arrow keys. Escape takes back what was typed, and where nothing was leaves the field. The
// function keys are the window's.
func (f *Field) TypedKey(e *fyne.KeyEvent) {
	switch {
	case e.Name == fyne.KeyEscape && f.Text == f.kept:
		paper.LeaveKeys(f)
	case e.Name == fyne.KeyEscape && f.Back != nil:
		f.Back()
	case e.Name == fyne.KeyEscape:
		f.Entry.SetText(f.kept)
		f.rest()
	case strings.HasPrefix(string(e.Name), "F") && len(e.Name) > 1: // F1 to F12 write nothing
		paper.PassOn(f, e)
	case e.Name == fyne.KeyUp && f.Stepped != nil:
		f.Stepped(1)
	case e.Name == fyne.KeyDown && f.Stepped != nil:
		f.Stepped(-1)
	default:
		f.Entry.TypedKey(e)
	}
}

// TappedSecondary opens the menu of copying and pasting, once the field has been drawn.
func (f *Field) TappedSecondary(e *fyne.PointEvent) {
	if paper.Drawn(f) {
		f.Entry.TappedSecondary(e)
	}
}

func (f *Field) rest() {
	if f.Rested != nil {
		f.Rested()
	}
}

func (f *Field) notice() {
	if f.under != nil {
		f.under.In(map[bool]fyne.ThemeColorName{false: paper.Ruling, true: theme.ColorNamePrimary}[f.focused])
		f.under.Resize(fyne.NewSize(f.under.Size().Width, f.thick()))
	}
	if f.Noticed != nil {
		f.Noticed(f.focused)
	}
}

// thick is how thick the line under the field is: thicker while the keys come here.
func (f *Field) thick() float32 {
	if f.focused {
		return 2
	}
	return 1
}

// underlined puts a field on a ruled line in place of the toolkit's box.
func underlined(f *Field) fyne.CanvasObject {
	under := paper.Back(paper.Ruling)
	f.under = under
	return container.New(overLine{f}, f, under)
}

// CreateRenderer is the toolkit's without its box. A theme of its own for that would be lost whenever a card is folded for a minute.
func (f *Field) CreateRenderer() fyne.WidgetRenderer {
	f.ExtendBaseWidget(f)
	r := &boxless{f.Entry.CreateRenderer()}
	r.unbox()
	return paper.Laid(r, f)
}

type boxless struct{ fyne.WidgetRenderer }

// Refresh is the toolkit's, which colours the box.
func (r *boxless) Refresh() {
	r.WidgetRenderer.Refresh()
	r.unbox()
}

// unbox makes the rectangles that the toolkit draws round the text unseen.
func (r *boxless) unbox() {
	for _, o := range r.Objects() {
		if box, ok := o.(*canvas.Rectangle); ok {
			box.FillColor, box.StrokeColor = color.Transparent, color.Transparent
		}
	}
}

// overLine lays out a field with a line under it.
type overLine struct{ f *Field }

func (l overLine) Layout(o []fyne.CanvasObject, s fyne.Size) {
	th := fyne.CurrentApp().Settings().Theme()
	room := max(0, th.Size(theme.SizeNameInnerPadding)-textIn) // that the toolkit leaves more than is wanted
	over := room + th.Size(theme.SizeNameInputBorder)
	o[0].Move(fyne.NewPos(-room, -over))
	o[0].Resize(s.AddWidthHeight(2*room, 2*over))
	o[1].Move(fyne.NewPos(0, s.Height-2))
	o[1].Resize(fyne.NewSize(s.Width, l.f.thick()))
}

// textIn is how far the text of a field is set in.
const textIn = 2

func (overLine) MinSize(o []fyne.CanvasObject) fyne.Size { return fyne.NewSize(30, 22) }
