package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

// A rowList is rows of which one is picked: by a click, by Enter or by the space bar. Escape is the window's.
type rowList struct{ widget.List }

// newRowList is so many rows, made and written by functions.
func newRowList(count func() int, row func() fyne.CanvasObject, write func(int, fyne.CanvasObject), picked func(int)) *rowList {
	l := &rowList{}
	l.Length, l.CreateItem, l.UpdateItem = count, row, write
	l.HideSeparators = true
	l.OnSelected = func(i widget.ListItemID) {
		l.Unselect(i)
		picked(i)
	}
	l.ExtendBaseWidget(l)
	return l
}

// TypedKey picks by Enter and leaves other keys to the toolkit's list, or to the window.
func (l *rowList) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		l.List.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	case fyne.KeyEscape:
		paper.PassOn(l, e)
	default:
		l.List.TypedKey(e)
	}
}

// toFirst leads the keys from the row that was just picked to the first one, where other rows take their place.
func (l *rowList) toFirst(picked int) {
	for range picked {
		l.List.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	}
}

// A file's line in a list is its name, what it holds, and its size.
func newFileLine() fyne.CanvasObject {
	size := paper.Write("replaces · 000.0 MB", paper.Small, paper.Pencil).Right()
	return container.New(fileLine{}, paper.Write("", paper.Small, paper.Ink).Cut(), paper.Write("", paper.Small, paper.Pencil).Cut(), size)
}

// putLine writes a line, its name bold where more lies behind it.
func putLine(o fyne.CanvasObject, bold bool, words [3]string) {
	for k, text := range words {
		said := o.(*fyne.Container).Objects[k].(*paper.Words)
		said.Strong(bold && k == 0)
		said.Say(text)
	}
}

// fileLine shares a line out among name, what it holds, and size.
type fileLine struct{}

func (fileLine) Layout(o []fyne.CanvasObject, s fyne.Size) {
	s.Width -= 14 // the scroll bar
	size := min(120, s.Width*0.24)
	name := (s.Width - size) * 0.62
	for i, at := range [3][2]float32{{0, name - 8}, {name, s.Width - size - name - 8}, {s.Width - size, size}} {
		o[i].Move(fyne.NewPos(at[0], 0))
		o[i].Resize(fyne.NewSize(at[1], s.Height))
	}
}

func (fileLine) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(260, o[0].MinSize().Height)
}
