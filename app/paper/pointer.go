package paper

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

var (
	_ fyne.Tappable      = (*Pointer)(nil)
	_ fyne.Focusable     = (*Pointer)(nil)
	_ desktop.Cursorable = (*Pointer)(nil)
	_ desktop.Hoverable  = (*Pointer)(nil)
)

// A Pointer is a wrapping sentence, red at first, that leads somewhere: by a click, or by Enter while it has the focus.
type Pointer struct {
	widget.BaseWidget
	label   *widget.Label
	tapped  func()
	focused bool
	cut     bool // it stands on one line
}

// NewPointer is a pointer that runs tapped.
func NewPointer(text string, tapped func()) *Pointer {
	p := &Pointer{label: Sentence(Red), tapped: tapped}
	p.label.SetText(text)
	p.ExtendBaseWidget(p)
	return p
}

// InInk writes the sentence in ink: it leads somewhere, but nothing is the matter there.
func (p *Pointer) InInk() *Pointer {
	p.label.Importance = widget.MediumImportance
	return p
}

// OneLine cuts the sentence to one line, in full while the pointer is over it, or ends that.
func (p *Pointer) OneLine(on bool) {
	p.cut, p.label.Wrapping, p.label.Truncation = on, fyne.TextWrapWord, fyne.TextTruncateOff
	if on {
		p.label.Wrapping, p.label.Truncation = fyne.TextWrapOff, fyne.TextTruncateEllipsis
	}
	p.label.Refresh()
}

// Text is what is written.
func (p *Pointer) Text() string { return p.label.Text }

// Say writes something else; nothing is drawn again where nothing changes.
func (p *Pointer) Say(text string) {
	if p.label.Text != text {
		p.label.SetText(text)
	}
}

// Here sets the sentence apart from its neighbours while the view is at its place.
func (p *Pointer) Here(here bool) {
	if p.label.TextStyle.Bold != here {
		p.label.TextStyle.Bold = here
		p.label.Refresh()
	}
}

// Tapped follows the pointer.
func (p *Pointer) Tapped(*fyne.PointEvent) {
	TakeKeys(p)
	p.tapped()
}

// MouseIn, MouseMoved and MouseOut show what is cut.
func (p *Pointer) MouseIn(*desktop.MouseEvent)    { Explain(p, p.label.Text, p.cut) }
func (p *Pointer) MouseMoved(*desktop.MouseEvent) {}
func (p *Pointer) MouseOut()                      { Explain(p, "", false) }

// FocusGained shows that Enter follows this one.
func (p *Pointer) FocusGained() {
	p.focused = true
	p.Refresh()
	Reveal(p)
}

// FocusLost ends that.
func (p *Pointer) FocusLost() {
	p.focused = false
	p.Refresh()
}

// TypedRune is for the window.
func (p *Pointer) TypedRune(r rune) { PassRune(p, r) }

// TypedKey follows the pointer on Enter and the space bar; other keys are the window's.
func (p *Pointer) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		p.tapped()
	default:
		PassOn(p, e)
	}
}

// Cursor is a hand.
func (p *Pointer) Cursor() desktop.Cursor { return desktop.PointerCursor }

// CreateRenderer is the toolkit's, with a ring.
func (p *Pointer) CreateRenderer() fyne.WidgetRenderer {
	return Ringed(widget.NewSimpleRenderer(p.label), p, func() bool { return p.focused })
}
