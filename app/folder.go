package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"grainstack/app/pane"
	"grainstack/app/paper"
)

// A leaf is one of the sheets that take turns in the pane beside the piece. To add one, make it and put it into newFolder.
type leaf struct {
	name  string // on the index above the pane, such as "Panels"
	words string // in the menu and on the page of keys, such as "Panel sheet"
	hint  string // said in the margin while the pointer is over its name
	key   fyne.KeyName
	shop  bool // it shows the workshop, which is worked out at once when it comes to the front

	whole fyne.CanvasObject // picture, caption and foot
	pane  *pane.Picture     // that takes the keys; nil where there is none

	// ask asks for the picture of the present state and reports whether one will come; whoever takes that picture calls
	// window.pay. It is called while the leaf is in front, and only then, whenever something has changed.
	ask func() bool
}

// A folder holds the leaves, one in front.
type folder struct {
	leaves []*leaf
	front  int
	index  *pane.Index
	whole  fyne.CanvasObject
}

// newFolder is the layer sheet with what takes turns with it.
func (w *window) newFolder() *folder {
	f := &folder{leaves: []*leaf{
		{name: "Layer", words: "Layer sheet", hint: "One layer in plan, with its grain", key: fyne.KeyE, whole: w.sheet.whole, pane: w.sheet.Picture, ask: w.askLayer},
		{name: "Panels", words: "Panel sheet", hint: "How the parts lie on the panels", key: fyne.KeyP, shop: true, whole: w.panels.whole, pane: w.panels.Picture, ask: func() bool { return w.askShop(w.panels) }},
		{name: "Glue-up", words: "Glue-up sheet", hint: "The layers lifted apart in the order in which they are glued", key: fyne.KeyU, shop: true, whole: w.glueUp.whole, pane: w.glueUp.Picture, ask: func() bool { return w.askShop(w.glueUp) }},
		{name: "Saw plan", words: "Saw plan", hint: "How the panels are sawn from boards", key: fyne.KeyW, shop: true, whole: w.saws.whole, pane: w.saws.Picture, ask: func() bool { return w.askShop(w.saws) }},
		{name: "Directions", words: "Map of directions", hint: "Which way the stack could run, and what each way comes to", key: fyne.KeyO, whole: w.compass.whole, pane: w.compass.Picture, ask: w.askCompass},
	}}
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
	f.index.Chosen = w.leaf
	f.index.Over = func(i int) {
		if i < 0 {
			w.margin.hint("")
			return
		}
		w.margin.hint(f.leaves[i].hint + " · " + string(f.leaves[i].key))
	}
	head := container.New(layout.NewCustomPaddedLayout(2, 0, 0, 0), f.index)
	f.whole = container.New(layout.NewBorderLayout(head, nil, nil, nil), head, stacked)
	return f
}

// now is the leaf in front.
func (f *folder) now() *leaf { return f.leaves[f.front] }

// shows reports whether a picture is that of the leaf in front.
func (f *folder) shows(p *pane.Picture) bool { return f != nil && f.now().pane == p }

// leaf brings a leaf to the front, and the keys to it unless they go along the index.
func (w *window) leaf(i int) {
	f := w.folder
	if i < 0 || i >= len(f.leaves) || i == f.front {
		return
	}
	last, next := f.now(), f.leaves[i]
	f.front = i
	last.whole.Hide()
	next.whole.Show()
	f.index.Put(f.index.Words(), i)
	if c := w.win.Canvas(); next.pane != nil && c.Focused() != fyne.Focusable(f.index) {
		c.Focus(next.pane) // it can't do that itself before it has been painted once
	}
	w.asked = w.now()
	if next.shop {
		w.askWorkshop()
	}
	next.ask()
	w.showAll()
	w.trace.line("what=leaf name=%q", next.name)
	if w.trace != nil {
		w.post(w.tracePlaces)
	}
}

// leafNamed brings the leaf of a name to the front.
func (w *window) leafNamed(name string) {
	for i, l := range w.folder.leaves {
		if l.name == name {
			w.leaf(i)
		}
	}
}

// leafCommands are those of the folder.
func (w *window) leafCommands() []command {
	all := []command{{name: "next sheet", menu: "View", words: "Next sheet", key: fyne.KeyF9, do: func() { w.leaf((w.folder.front + 1) % len(w.folder.leaves)) }}}
	for i, l := range w.folder.leaves {
		all = append(all, command{name: "sheet " + l.name, menu: "View", words: l.words, key: l.key, do: func() { w.leaf(i) }})
	}
	return all
}

// askSheet asks for the picture of the leaf in front and reports whether one will come.
func (w *window) askSheet() bool { return w.folder != nil && w.folder.now().ask() }

// traceLeaves logs where the names of the leaves are.
func (w *window) traceLeaves() {
	if w.trace == nil {
		return
	}
	x := w.folder.index
	base := fyne.CurrentApp().Driver().AbsolutePositionForObject(x)
	for i, name := range x.Words() {
		at, size := x.Box(i)
		w.trace.line("what=word name=%q at=%.0f,%.0f size=%.0f,%.0f", name, base.X+at.X, base.Y+at.Y, size.Width, size.Height)
	}
}
