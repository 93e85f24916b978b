package card

import (
	"image/color"

	"fyne.io/fyne/v2"
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
	Noticed func(bool)

	quiet   bool // the text is being set by program
	focused bool
	kept    string // what stood here when the hand came
	under   *paper.Backing
}

// NewField is an empty field.
func NewField() *Field {
	f := &Field{}
	f.ExtendBaseWidget(f)
	f.Entry.Scroll = fyne.ScrollNone
	f.Entry.OnChanged = func(s string) {
		if !f.quiet && f.Typed != nil {
			f.Typed(s)
		}
	}
	f.Entry.OnSubmitted = func(string) { f.rest() }
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

// FocusGained remembers what stood here.
func (f *Field) FocusGained() {
	f.focused, f.kept = true, f.Text
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

// TypedKey steps with the arrow keys, and takes the text back with Escape.
func (f *Field) TypedKey(e *fyne.KeyEvent) {
	switch {
	case e.Name == fyne.KeyEscape:
		f.Entry.SetText(f.kept)
		f.rest()
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

// underlined puts a field on a ruled line in place of the toolkit's box, which unbox takes away.
func underlined(f *Field) fyne.CanvasObject {
	under := paper.Back(paper.Ruling)
	f.under = under
	return container.New(overLine{f}, f, under)
}

// Unbox takes the toolkit's boxes from the fields of cards. It is one override for all of them, and stands beside the window's
// tree: an override keeps fonts of its own, some megabytes, and parses them anew whenever it is refreshed.
func Unbox(cards ...*Card) {
	var all []*Field
	for _, c := range cards {
		for _, r := range c.rows {
			if with, ok := r.(interface{ written() []*Field }); ok {
				all = append(all, with.written()...)
			}
		}
	}
	unbox(all...)
}

func unbox(all ...*Field) {
	beside := container.NewWithoutLayout()
	for _, f := range all {
		beside.Add(f)
	}
	container.NewThemeOverride(beside, bareTheme{})
}

// overLine lays out a field with a line under it.
type overLine struct{ f *Field }

func (l overLine) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Resize(s)
	o[1].Move(fyne.NewPos(0, s.Height-2))
	o[1].Resize(fyne.NewSize(s.Width, l.f.thick()))
}

func (overLine) MinSize(o []fyne.CanvasObject) fyne.Size { return fyne.NewSize(30, 22) }

// bareTheme is the program's theme without boxes round entries.
type bareTheme struct{}

func (bareTheme) Font(s fyne.TextStyle) fyne.Resource {
	return fyne.CurrentApp().Settings().Theme().Font(s)
}
func (bareTheme) Icon(n fyne.ThemeIconName) fyne.Resource {
	return fyne.CurrentApp().Settings().Theme().Icon(n)
}

func (bareTheme) Size(n fyne.ThemeSizeName) float32 {
	switch n {
	case theme.SizeNameInnerPadding:
		return 2
	case theme.SizeNameInputBorder:
		return 0
	}
	return fyne.CurrentApp().Settings().Theme().Size(n)
}

func (bareTheme) Color(n fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	switch n {
	case theme.ColorNameInputBackground, theme.ColorNameInputBorder:
		return color.Transparent
	}
	return fyne.CurrentApp().Settings().Theme().Color(n, v)
}
