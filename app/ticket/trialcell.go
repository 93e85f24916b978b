package ticket

import (
	"image"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

var (
	_ fyne.Focusable    = (*trialCell)(nil)
	_ desktop.Mouseable = (*trialCell)(nil)
	_ desktop.Hoverable = (*trialCell)(nil)
)

// Sizes of a trial in the strip, and of its picture.
const (
	cellWidth     = 304
	cellHeight    = 76
	TrialPictureW = 82
	TrialPictureH = 70
)

// A trialCell is one trial: a click or Enter chooses it, a click on its box or the space bar puts it side by side with others,
// Delete removes the chosen one.
type trialCell struct {
	widget.BaseWidget
	strip                         *Strip
	number                        int
	says                          TrialLine
	name, brief, differs, choices *paper.Words
	picture                       *canvas.Raster
	hovered, focused              bool
}

func newTrialCell(s *Strip, number int) *trialCell {
	c := &trialCell{strip: s, number: number,
		name: paper.Write("", paper.Small, paper.Ink).Bold().Cut(), brief: paper.Write("", paper.Small, paper.Ink).Cut(),
		differs: paper.Write("", paper.Small, paper.Ink).Bold().Cut(), choices: paper.Write("", paper.Small, paper.Pencil).Cut(),
	}
	c.picture = canvas.NewRaster(func(int, int) image.Image {
		if c.says.Picture == nil {
			return image.NewUniform(color.Transparent)
		}
		return c.says.Picture
	})
	c.ExtendBaseWidget(c)
	return c
}

func (c *trialCell) put(t TrialLine) {
	if t == c.says {
		return
	}
	c.says = t
	c.name.Say(t.Name)
	c.brief.Say(t.Brief)
	ink := paper.Ink
	if t.Fault {
		ink = paper.Red
	}
	c.brief.In(ink)
	c.differs.Say(t.Differences)
	c.choices.Say(t.Choices)
	c.Refresh()
	if c.hovered || c.focused {
		c.tell()
	}
}

// tell says the whole of what the cell may have had to cut short.
func (c *trialCell) tell() {
	words := ""
	if c.hovered || c.focused {
		words = c.says.Name + ": " + c.says.Brief
		if c.says.Differences != "" {
			words += " · against the bench " + c.says.Differences
		}
		if c.says.Choices != "" {
			words += " · " + c.says.Choices
		}
	}
	c.strip.do.Notice(words)
	paper.Explain(c, words, c.hovered && (c.brief.IsCut() || c.differs.IsCut() || c.choices.IsCut() || c.name.IsCut()))
	c.Refresh()
}

// boxSide is the side of the box to be ticked, and boxRoom the corner in which a click ticks it.
const boxSide, boxRoom = 11, 26

func (c *trialCell) MouseDown(e *desktop.MouseEvent) {
	paper.TakeKeys(c)
	if e.Button != desktop.MouseButtonPrimary {
		return
	}
	if e.Position.X > c.Size().Width-boxRoom && e.Position.Y < boxRoom {
		c.strip.do.Beside(c.number)
		return
	}
	c.strip.do.Choose(c.number)
}

func (c *trialCell) MouseUp(*desktop.MouseEvent)    {}
func (c *trialCell) MouseIn(*desktop.MouseEvent)    { c.hovered = true; c.tell() }
func (c *trialCell) MouseMoved(*desktop.MouseEvent) {}
func (c *trialCell) MouseOut()                      { c.hovered = false; c.tell() }
func (c *trialCell) FocusGained()                   { c.focused = true; c.strip.Show(c.number); c.tell() }
func (c *trialCell) FocusLost()                     { c.focused = false; c.tell() }
func (c *trialCell) TypedRune(r rune)               { paper.PassRune(c, r) }

func (c *trialCell) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		c.strip.do.Choose(c.number)
	case fyne.KeySpace:
		c.strip.do.Beside(c.number)
	case fyne.KeyLeft, fyne.KeyRight:
		next := c.number + 1
		if e.Name == fyne.KeyLeft {
			next = c.number - 1
		}
		if on := fyne.CurrentApp().Driver().CanvasForObject(c); on != nil && next >= 0 && next < len(c.strip.cells) {
			on.Focus(c.strip.cells[next])
		}
	case fyne.KeyDelete:
		if c.says.Chosen {
			c.strip.do.Run("remove trial")
		}
	default:
		c.strip.do.Key(e.Name)
	}
}

func (c *trialCell) CreateRenderer() fyne.WidgetRenderer {
	r := &trialCellRenderer{c: c, back: canvas.NewRectangle(nil), bar: canvas.NewRectangle(nil), rule: canvas.NewRectangle(nil), box: canvas.NewRectangle(nil),
		tick: [2]*canvas.Line{canvas.NewLine(nil), canvas.NewLine(nil)}}
	r.box.StrokeWidth = 1
	for _, l := range r.tick {
		l.StrokeWidth = 1.6
	}
	r.Refresh()
	return paper.Ringed(r, c, func() bool { return c.focused })
}

type trialCellRenderer struct {
	c                    *trialCell
	back, bar, rule, box *canvas.Rectangle
	tick                 [2]*canvas.Line
}

func (r *trialCellRenderer) Layout(s fyne.Size) {
	put := func(o fyne.CanvasObject, x, y, w, h float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(w, h))
	}
	c := r.c
	put(r.back, 0, 0, s.Width, s.Height)
	put(r.bar, 0, 0, 3, s.Height)
	put(r.rule, s.Width-1, 0, 1, s.Height)
	put(c.picture, 7, (s.Height-TrialPictureH)/2, TrialPictureW, TrialPictureH)
	const left = TrialPictureW + 14
	wide := s.Width - left - 8
	put(c.name, left, 3, wide-boxSide-8, 16)
	put(c.brief, left, 20, wide, 16)
	put(c.differs, left, 37, wide, 16)
	put(c.choices, left, 55, wide, 16)
	x, y := s.Width-boxSide-9, float32(6)
	put(r.box, x, y, boxSide, boxSide)
	mid := fyne.NewPos(x+4.5, y+8)
	r.tick[0].Position1, r.tick[0].Position2 = fyne.NewPos(x+2, y+5.5), mid
	r.tick[1].Position1, r.tick[1].Position2 = mid, fyne.NewPos(x+9, y+2.5)
}

func (r *trialCellRenderer) MinSize() fyne.Size { return fyne.NewSize(cellWidth, cellHeight) }
func (r *trialCellRenderer) Destroy()           {}

func (r *trialCellRenderer) Refresh() {
	c := r.c
	t, v := c.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	r.back.FillColor = color.Transparent
	if c.hovered {
		r.back.FillColor = t.Color(theme.ColorNameHeaderBackground, v)
	}
	r.bar.FillColor = color.Transparent
	if c.says.Chosen {
		r.bar.FillColor = t.Color(theme.ColorNamePrimary, v)
	}
	r.rule.FillColor = t.Color(paper.Line, v)
	r.box.FillColor, r.box.StrokeColor = color.Transparent, t.Color(paper.Ruling, v)
	for _, l := range r.tick {
		l.StrokeColor = t.Color(paper.Ink, v)
		l.Hidden = !c.says.Beside
	}
	r.Layout(c.Size())
	canvas.Refresh(c)
}

func (r *trialCellRenderer) Objects() []fyne.CanvasObject {
	c := r.c
	return []fyne.CanvasObject{r.back, c.picture, r.bar, r.rule, c.name, c.brief, c.differs, c.choices, r.box, r.tick[0], r.tick[1]}
}
