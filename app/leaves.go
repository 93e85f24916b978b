package app

import (
	"fyne.io/fyne/v2"

	"grainstack/app/pane"
	"grainstack/app/state"
)

// makeLeaves makes the layer sheet and those that take turns with it, in the order of their names on the index.
func (w *window) makeLeaves() []*leaf {
	return []*leaf{
		w.leafOf(leaf{name: "Layer", words: "Layer sheet", hint: "One layer in plan, with its grain", key: fyne.KeyE}, w.sheet),
		w.leafOf(leaf{name: panelsName, words: "Panel sheet", hint: "How the parts lie on the panels", key: fyne.KeyP, shop: true, show: w.tools.show}, w.panels),
		w.leafOf(leaf{name: "Glue-up", words: "Glue-up sheet", hint: "The layers lifted apart in the order in which they are glued", key: fyne.KeyU, shop: true}, w.glueUp),
		w.leafOf(leaf{name: "Saw plan", words: "Saw plan", hint: "How the panels are sawn from boards", key: fyne.KeyW, shop: true}, w.saws),
		w.leafOf(leaf{name: state.ProgramsSheet, words: "Programs at work", hint: "What the machine's programs make of each panel, minute by minute", key: fyne.KeySemicolon, shop: true}, w.programs),
		w.leafOf(leaf{name: "Directions", words: "Map of directions", hint: "Which way the stack could run, and what each way comes to", key: fyne.KeyO}, w.compass),
		w.leafOf(leaf{name: snagsName, words: "What needs a look", hint: "What needs a look, the worst first, with ways out of it", key: fyne.KeyS, whole: w.snagPage(w.plan), show: w.showSnags}, w.plan),
	}
}

// leafOf completes a leaf by its view: with what stands round it, and what writes that.
func (c *core) leafOf(l leaf, v interface {
	drawer
	Parts() (*pane.Picture, fyne.CanvasObject)
}) *leaf {
	picture, whole := v.Parts()
	l.view, l.pane = v, picture
	if l.whole == nil {
		l.whole = whole
	}
	if s, ok := v.(interface{ Write(*state.Bench) }); ok {
		more := l.show
		l.show = func() {
			s.Write(c.bench)
			if more != nil {
				more()
			}
		}
	}
	return &l
}
