package paper

import (
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

var (
	_ desktop.Hoverable  = (*Lines)(nil)
	_ desktop.Cursorable = (*Lines)(nil)
	_ fyne.Tappable      = (*Lines)(nil)
)

// Lines are words that ask for a fixed number of lines, so that what stands above them stays where it is whatever they say, and use
// as many as there is room for. What does not fit is cut short, and stands in full on a slip while the pointer is over it.
type Lines struct {
	widget.BaseWidget
	Follow func() // follows what is written to where it leads; nil for words that lead nowhere

	text  string
	count int
	whole bool
	cut   bool
}

// NewLines are so many lines, in pencil.
func NewLines(count int) *Lines {
	l := &Lines{count: count}
	l.ExtendBaseWidget(l)
	return l
}

// Whole lets the words ask for as many lines more as they take in the width that they were last given.
func (l *Lines) Whole() *Lines {
	l.whole = true
	return l
}

// Text is what is written.
func (l *Lines) Text() string { return l.text }

// Say writes something else; nothing is drawn again where nothing changes.
func (l *Lines) Say(text string) {
	if text != l.text {
		l.text = text
		l.Refresh()
	}
}

// MouseIn tells what was cut short.
func (l *Lines) MouseIn(*desktop.MouseEvent) { Explain(l, l.text, l.cut) }

// MouseMoved is not used.
func (l *Lines) MouseMoved(*desktop.MouseEvent) {}

// MouseOut ends that.
func (l *Lines) MouseOut() { Explain(l, "", false) }

// Tapped follows what is written.
func (l *Lines) Tapped(*fyne.PointEvent) {
	if l.Follow != nil {
		l.Follow()
	}
}

// Cursor is a hand over words that may lead somewhere.
func (l *Lines) Cursor() desktop.Cursor {
	if l.Follow != nil {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// lineInset is as far as the toolkit's labels stand in.
const lineInset = 5

// flow is the text in lines of a width, the last ending in an ellipsis where there is more.
func (l *Lines) flow(width float32, count int) (lines []string, cut bool) {
	size := l.Theme().Size(Small)
	fits := func(s string) bool { return fyne.MeasureText(s, size, fyne.TextStyle{}).Width <= width }
	for part := range strings.SplitSeq(l.text, "\n") {
		line := ""
		for word := range strings.FieldsSeq(part) {
			switch longer := strings.TrimSpace(line + " " + word); {
			case line == "" || fits(longer):
				line = longer
			default:
				lines, line = append(lines, line), word
			}
		}
		lines = append(lines, line)
	}
	if len(lines) <= count {
		return lines, false
	}
	last := []rune(lines[count-1])
	for len(last) > 0 && !fits(string(last)+" …") {
		last = last[:len(last)-1]
	}
	return append(lines[:count-1:count-1], string(last)+" …"), true
}

// CreateRenderer is the toolkit's.
func (l *Lines) CreateRenderer() fyne.WidgetRenderer {
	r := &linesRenderer{l: l}
	r.style()
	return Laid(r, l)
}

type linesRenderer struct {
	l     *Lines
	lines []*canvas.Text
	size  fyne.Size
}

func (r *linesRenderer) style() {
	t, v := r.l.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	said, count := []string(nil), max(1, int((r.size.Height+1)/r.deep()))
	if r.size.Width > 0 {
		said, r.l.cut = r.l.flow(r.size.Width-2*lineInset, count)
	}
	for len(r.lines) < len(said) {
		r.lines = append(r.lines, canvas.NewText("", nil))
	}
	for i, one := range r.lines {
		one.Text = ""
		if i < len(said) {
			one.Text = said[i]
		}
		one.TextSize, one.Color = t.Size(Small), t.Color(Pencil, v)
	}
}

func (r *linesRenderer) deep() float32 {
	return fyne.MeasureText("M", r.l.Theme().Size(Small), fyne.TextStyle{}).Height
}

func (r *linesRenderer) Layout(s fyne.Size) {
	r.size = s
	r.style()
	r.place()
}

func (r *linesRenderer) place() {
	s := r.size
	for i, one := range r.lines {
		one.Move(fyne.NewPos(lineInset, float32(i)*r.deep()))
		one.Resize(fyne.NewSize(s.Width-2*lineInset, r.deep()))
	}
}

func (r *linesRenderer) MinSize() fyne.Size {
	count := r.l.count
	if r.l.whole && r.size.Width > 0 {
		all, _ := r.l.flow(r.size.Width-2*lineInset, math.MaxInt)
		count = max(count, len(all))
	}
	return fyne.NewSize(60, float32(count)*r.deep()+2)
}

func (r *linesRenderer) Destroy() {}

func (r *linesRenderer) Refresh() {
	r.style()
	r.place()
	canvas.Refresh(r.l)
}

func (r *linesRenderer) Objects() []fyne.CanvasObject {
	all := make([]fyne.CanvasObject, len(r.lines))
	for i, one := range r.lines {
		all[i] = one
	}
	return all
}
