package app

import (
	"slices"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"grainstack/app/pane"
	"grainstack/app/paper"
)

// A leaf is one of the sheets that take turns in the pane beside the piece. To add one, make it in makeLeaves.
type leaf struct {
	name  string // on the index above the pane, such as "Panels"
	words string // in the menu and on the page of keys, such as "Panel sheet"
	hint  string // said in the margin while the pointer is over its name
	key   fyne.KeyName
	shop  bool // it shows the workshop, which is worked out at once when it comes to the front

	whole fyne.CanvasObject // picture, caption and foot; those of the view where nothing is said
	show  func()            // shows what stands round the picture and the view doesn't write, nil for nothing
	pane  *pane.Picture     // that takes the keys
	view  drawer
}

// panelsName is the name of the panel sheet.
const panelsName = "Panels"

// A binder holds the leaves, one in front.
type binder struct {
	*core
	leaves []*leaf
	front  int
	index  *pane.Index
	whole  fyne.CanvasObject
	came   func(*leaf) // a leaf has come to the front
}

// newBinder holds leaves, the first in front.
func newBinder(c *core, leaves []*leaf) *binder {
	f := &binder{core: c, leaves: leaves}
	c.bench.Screen.Sheet = leaves[0].name
	var names []string
	stacked := container.NewStack()
	for i, l := range f.leaves {
		names = append(names, l.name)
		if i > 0 {
			l.whole.Hide()
		}
		stacked.Add(l.whole)
	}
	f.index = pane.NewIndex(paper.Small, names...)
	f.index.Whole = true
	f.index.Chosen = f.turnTo
	f.index.Over = func(i int) {
		if i < 0 {
			c.Hint("")
			return
		}
		c.Hint(f.leaves[i].hint + " · " + string(f.leaves[i].key))
	}
	head := container.New(layout.NewCustomPaddedLayout(2, 0, 0, 0), f.index)
	f.whole = container.New(layout.NewBorderLayout(head, nil, nil, nil), head, stacked)
	return f
}

// inFront is the leaf in front.
func (f *binder) inFront() *leaf { return f.leaves[f.front] }

// turnTo brings a leaf to the front, and the keys to it unless they go along the index.
func (f *binder) turnTo(i int) {
	if i < 0 || i >= len(f.leaves) || i == f.front {
		return
	}
	last, next := f.inFront(), f.leaves[i]
	f.front = i
	last.whole.Hide()
	next.whole.Show()
	f.index.Put(f.index.Words(), i)
	if c := f.win.Canvas(); c.Focused() != fyne.Focusable(f.index) {
		c.Focus(next.pane) // it can't do that itself before it has been painted once
	}
	f.bench.Screen.Sheet, f.bench.Compass.Pointed = next.name, nil
	f.came(next)
	f.changed()
	f.trace.line("what=leaf name=%q", next.name)
	f.trace.placesLater()
}

// count writes how much there is on the leaf of a name beside it, nothing for none. It reports whether the names want more room.
func (f *binder) count(name string, n int) (grown bool) {
	before := f.index.MinSize().Width
	words := slices.Clone(f.index.Words())
	for i, l := range f.leaves {
		if words[i] = l.name; l.name == name && n > 0 {
			words[i] += " " + strconv.Itoa(n)
		}
	}
	f.index.Put(words, f.front)
	return f.index.MinSize().Width > before
}

// named brings the leaf of a name to the front.
func (f *binder) named(name string) {
	for i, l := range f.leaves {
		if l.name == name {
			f.turnTo(i)
		}
	}
}

// leafCommands are those of the binder.
func (f *binder) leafCommands() []command {
	all := []command{{name: "next sheet", menu: "View", words: "Next sheet", key: fyne.KeyF9, do: func() { f.turnTo((f.front + 1) % len(f.leaves)) }}}
	for i, l := range f.leaves {
		all = append(all, command{name: "sheet " + l.name, menu: "View", words: l.words, key: l.key, do: func() { f.turnTo(i) }})
	}
	return all
}

// tracePlaces logs where the names of the leaves are.
func (f *binder) tracePlaces() {
	if f.trace == nil {
		return
	}
	base := fyne.CurrentApp().Driver().AbsolutePositionForObject(f.index)
	for i, name := range f.index.Words() {
		at, size := f.index.Box(i)
		f.trace.line("what=word name=%q at=%.0f,%.0f size=%.0f,%.0f", name, base.X+at.X, base.Y+at.Y, size.Width, size.Height)
	}
}
