package card

import (
	"fmt"
	"image/color"
	"maps"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

// A Card is a title that folds out into its rows. Folded it says in a line what its settings are.
type Card struct {
	widget.BaseWidget
	Title  string
	Number int // the key that opens it
	Folded func(open bool)
	Hinted func(words string) // about what is under the pointer on the head

	summary func(State) string
	rows    []row
	now     State
	head    *head
	line    *widget.Label
	body    *fyne.Container
	whole   *fyne.Container
	open    bool
	pinned  bool
}

func newCard(number int, title string, summary func(State) string, rows ...row) *Card {
	c := &Card{Title: title, Number: number, summary: summary, rows: rows}
	c.head = newHead(title, number, c.Toggle)
	c.head.pinned, c.head.hint = c.Pin, func(words string) {
		if c.Hinted != nil {
			c.Hinted(words)
		}
	}
	c.line = paper.Sentence(paper.Pencil)
	c.body = container.NewVBox()
	for _, r := range rows {
		c.body.Add(r.object())
	}
	c.body.Hide()
	c.whole = container.New(stacked{}, c.head, c.line, c.body, paper.Back(paper.Line))
	c.ExtendBaseWidget(c)
	return c
}

// CreateRenderer is the toolkit's.
func (c *Card) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(c.whole) }

// Put shows a state. A folded card looks only to its line, and reports whether that has changed.
func (c *Card) Put(s State) (line bool) {
	c.now = s
	if !c.open {
		text := c.summary(s)
		if line = c.line.Text != text; line {
			c.line.SetText(text)
		}
		return line
	}
	for _, r := range c.rows {
		r.show(s)
	}
	return false
}

// Held is what is in the card.
func (c *Card) Held() []fyne.CanvasObject { return c.whole.Objects }

// TakeKeys sends the keys to the head; Tab goes on to the rows.
func (c *Card) TakeKeys() { paper.TakeKeys(c.head) }

// TakeKeysFor sends the keys of a window to the field of a figure on the card, by its name; what is typed takes the place of what
// stands there. The field may not have been painted yet, and then doesn't know its window.
func (c *Card) TakeKeysFor(name string, in fyne.Canvas) {
	for _, r := range c.rows {
		if m, ok := r.(*measure); ok && m.Name == name {
			in.Focus(m.field)
			m.field.TypedShortcut(&fyne.ShortcutSelectAll{})
		}
	}
}

// Open says whether the card is folded out.
func (c *Card) Open() bool { return c.open }

// Pinned says whether the card stays open when another is opened.
func (c *Card) Pinned() bool { return c.pinned }

// Pin has the card stay open when another is opened, or ends that. A folded card is folded out with it.
func (c *Card) Pin() {
	c.pinned = !c.pinned
	c.head.fixed = c.pinned
	c.head.Refresh()
	if c.pinned && !c.open {
		c.Toggle()
	}
}

// Toggle folds the card out or in.
func (c *Card) Toggle() {
	c.open = !c.open
	c.pinned = c.pinned && c.open
	c.head.fixed = c.pinned
	c.head.turn(c.open)
	if c.open {
		c.line.Hide()
		c.body.Show()
	} else {
		c.body.Hide()
		c.line.Show()
	}
	c.Put(c.now)
	c.whole.Refresh()
	c.Refresh()
	if c.Folded != nil {
		c.Folded(c.open)
	}
}

// stacked sets the visible objects under one another without gaps; the last, a line, is one unit high.
type stacked struct{}

func (stacked) Layout(o []fyne.CanvasObject, s fyne.Size) {
	y := float32(0)
	for i, c := range o {
		if !c.Visible() {
			continue
		}
		h := c.MinSize().Height
		if i == len(o)-1 {
			y, h = y+6, 1
		}
		c.Move(fyne.NewPos(0, y))
		c.Resize(fyne.NewSize(s.Width, h))
		if h = c.MinSize().Height; h != c.Size().Height && i < len(o)-1 {
			c.Resize(fyne.NewSize(s.Width, h))
		}
		y += c.Size().Height
	}
}

func (stacked) MinSize(o []fyne.CanvasObject) fyne.Size {
	size := fyne.NewSize(0, 7)
	for _, c := range o[:len(o)-1] {
		if c.Visible() {
			m := c.MinSize()
			size = fyne.NewSize(max(size.Width, m.Width), size.Height+m.Height)
		}
	}
	return size
}

// head is a card's title: a click, or Enter while it has the focus, folds the card.
type head struct {
	widget.BaseWidget
	tapped           func()
	pinned           func()
	hint             func(words string)
	title, key       *paper.Words
	open             bool
	fixed            bool // the card is pinned
	hovered, focused bool
}

var (
	_ fyne.Focusable    = (*head)(nil)
	_ fyne.Tappable     = (*head)(nil)
	_ desktop.Hoverable = (*head)(nil)
)

func newHead(title string, number int, tapped func()) *head {
	h := &head{tapped: tapped, title: paper.Write(title, paper.Title, paper.Ink).Bold()}
	h.key = paper.Write(fmt.Sprint(number%10), paper.Tiny, paper.Pencil).Right()
	h.ExtendBaseWidget(h)
	return h
}

func (h *head) turn(open bool) {
	h.open = open
	h.Refresh()
}

// pinRoom is how wide the pin is at the right of a head, and pinFrom how far from its right edge it begins.
const pinRoom, pinFrom = 22, 74

func (h *head) onPin(at fyne.Position) bool {
	x := h.Size().Width - at.X
	return h.open && x <= pinFrom && x > pinFrom-pinRoom
}

// Tapped folds the card out or in, or pins it.
func (h *head) Tapped(e *fyne.PointEvent) {
	paper.TakeKeys(h)
	if h.onPin(e.Position) {
		h.pinned()
		return
	}
	h.tapped()
}

func (h *head) FocusGained()                { h.focused = true; h.Refresh(); paper.Reveal(h) }
func (h *head) FocusLost()                  { h.focused = false; h.Refresh() }
func (h *head) TypedRune(r rune)            { paper.PassRune(h, r) }
func (h *head) MouseIn(*desktop.MouseEvent) { h.hovered = true; h.Refresh() }
func (h *head) MouseMoved(e *desktop.MouseEvent) {
	switch {
	case !h.onPin(e.Position):
		h.hint("")
	case h.fixed:
		h.hint("Pinned: the card stays open when another is opened. A click ends that.")
	default:
		h.hint("A click pins the card: it stays open when another is opened.")
	}
}
func (h *head) MouseOut() {
	h.hovered = false
	h.hint("")
	h.Refresh()
}

func (h *head) Cursor() desktop.Cursor { return desktop.PointerCursor }

func (h *head) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		h.tapped()
	default:
		paper.PassOn(h, e)
	}
}

func (h *head) CreateRenderer() fyne.WidgetRenderer {
	r := &headRenderer{h: h, back: canvas.NewRectangle(nil), mark: canvas.NewText("", nil), pin: canvas.NewCircle(nil), stem: canvas.NewRectangle(nil)}
	r.pin.StrokeWidth = 1.2
	r.Refresh()
	return paper.Ringed(r, h, func() bool { return h.focused })
}

type headRenderer struct {
	h    *head
	back *canvas.Rectangle
	mark *canvas.Text
	pin  *canvas.Circle
	stem *canvas.Rectangle
}

func (r *headRenderer) Layout(s fyne.Size) {
	r.back.Resize(s)
	r.h.title.Move(fyne.NewPos(5, 0))
	r.h.title.Resize(fyne.NewSize(s.Width-50, s.Height))
	r.h.key.Move(fyne.NewPos(s.Width-40, 0))
	r.h.key.Resize(fyne.NewSize(20, s.Height))
	x := s.Width - pinFrom + pinRoom/2
	r.pin.Move(fyne.NewPos(x-3.5, s.Height/2-6))
	r.pin.Resize(fyne.NewSquareSize(7))
	r.stem.Move(fyne.NewPos(x-0.5, s.Height/2+1))
	r.stem.Resize(fyne.NewSize(1, 6))
	m := r.mark.MinSize()
	r.mark.Move(fyne.NewPos(s.Width-14, (s.Height-m.Height)/2))
	r.mark.Resize(m)
}

func (r *headRenderer) MinSize() fyne.Size { return fyne.NewSize(120, 28) }
func (r *headRenderer) Destroy()           {}

func (r *headRenderer) Refresh() {
	t, v := r.h.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	r.back.FillColor = t.Color(theme.ColorNameHover, v)
	r.back.Hidden = !r.h.hovered
	r.mark.Text = "+"
	if r.h.open {
		r.mark.Text = "–"
	}
	r.mark.TextSize, r.mark.Color = 15, t.Color(paper.Pencil, v)
	r.pin.Hidden, r.stem.Hidden = !r.h.open, !r.h.open
	r.pin.StrokeColor, r.stem.FillColor, r.pin.FillColor = t.Color(paper.Pencil, v), t.Color(paper.Pencil, v), color.Transparent
	if r.h.fixed {
		r.pin.StrokeColor, r.stem.FillColor, r.pin.FillColor = t.Color(paper.Wood, v), t.Color(paper.Wood, v), t.Color(paper.Wood, v)
	}
	r.Layout(r.h.Size())
	canvas.Refresh(r.h)
}

func (r *headRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.back, r.h.title, r.h.key, r.mark, r.stem, r.pin}
}

// Places are what can be clicked in a card that is folded out, besides its rules, by what is written on it.
func (c *Card) Places() map[string]fyne.CanvasObject {
	all := map[string]fyne.CanvasObject{}
	if !c.open {
		return all
	}
	for _, r := range c.rows {
		if r, ok := r.(interface {
			places() map[string]fyne.CanvasObject
		}); ok {
			maps.Copy(all, r.places())
		}
	}
	return all
}

// Rules are the rules of a card that is folded out, by what undo calls their settings; none of a folded one.
func (c *Card) Rules() map[string]*Rule {
	all := map[string]*Rule{}
	for _, r := range c.rows {
		if r, ok := r.(interface{ rules() map[string]*Rule }); ok && c.open {
			maps.Copy(all, r.rules())
		}
	}
	return all
}
