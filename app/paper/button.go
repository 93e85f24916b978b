package paper

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// A Button is the toolkit's, but for the keys: Enter presses it as the space bar does, keys that it has no use for go to the
// window, and it is ringed and brought into sight while they come to it.
type Button struct {
	widget.Button
	focused bool
}

// NewButton is a button.
func NewButton(text string, tapped func()) *Button {
	b := &Button{}
	b.Text, b.OnTapped = text, tapped
	b.ExtendBaseWidget(b)
	return b
}

// Quiet takes the button's ground away until the pointer is over it.
func (b *Button) Quiet() *Button { b.Importance = widget.LowImportance; return b }

// Allow greys it, or ends that.
func (b *Button) Allow(on bool) {
	switch {
	case on == !b.Disabled():
	case on:
		b.Enable()
	default:
		b.Disable()
	}
}

// Say writes other words on it.
func (b *Button) Say(words string) {
	if b.Text != words {
		b.SetText(words)
	}
}

// FocusGained rings it.
func (b *Button) FocusGained() {
	b.focused = true
	b.Button.FocusGained()
	Reveal(b)
}

// FocusLost ends that.
func (b *Button) FocusLost() {
	b.focused = false
	b.Button.FocusLost()
}

// Tapped presses it: a click brings the keys here, so that none goes on into a field that was typed in before.
func (b *Button) Tapped(e *fyne.PointEvent) {
	if e != nil && !b.Disabled() {
		TakeKeys(b)
	}
	b.Button.Tapped(e)
}

// TypedKey presses it.
func (b *Button) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		b.Tapped(nil)
	default:
		PassOn(b, e)
	}
}

// TypedRune is for the window.
func (b *Button) TypedRune(r rune) {
	if r != ' ' {
		PassRune(b, r)
	}
}

// CreateRenderer is the toolkit's, with a ring.
func (b *Button) CreateRenderer() fyne.WidgetRenderer {
	return Ringed(b.Button.CreateRenderer(), b, func() bool { return b.focused })
}

// A Check is the toolkit's, with the keys as a Button has them; the space bar ticks it.
type Check struct {
	widget.Check
	focused bool
}

// NewCheck is a box to be ticked.
func NewCheck(text string, changed func(bool)) *Check {
	c := &Check{}
	c.Text, c.OnChanged = text, changed
	c.ExtendBaseWidget(c)
	return c
}

// FocusGained rings it.
func (c *Check) FocusGained() {
	c.focused = true
	c.Check.FocusGained()
	Reveal(c)
}

// FocusLost ends that.
func (c *Check) FocusLost() {
	c.focused = false
	c.Check.FocusLost()
}

// TypedKey is for the window; the space bar comes as a sign.
func (c *Check) TypedKey(e *fyne.KeyEvent) {
	if e.Name != fyne.KeySpace {
		PassOn(c, e)
	}
}

// TypedRune ticks it by the space bar.
func (c *Check) TypedRune(r rune) {
	if r == ' ' {
		c.Check.TypedRune(r)
		return
	}
	PassRune(c, r)
}

// CreateRenderer is the toolkit's, with a ring.
func (c *Check) CreateRenderer() fyne.WidgetRenderer {
	return Ringed(c.Check.CreateRenderer(), c, func() bool { return c.focused })
}
