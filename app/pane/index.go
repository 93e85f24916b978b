package pane

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

var (
	_ fyne.Tappable      = (*Index)(nil)
	_ fyne.Focusable     = (*Index)(nil)
	_ desktop.Hoverable  = (*Index)(nil)
	_ desktop.Cursorable = (*Index)(nil)
)

// An Index is a row of words of which one is chosen: by a click, or by the arrow keys while it has the focus. The chosen one
// is written in ink and underlined, the others in pencil.
type Index struct {
	widget.BaseWidget
	Chosen func(int)   // the hand chose another word
	Over   func(i int) // the pointer is over a word, -1 when it has left
	Whole  bool        // all words are always seen; without, a row that is too long is moved under the chosen one

	words   []string
	at      int
	over    int
	focused bool
	size    fyne.ThemeSizeName
}

// NewIndex is a row of words, the first chosen.
func NewIndex(size fyne.ThemeSizeName, words ...string) *Index {
	x := &Index{words: words, over: -1, size: size}
	x.ExtendBaseWidget(x)
	return x
}

// Words are what can be chosen.
func (x *Index) Words() []string { return x.words }

// At is the chosen word, from 0.
func (x *Index) At() int { return x.at }

// Put shows other words and another choice without telling Chosen.
func (x *Index) Put(words []string, at int) {
	same := at == x.at && len(words) == len(x.words)
	for i := 0; same && i < len(words); i++ {
		same = words[i] == x.words[i]
	}
	if !same {
		x.words, x.at = words, at
		x.Refresh()
	}
}

// Box is where a word lies in the index.
func (x *Index) Box(i int) (fyne.Position, fyne.Size) {
	left, width := x.spots()
	return fyne.NewPos(left[i], 0), fyne.NewSize(width[i], x.Size().Height)
}

const (
	indexGap   = 14 // between words where there is room
	indexTight = 5  // where there is little
	indexFoot  = 4
	indexInset = 8
	indexEdge  = 3 // in place of the inset where there is little room
)

// wide is how wide a word is when it is chosen.
func (x *Index) wide(word string) float32 {
	return fyne.MeasureText(word, x.Theme().Size(x.size), fyne.TextStyle{Bold: true}).Width
}

// spots are where the words stand and how wide they are. Where they don't all fit, the row is moved so that the chosen one is
// seen.
func (x *Index) spots() (left, width []float32) {
	left, width = make([]float32, len(x.words)), make([]float32, len(x.words))
	sum := float32(2 * indexInset)
	for i, w := range x.words {
		width[i] = x.wide(w)
		sum += width[i]
	}
	gap, at := float32(indexGap), float32(indexInset)
	if n := float32(len(x.words) - 1); n > 0 {
		gap = min(gap, (x.Size().Width-sum)/n)
		if gap < indexTight {
			at = indexEdge
			gap = max(indexTight, (x.Size().Width-sum+2*(indexInset-indexEdge))/n)
		}
	}
	for i := range x.words {
		left[i] = float32(math.Round(float64(at))) // between pixels letters would blur
		at += width[i] + gap
	}
	if at-gap > x.Size().Width && x.at < len(left) {
		shift := max(0, min(left[x.at]+width[x.at]/2-x.Size().Width/2, at-gap+indexInset-x.Size().Width))
		for i := range left {
			left[i] -= shift
		}
	}
	return left, width
}

// WordAt is the word at a place, -1 for none.
func (x *Index) WordAt(at fyne.Position) int {
	left, width := x.spots()
	for i := range left {
		if at.X >= left[i]-indexTight/2 && at.X < left[i]+width[i]+indexTight/2 {
			return i
		}
	}
	return -1
}

// Tapped chooses the word under the hand.
func (x *Index) Tapped(e *fyne.PointEvent) { x.choose(x.WordAt(e.Position)) }

func (x *Index) choose(i int) {
	if i < 0 || i >= len(x.words) || i == x.at {
		return
	}
	x.at = i
	x.Refresh()
	if x.Chosen != nil {
		x.Chosen(i)
	}
}

// FocusGained shows that the arrow keys come here.
func (x *Index) FocusGained() { x.focused = true; x.Refresh() }

// FocusLost ends that.
func (x *Index) FocusLost() { x.focused = false; x.Refresh() }

// TypedRune is for the window.
func (x *Index) TypedRune(r rune) { paper.PassRune(x, r) }

// TypedKey goes to a neighbour; other keys are the window's.
func (x *Index) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyLeft:
		x.choose(x.at - 1)
	case fyne.KeyRight:
		x.choose(x.at + 1)
	default:
		paper.PassOn(x, e)
	}
}

// MouseIn, MouseMoved and MouseOut tell which word the pointer is over.
func (x *Index) MouseIn(e *desktop.MouseEvent) { x.hover(x.WordAt(e.Position)) }

// MouseMoved follows the pointer.
func (x *Index) MouseMoved(e *desktop.MouseEvent) { x.hover(x.WordAt(e.Position)) }

// MouseOut tells that it has gone.
func (x *Index) MouseOut() { x.hover(-1) }

func (x *Index) hover(i int) {
	if i == x.over {
		return
	}
	x.over = i
	x.Refresh()
	if x.Over != nil {
		x.Over(i)
	}
}

// Cursor is a hand.
func (x *Index) Cursor() desktop.Cursor { return desktop.PointerCursor }

// CreateRenderer is the toolkit's.
func (x *Index) CreateRenderer() fyne.WidgetRenderer {
	r := &indexRenderer{x: x, under: canvas.NewRectangle(color.Transparent)}
	r.Refresh()
	return paper.Ringed(r, x, func() bool { return x.focused })
}

type indexRenderer struct {
	x     *Index
	lines []*canvas.Text
	under *canvas.Rectangle
}

func (r *indexRenderer) Layout(s fyne.Size) {
	left, width := r.x.spots()
	for i, l := range r.lines {
		l.Move(fyne.NewPos(left[i], (s.Height-indexFoot-l.MinSize().Height)/2))
		l.Resize(fyne.NewSize(width[i], l.MinSize().Height))
		l.Hidden = left[i] < 0 || left[i]+width[i] > s.Width
	}
	r.under.Hidden = len(r.lines) == 0 || r.x.at >= len(left)
	if !r.under.Hidden {
		r.under.Move(fyne.NewPos(left[r.x.at], s.Height-indexFoot))
		r.under.Resize(fyne.NewSize(width[r.x.at], 2))
	}
}

// MinSize is room for a few words, or for all where Whole asks for that.
func (r *indexRenderer) MinSize() fyne.Size {
	t := r.x.Theme()
	wide := float32(100)
	if r.x.Whole {
		wide = 2*indexEdge + indexTight*float32(len(r.x.words)-1)
		for _, w := range r.x.words {
			wide += r.x.wide(w)
		}
	}
	return fyne.NewSize(wide, fyne.MeasureText("M", t.Size(r.x.size), fyne.TextStyle{}).Height+indexFoot+6)
}

func (r *indexRenderer) Refresh() {
	t, v := r.x.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	for len(r.lines) < len(r.x.words) {
		r.lines = append(r.lines, canvas.NewText("", nil))
	}
	r.lines = r.lines[:len(r.x.words)]
	for i, l := range r.lines {
		ink := paper.Pencil
		if i == r.x.at || i == r.x.over {
			ink = paper.Ink
		}
		l.Text, l.TextSize, l.Color = r.x.words[i], t.Size(r.x.size), t.Color(ink, v)
		l.TextStyle = fyne.TextStyle{Bold: i == r.x.at}
		l.Alignment = fyne.TextAlignCenter
	}
	r.under.FillColor = t.Color(paper.Wood, v)
	r.Layout(r.x.Size())
	canvas.Refresh(r.x)
}

func (r *indexRenderer) Objects() []fyne.CanvasObject {
	all := []fyne.CanvasObject{r.under}
	for _, l := range r.lines {
		all = append(all, l)
	}
	return all
}
func (r *indexRenderer) Destroy() {}
