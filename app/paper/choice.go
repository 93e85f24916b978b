package paper

import "fyne.io/fyne/v2"

// A Choice is a button of a question: Enter presses it as the space bar does, arrow keys go to its neighbours, and Escape is
// the question's own.
type Choice struct {
	Button
	escape   func()
	row      []*Choice
	position int
}

var _ fyne.Focusable = (*Choice)(nil)

// NewChoices are the buttons of a question, in their order; escape is what Escape does.
func NewChoices(escape func(), words []string, do []func()) []*Choice {
	all := make([]*Choice, len(words))
	for i := range words {
		c := &Choice{escape: escape, position: i, row: all}
		c.Text, c.OnTapped = words[i], do[i]
		c.ExtendBaseWidget(c)
		all[i] = c
	}
	return all
}

// TypedKey follows the keys.
func (c *Choice) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		c.OnTapped()
	case fyne.KeyEscape:
		c.escape()
	case fyne.KeyLeft:
		c.beside(-1)
	case fyne.KeyRight:
		c.beside(1)
	}
}

// beside sends the keys to a neighbour, round the row.
func (c *Choice) beside(by int) {
	next := c.row[(c.position+by+len(c.row))%len(c.row)]
	if on := fyne.CurrentApp().Driver().CanvasForObject(c); on != nil {
		on.Focus(next)
	}
}
