package ticket

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"grainstack/app/paper"
	"grainstack/slicing/finding"
)

// looks are the worst of what needs a look and how much there is; a click leads to it, or to the whole list.
type looks struct {
	picked      func(int)
	title       *paper.Words
	worst, more *paper.Pointer
	list        *fyne.Container
	box         fyne.CanvasObject
	shown       []string
	low         bool // there is room for the worst alone
}

func newLooks(picked func(int)) *looks {
	l := &looks{picked: picked, title: paper.Write("Needs a look", paper.Small, paper.Pencil), list: container.New(layout.NewCustomPaddedVBoxLayout(0))}
	l.worst = paper.NewPointer("", func() { picked(0) })
	l.more = paper.NewPointer("", func() { picked(1) }).InInk()
	l.box = container.New(looksLayout{l.list}, paper.Back(paper.Line), l.title, paper.NewScroll(l.list).Whole)
	l.unknown()
	return l
}

func (l *looks) object() fyne.CanvasObject { return l.box }

// unknown shows that nobody has looked yet: that is not the same as nothing to look at.
func (l *looks) unknown() {
	l.shown = nil
	l.title.Say("Needs a look")
	l.only(paper.Write("–", paper.Small, paper.Pencil))
}

// only lists something alone.
func (l *looks) only(o ...fyne.CanvasObject) {
	l.list.Objects = o
	l.list.Refresh()
}

// put shows findings, the worst first.
func (l *looks) put(w finding.Words, all []finding.Finding) {
	texts := make([]string, len(all))
	for i, f := range all {
		texts[i] = w.What(f) // what to do stands in the list
	}
	if len(all) > 0 && slices.Equal(texts, l.shown) {
		return
	}
	l.shown = texts
	defer l.box.Refresh() // the title is of another width
	l.title.Say("Needs a look")
	if len(all) > 1 {
		l.title.Say(fmt.Sprintf("Needs a look · %d", len(all)))
	}
	if len(all) == 0 {
		l.only(paper.Write("nothing", paper.Small, paper.Pencil))
		return
	}
	l.worst.Say(texts[0])
	l.more.Say(fmt.Sprintf("and %d more · S lists them, F3 goes from place to place", len(all)-1))
	l.sentences()
}

// oneLine leaves out how many more there are, which the title tells too, or takes it in again.
func (l *looks) oneLine(on bool) {
	l.low = on
	l.worst.OneLine(on)
	if len(l.shown) > 0 {
		l.sentences()
	}
}

// sentences lists what there is room for.
func (l *looks) sentences() {
	if len(l.shown) == 1 || l.low {
		l.only(l.worst)
	} else {
		l.only(l.worst, l.more)
	}
}

// looksLayout sets a rule at the left, the title on top and the sentences under it; where the ticket stands on one line, the title
// and beside it as much of the worst as there is room for.
type looksLayout struct{ sentences *fyne.Container }

// oneLine is how low the ticket is where it stands on one line.
const oneLine = 60

// leastBeside is the width that the worst wants beside the title; with less the count stands for it.
const leastBeside = 110

func (l looksLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	put := func(i int, x, y, w, h float32) {
		o[i].Move(fyne.NewPos(x, y))
		o[i].Resize(fyne.NewSize(w, h))
	}
	put(0, 0, 0, 1, s.Height)
	list := o[2].(*fyne.Container)
	if s.Height < oneLine {
		wide := o[1].MinSize().Width
		put(1, 10, 0, wide, s.Height)
		high := min(s.Height, l.sentences.MinSize().Height) // or there would be something to scroll
		put(2, 10+wide, (s.Height-high)/2, max(0, s.Width-wide-12), high)
		list.Hidden = list.Size().Width < leastBeside
		return
	}
	put(1, 14, 7, s.Width-20, 15)
	list.Hidden = s.Height < 2*lowHeight // on one line the count stands for the list
	put(2, 9, 22, s.Width-10, s.Height-24)
}

func (looksLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(140, 92) }
