package snag

import (
	"slices"

	"fyne.io/fyne/v2"
)

// held is a control of the list by its line and its number there; without a line it is none.
type held struct {
	slot   string
	number int
}

// TakeKeys sends the keys to the first thing that can be done about the picked place; ok is false where there is none.
func (l *List) TakeKeys() (ok bool) {
	for _, one := range l.lines {
		if one.slot == "" || one.object == nil {
			continue
		}
		if all := controls(one.object); len(all) > 0 {
			if c := l.canvas(); c != nil {
				c.Focus(all[0])
				return true
			}
		}
	}
	return false
}

// canvas is that of the list; the toolkit knows that of widgets alone.
func (l *List) canvas() fyne.Canvas {
	return fyne.CurrentApp().Driver().CanvasForObject(l.scroll.Scroll)
}

// held is the control that the keys go to.
func (l *List) held() held {
	c := l.canvas()
	if c == nil || c.Focused() == nil {
		return held{}
	}
	for _, one := range l.lines {
		if one.slot != "" && one.object != nil {
			if i := slices.Index(controls(one.object), c.Focused()); i >= 0 {
				return held{one.slot, i}
			}
		}
	}
	return held{}
}

// hold leaves the keys where they were though the line was made anew.
func (l *List) hold() {
	was := l.keys
	l.keys = held{}
	if was.slot == "" || l.held() == was {
		return
	}
	for _, one := range l.lines {
		if all := controls(one.object); one.slot == was.slot && was.number < len(all) {
			if c := l.canvas(); c != nil {
				c.Focus(all[was.number])
			}
			return
		}
	}
}

// controls are what takes the keys in something, in its order.
func controls(o fyne.CanvasObject) (all []fyne.Focusable) {
	if !o.Visible() {
		return nil
	}
	if f, ok := o.(fyne.Focusable); ok {
		return []fyne.Focusable{f}
	}
	if box, ok := o.(*fyne.Container); ok {
		for _, one := range box.Objects {
			all = append(all, controls(one)...)
		}
	}
	return all
}
