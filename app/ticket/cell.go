package ticket

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

var (
	_ fyne.Focusable    = (*cell)(nil)
	_ fyne.Tappable     = (*cell)(nil)
	_ desktop.Hoverable = (*cell)(nil)
)

// An entry is what a cell says.
type entry struct {
	figure, unit, note string
	from               string // where the figure comes from and how sure it is
	red                bool
}

// A cell is one total.
type cell struct {
	widget.BaseWidget
	name                     *paper.Words
	figure, unit, note       *paper.Words
	versus                   *paper.Words // the difference from the chosen trial
	against                  string       // its name
	says                     entry
	noticed                  func(string)
	hovered, focused, staled bool
	low                      bool // it stands on one line, without its note
}

func newCell(name string, noticed func(string)) *cell {
	c := &cell{
		name: paper.Write(name, paper.Small, paper.Pencil).Cut(), figure: paper.Write("–", paper.Figure, paper.Ink),
		unit: paper.Write("", paper.Small, paper.Pencil).Cut(), note: paper.Write("", paper.Small, paper.Pencil).Cut(),
		versus:  paper.Write("", paper.Small, paper.Ink).Bold().Right(),
		noticed: noticed,
	}
	c.ExtendBaseWidget(c)
	return c
}

func (c *cell) put(e entry, stale bool) {
	changed := e.figure != c.says.figure || e.unit != c.says.unit
	c.says, c.staled = e, stale
	c.figure.Say(e.figure)
	c.unit.Say(e.unit)
	c.note.Say(e.note)
	ink := paper.Ink
	switch {
	case stale:
		ink = paper.Stale
	case e.red:
		ink = paper.Red
	}
	c.figure.In(ink)
	if changed {
		c.Refresh()
	}
	if c.hovered || c.focused {
		c.tell()
	}
}

func (c *cell) tell() {
	if c.hovered || c.focused {
		words := c.name.Text() + ": " + c.says.from
		if c.against != "" {
			words = c.versus.Text() + " against " + c.against + " · " + words
		}
		c.noticed(words)
	} else {
		c.noticed("")
	}
	paper.Explain(c, c.cut(), c.hovered)
	c.Refresh()
}

// cut is what of the cell does not fit into it, "" where all does.
func (c *cell) cut() string {
	for _, w := range []*paper.Words{c.name, c.unit, c.note} {
		if w.IsCut() || c.low && w == c.note && w.Text() != "" {
			return c.name.Text() + ": " + c.figure.Text() + " " + c.unit.Text() + " · " + c.note.Text()
		}
	}
	return ""
}

func (c *cell) Tapped(*fyne.PointEvent)        { paper.TakeKeys(c) }
func (c *cell) FocusGained()                   { c.focused = true; c.tell() }
func (c *cell) FocusLost()                     { c.focused = false; c.tell() }
func (c *cell) TypedRune(r rune)               { paper.PassRune(c, r) }
func (c *cell) TypedKey(e *fyne.KeyEvent)      { paper.PassOn(c, e) }
func (c *cell) MouseIn(*desktop.MouseEvent)    { c.hovered = true; c.tell() }
func (c *cell) MouseMoved(*desktop.MouseEvent) {}
func (c *cell) MouseOut()                      { c.hovered = false; c.tell() }

func (c *cell) CreateRenderer() fyne.WidgetRenderer {
	r := &cellRenderer{c: c, back: canvas.NewRectangle(nil), rule: canvas.NewRectangle(nil)}
	return paper.Ringed(r, c, func() bool { return c.focused })
}

type cellRenderer struct {
	c          *cell
	back, rule *canvas.Rectangle
}

func (r *cellRenderer) Layout(s fyne.Size) {
	const left = 14
	c := r.c
	put := func(o fyne.CanvasObject, x, y, w, h float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(w, h))
	}
	put(r.back, 1, 0, s.Width-1, s.Height)
	put(r.rule, 0, 0, 1, s.Height)
	if c.low {
		r.layoutLow(s)
		return
	}
	by := float32(0)
	if c.versus.Text() != "" {
		by = c.versus.MinSize().Width + 6
	}
	put(c.name, left, 7, max(0, s.Width-left-4-by), 15)
	put(c.versus, left, 7, s.Width-left-8, 15)
	w := c.figure.MinSize().Width
	put(c.figure, left, 21, w, 30)
	put(c.unit, left+w+6, 28, max(0, s.Width-left-w-8), 20)
	put(c.note, left, 52, s.Width-left-4, 16)
}

// layoutLow sets name, figure and unit beside one another.
func (r *cellRenderer) layoutLow(s fyne.Size) {
	c := r.c
	put := func(o *paper.Words, x, w float32) {
		o.Move(fyne.NewPos(x, 0))
		o.Resize(fyne.NewSize(max(0, w), s.Height))
	}
	const left, gap = 10, 5
	figure, unit := c.figure.MinSize().Width, c.unit.Wide()
	room := s.Width - left - figure - 2*gap
	name := min(c.name.Wide(), max(room*0.55, room-unit-gap))
	put(c.name, left, name)
	put(c.figure, left+name+gap, figure)
	at := left + name + figure + 2*gap
	if c.versus.Text() != "" { // in place of the unit
		put(c.unit, at, 0)
		put(c.versus, at, s.Width-at-4)
		return
	}
	put(c.versus, at, 0)
	put(c.unit, at, s.Width-at-2)
}

func (r *cellRenderer) MinSize() fyne.Size {
	if r.c.low {
		return fyne.NewSize(96, lowHeight)
	}
	return fyne.NewSize(96, 76)
}

func (r *cellRenderer) Destroy() {}
func (r *cellRenderer) Refresh() {
	t, v := r.c.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	r.rule.FillColor = t.Color(paper.Line, v)
	r.back.FillColor = t.Color(paper.Sheet, v)
	if r.c.hovered {
		r.back.FillColor = t.Color(theme.ColorNameHeaderBackground, v)
	}
	r.c.note.Hidden = r.c.low
	r.Layout(r.c.Size())
	canvas.Refresh(r.c)
}

func (r *cellRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.back, r.rule, r.c.name, r.c.versus, r.c.figure, r.c.unit, r.c.note}
}
