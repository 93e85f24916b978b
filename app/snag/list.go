package snag

import (
	"fmt"
	"reflect"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

// Says is what the list shows.
type Says struct {
	Groups []Group
	Aside  []Laid
	Word   string // in place of groups, where there are none
}

// A Group is one sentence and the places that it is about.
type Group struct {
	Class  string // how bad it is
	Text   string
	Strong bool     // it is written in red
	Spots  []string // its places, where there are several
	Rest   string   // small ones told together, "" for none: they can be unfolded
	Picked int      // the place that is picked, Whole for all of it, None for none
	Detail *Detail  // of what is picked
}

// What of a group is picked, besides its places by number.
const (
	None  = -2
	Whole = -1
)

// A Detail is what stands under the picked place.
type Detail struct {
	Where string // its layer and its place on a panel
	Do    string // what to do about it
	Ways  []Way
	Word  string // about ways out: that they are being looked for, or that there are none
}

// A Laid is a place that was set aside.
type Laid struct{ Text, Note string }

// Do is what the list reports. Groups, places, ways out and what is set aside are counted from 0.
type Do struct {
	Pick   func(group, place int)
	Unfold func(group int)
	Take   func(way int)
	Keep   func(way int) // as a trial
	Aside  func(note string)
	Back   func(laid int) // it needs a look again
	Key    func(fyne.KeyName)
}

// A List shows findings one under another.
type List struct {
	do     Do
	says   Says
	shown  bool
	box    *fyne.Container
	scroll *paper.Scroll
	note   *widget.Entry
	picked fyne.CanvasObject // the line that is picked
}

// NewList is an empty list.
func NewList(do Do) *List {
	l := &List{do: do, box: container.New(layout.NewCustomPaddedVBoxLayout(0))}
	l.scroll = paper.NewScroll(l.box)
	l.scroll.SetMinSize(fyne.NewSize(170, 90))
	return l
}

// Object is the list.
func (l *List) Object() fyne.CanvasObject { return l.scroll.Whole }

// Put shows something else; nothing is laid out anew where nothing changes. It reports whether something did.
func (l *List) Put(s Says) bool {
	if l.shown && reflect.DeepEqual(s, l.says) {
		return false
	}
	text, here := "", false
	if n := l.note; n != nil && samePick(s, l.says) { // what is being written stays
		c := fyne.CurrentApp().Driver().CanvasForObject(n)
		text, here = n.Text, c != nil && c.Focused() == fyne.Focusable(n)
	}
	l.says, l.shown, l.picked, l.note = s, true, nil, nil
	l.box.RemoveAll()
	defer func() {
		if l.note != nil {
			l.note.SetText(text)
		}
		if c := fyne.CurrentApp().Driver().CanvasForObject(l.box); here && c != nil && l.note != nil {
			c.Focus(l.note)
		}
	}()
	class := ""
	for i, g := range s.Groups {
		if g.Class != class {
			class = g.Class
			l.box.Add(head(class))
		}
		l.group(i, g)
	}
	if len(s.Groups) == 0 {
		l.box.Add(quiet(s.Word))
	}
	if len(s.Aside) > 0 {
		l.box.Add(head(fmt.Sprintf("set aside · %d", len(s.Aside))))
	}
	for i, a := range s.Aside {
		text := a.Text
		if a.Note != "" {
			text += " · " + a.Note
		}
		l.box.Add(quiet(text))
		l.box.Add(inset(row(button("Look at it again", func() { l.do.Back(i) }))))
	}
	l.box.Refresh()
	l.scroll.Refresh()
	return true
}

// samePick reports whether the same place of the same sentence is picked.
func samePick(a, b Says) bool {
	at := func(s Says) (text string, place int) {
		for _, g := range s.Groups {
			if g.Picked != None {
				return g.Text, g.Picked
			}
		}
		return "", None
	}
	ta, pa := at(a)
	tb, pb := at(b)
	return ta == tb && pa == pb
}

// Reveal brings what is picked into sight, at the top where what stands under it needs the room.
func (l *List) Reveal() {
	if l.picked != nil {
		l.scroll.ScrollToOffset(fyne.NewPos(0, max(0, l.picked.Position().Y-above)))
	}
}

// above is how much of what stands before the picked place is left in sight.
const above = 24

// group adds one sentence with its places.
func (l *List) group(i int, g Group) {
	line := paper.NewPointer(g.Text, func() { l.do.Pick(i, Whole) })
	if !g.Strong {
		line.InInk()
	}
	line.Here(g.Picked == Whole)
	l.box.Add(line)
	if g.Picked == Whole {
		l.picked = line
		l.detail(g.Detail)
	}
	for k, text := range g.Spots {
		at := paper.NewPointer("○ "+text, func() { l.do.Pick(i, k) }).InInk()
		one := inset(at)
		l.box.Add(one)
		if g.Picked == k {
			at.Say("● " + text)
			at.Here(true)
			if l.picked = one; k < 3 { // the sentence is seen with it
				l.picked = line
			}
			l.detail(g.Detail)
		}
	}
	if g.Rest != "" {
		l.box.Add(inset(paper.NewPointer("+ "+g.Rest, func() { l.do.Unfold(i) }).InInk()))
	}
}

// detail adds what stands under the picked place.
func (l *List) detail(d *Detail) {
	if d == nil {
		return
	}
	for _, text := range []string{d.Where, d.Do} {
		if text != "" {
			l.box.Add(inset(quiet(text)))
		}
	}
	for i, w := range d.Ways {
		l.box.Add(inset(newWayCell(w, func() { l.do.Take(i) }, func() { l.do.Keep(i) })))
	}
	if d.Word != "" {
		l.box.Add(inset(quiet(d.Word)))
	}
	l.note = widget.NewEntry()
	l.note.SetPlaceHolder("a note for the work book")
	aside := func() { l.do.Aside(l.note.Text) }
	l.note.OnSubmitted = func(string) { aside() }
	l.box.Add(inset(container.NewBorder(nil, nil, nil, button("Set aside", aside), l.note)))
}

func head(text string) fyne.CanvasObject {
	return container.New(layout.NewCustomPaddedLayout(6, 0, 8, 6), paper.Write(text, paper.Small, paper.Pencil))
}

func quiet(text string) fyne.CanvasObject {
	s := paper.Sentence(paper.Pencil)
	s.SetText(text)
	return s
}

// inset moves something in under a sentence.
func inset(o fyne.CanvasObject) fyne.CanvasObject {
	return container.New(layout.NewCustomPaddedLayout(0, 0, 10, 4), o)
}

func row(o ...fyne.CanvasObject) fyne.CanvasObject { return container.NewHBox(o...) }

func button(text string, do func()) *paper.Button { return paper.NewButton(text, do).Quiet() }
