package card

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

var (
	_ fyne.Draggable    = (*Rule)(nil)
	_ fyne.Focusable    = (*Rule)(nil)
	_ desktop.Mouseable = (*Rule)(nil)
	_ desktop.Hoverable = (*Rule)(nil)
)

// A Rule is a marked line with a block that slides on it. The stretch from Low to High, where most makers will be, is worn to
// the wood. Changed is called for every step that the hand makes, Rested once at the end of each gesture.
type Rule struct {
	widget.BaseWidget
	Min, Max, Step float64
	Low, High      float64
	Changed        func(float64)
	Rested         func()
	Noticed        func(bool) // the pointer or the keyboard came here, or left

	value            float64
	drawn            float64 // the value that the block was last drawn at
	grip             grip
	hovered, focused bool
	off              bool
}

// A grip is how the hand holds the block.
type grip struct {
	at    float32 // from the block's left edge
	moved bool    // the value, since the hand took hold of it
}

// NewRule is a rule from least to most.
func NewRule(least, most, step float64) *Rule {
	r := &Rule{Min: least, Max: most, Step: step, Low: least, High: most}
	r.ExtendBaseWidget(r)
	return r
}

// Put sets the block without calling anything back.
func (r *Rule) Put(v, least, most float64, off bool) {
	v = math.Max(least, math.Min(most, v))
	if v == r.value && v == r.drawn && least == r.Min && most == r.Max && off == r.off {
		return
	}
	r.value, r.Min, r.Max, r.off = v, least, most, off
	r.Refresh()
}

// Wear moves the stretch where most makers will be.
func (r *Rule) Wear(low, high float64) {
	if low != r.Low || high != r.High {
		r.Low, r.High = low, high
		r.Refresh()
	}
}

// block is the size of the sliding block.
var block = fyne.NewSize(9, 15)

func (r *Rule) travel() float32 { return r.Size().Width - block.Width }

func (r *Rule) left(v float64) float32 {
	if !(r.Max > r.Min) {
		return 0
	}
	return float32(math.Max(0, math.Min(1, (v-r.Min)/(r.Max-r.Min)))) * r.travel()
}

// slide puts the block's left edge at x as the hand does.
func (r *Rule) slide(x float32) {
	if r.travel() <= 0 {
		return
	}
	r.set(r.Min + float64(x/r.travel())*(r.Max-r.Min))
}

// set moves the value by hand: to a whole step, within the rule.
func (r *Rule) set(v float64) {
	if r.off {
		return
	}
	if r.Step > 0 {
		v = math.Round(v/r.Step) * r.Step
		v = math.Round(v*1e6) / 1e6
	}
	v = math.Max(r.Min, math.Min(r.Max, v))
	if v == r.value {
		return
	}
	r.value, r.grip.moved = v, true
	if r.Changed == nil {
		r.Refresh()
		return
	}
	r.Changed(v) // whoever takes it puts it back, and all that hangs on it is drawn together
}

func (r *Rule) rest() {
	if !r.grip.moved {
		return
	}
	r.grip.moved = false
	if r.Rested != nil {
		r.Rested()
	}
}

// MouseDown takes hold of the block, or brings it here.
func (r *Rule) MouseDown(e *desktop.MouseEvent) {
	if e.Button != desktop.MouseButtonPrimary {
		return
	}
	paper.TakeKeys(r)
	at := e.Position.X - r.left(r.value)
	if at >= 0 && at <= block.Width {
		r.grip.at = at
		return
	}
	r.grip.at = block.Width / 2
	r.slide(e.Position.X - r.grip.at)
}

// MouseUp lets go.
func (r *Rule) MouseUp(*desktop.MouseEvent) { r.rest() }

// Dragged slides.
func (r *Rule) Dragged(e *fyne.DragEvent) { r.slide(e.Position.X - r.grip.at) }

// DragEnd lets go.
func (r *Rule) DragEnd() { r.rest() }

// TypedKey moves by a step, or by ten with the page keys; each is a gesture of its own. Other keys are the window's.
func (r *Rule) TypedKey(e *fyne.KeyEvent) {
	step := r.Step
	if step == 0 {
		step = (r.Max - r.Min) / 100
	}
	switch e.Name {
	case fyne.KeyLeft:
		r.set(r.value - step)
	case fyne.KeyRight:
		r.set(r.value + step)
	case fyne.KeyPageDown:
		r.set(r.value - 10*step)
	case fyne.KeyPageUp:
		r.set(r.value + 10*step)
	case fyne.KeyHome:
		r.set(r.Min)
	case fyne.KeyEnd:
		r.set(r.Max)
	default:
		paper.PassOn(r, e)
	}
	r.rest()
}

// TypedRune is for the window.
func (r *Rule) TypedRune(sign rune) { paper.PassRune(r, sign) }

// FocusGained shows that the keys go here.
func (r *Rule) FocusGained() { r.focused = true; r.notice(); paper.Reveal(r) }

// FocusLost ends that.
func (r *Rule) FocusLost() { r.focused = false; r.rest(); r.notice() }

// MouseIn warms the block.
func (r *Rule) MouseIn(*desktop.MouseEvent) { r.hovered = true; r.notice() }

// MouseMoved is not used.
func (r *Rule) MouseMoved(*desktop.MouseEvent) {}

// MouseOut cools it.
func (r *Rule) MouseOut() { r.hovered = false; r.notice() }

func (r *Rule) notice() {
	r.Refresh()
	if r.Noticed != nil {
		r.Noticed(r.focused || r.hovered)
	}
}

// MinSize is the least that a hand can use.
func (r *Rule) MinSize() fyne.Size { return fyne.NewSize(60, 22) }

// CreateRenderer is the toolkit's.
func (r *Rule) CreateRenderer() fyne.WidgetRenderer {
	rr := &ruleRenderer{r: r}
	for _, o := range []**canvas.Rectangle{&rr.line, &rr.worn, &rr.halo, &rr.block} {
		*o = canvas.NewRectangle(nil)
	}
	for i := range rr.marks {
		rr.marks[i] = canvas.NewRectangle(nil)
	}
	rr.style()
	return paper.Laid(rr, r)
}

type ruleRenderer struct {
	r                       *Rule
	line, worn, halo, block *canvas.Rectangle
	marks                   [5]*canvas.Rectangle
}

func (rr *ruleRenderer) style() {
	t, v := rr.r.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	rr.line.FillColor = t.Color(paper.Ruling, v)
	rr.worn.FillColor = t.Color(paper.Wood, v)
	for _, m := range rr.marks {
		m.FillColor = t.Color(paper.Ruling, v)
	}
	rr.block.FillColor = t.Color(paper.Ink, v)
	rr.halo.FillColor = t.Color(theme.ColorNameFocus, v)
	switch {
	case rr.r.off:
		rr.block.FillColor = t.Color(paper.Stale, v)
	case rr.r.hovered:
		rr.block.FillColor = t.Color(theme.ColorNamePrimary, v)
	}
	rr.halo.Hidden = !rr.r.focused
}

func (rr *ruleRenderer) Layout(s fyne.Size) {
	mid := float32(math.Round(float64(s.Height / 2)))
	half := block.Width / 2
	place := func(o fyne.CanvasObject, x, y, w, h float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(w, h))
	}
	place(rr.line, half, mid-0.5, s.Width-2*half, 1)
	low, high := rr.r.left(rr.r.Low), rr.r.left(rr.r.High)
	place(rr.worn, half+low, mid-1.5, max(0, high-low), 3)
	for i, m := range rr.marks {
		place(m, half+float32(i)/4*(s.Width-2*half)-0.5, mid+2, 1, 4)
	}
	x := float32(math.Round(float64(rr.r.left(rr.r.value))))
	place(rr.block, x, mid-block.Height/2, block.Width, block.Height)
	place(rr.halo, x-2.5, mid-block.Height/2-2.5, block.Width+5, block.Height+5)
}

func (rr *ruleRenderer) MinSize() fyne.Size { return rr.r.MinSize() }
func (rr *ruleRenderer) Destroy()           {}
func (rr *ruleRenderer) Refresh() {
	rr.r.drawn = rr.r.value
	rr.style()
	rr.Layout(rr.r.Size())
	canvas.Refresh(rr.r)
}
func (rr *ruleRenderer) Objects() []fyne.CanvasObject {
	all := []fyne.CanvasObject{rr.line, rr.worn}
	for _, m := range rr.marks {
		all = append(all, m)
	}
	return append(all, rr.halo, rr.block)
}
