package ticket

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"grainstack/app/paper"
	"grainstack/slicing/finding"
)

// looks are the sentences about what needs a look; a click on one goes there.
type looks struct {
	picked func(int)
	title  *paper.Words
	list   *fyne.Container
	box    fyne.CanvasObject
	shown  []string
}

func newLooks(picked func(int)) *looks {
	l := &looks{picked: picked, title: paper.Write("Needs a look", paper.Small, paper.Pencil), list: container.NewVBox()}
	l.box = container.New(looksLayout{}, paper.Back(paper.Line), l.title, paper.NewScroll(l.list).Whole)
	l.unknown()
	return l
}

func (l *looks) object() fyne.CanvasObject { return l.box }

// unknown shows that nobody has looked yet: that is not the same as nothing to look at.
func (l *looks) unknown() {
	l.shown = nil
	l.title.Say("Needs a look")
	l.list.Objects = []fyne.CanvasObject{paper.Write("–", paper.Small, paper.Pencil)}
	l.list.Refresh()
}

func (l *looks) put(w finding.Words, all []finding.Finding) {
	texts := w.Texts(all)
	if len(all) > 0 && slices.Equal(texts, l.shown) {
		return
	}
	l.shown = texts
	l.title.Say("Needs a look")
	if len(all) > 1 {
		l.title.Say(fmt.Sprintf("Needs a look · %d", len(all)))
	}
	l.list.RemoveAll()
	for i, f := range all {
		l.list.Add(paper.NewPointer(texts[i], func() {
			if layer := f.Layer(); layer > 0 {
				l.picked(layer)
			}
		}))
	}
	if len(all) == 0 {
		l.list.Add(paper.Write("nothing", paper.Small, paper.Pencil))
	}
	l.list.Refresh()
}

// looksLayout sets a rule at the left, the title on top and the sentences under it.
type looksLayout struct{}

func (looksLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	put := func(i int, x, y, w, h float32) {
		o[i].Move(fyne.NewPos(x, y))
		o[i].Resize(fyne.NewSize(w, h))
	}
	put(0, 0, 0, 1, s.Height)
	put(1, 14, 7, s.Width-20, 15)
	put(2, 9, 22, s.Width-10, s.Height-24)
}

func (looksLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(140, 92) }
