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

// A List shows findings one under another. Lines that stay as they are are not made anew, and of new ones only so many at a time that
// the window is not held up: the rest follows in steps.
type List struct {
	do     Do
	later  func(func()) // runs a step once the window has come round
	says   Says
	shown  bool
	column *column
	box    *fyne.Container
	scroll *paper.Scroll
	note   *widget.Entry
	aside  fyne.CanvasObject // the note with its button
	lines  []*line
	picked *line // that is picked, nil for none
	serial int   // counts what was put, so that a step of before is none
	keys   held  // which control of a line had the keys when it was made anew
	reveal bool  // the picked line is to be brought into sight once it is made
}

// A line is one thing of the list, under a name that says all of it.
type line struct {
	name   string
	anew   func() fyne.CanvasObject
	slot   string            // what it is, whatever it says; "" for what has nothing to press
	object fyne.CanvasObject // nil until it is made
	work   int               // what making it costs, of a step's share
}

const (
	atOnce  = 6 // lines that a step makes: about a millisecond
	wayWork = 5 // lines that a way out costs as much as
)

// NewList is an empty list; later hands a function to the window's goroutine.
func NewList(do Do, later func(func())) *List {
	l := &List{do: do, later: later, column: &column{}, note: widget.NewEntry()}
	l.box = container.New(l.column)
	l.note.SetPlaceHolder("a note for the work book")
	aside := func() { l.do.Aside(l.note.Text) }
	l.note.OnSubmitted = func(string) { aside() }
	l.aside = inset(container.NewBorder(nil, nil, nil, button("Set aside", aside), l.note))
	l.scroll = paper.NewScroll(l.box)
	l.scroll.SetMinSize(fyne.NewSize(leastWide, 90))
	return l
}

// Object is the list.
func (l *List) Object() fyne.CanvasObject { return l.scroll.Whole }

// Put shows something else; nothing is laid out anew where nothing changes. It reports whether something did.
func (l *List) Put(s Says) bool {
	if l.shown && reflect.DeepEqual(s, l.says) {
		return false
	}
	if !samePick(s, l.says) && l.note.Text != "" {
		l.note.SetText("") // what is being written stays with its place
	}
	if l.keys.slot == "" {
		l.keys = l.held()
	}
	l.says, l.shown, l.picked = s, true, nil
	l.plan(s)
	l.serial++
	l.step(l.serial)
	return true
}

// plan lists the lines; those that were there before are taken over.
func (l *List) plan(s Says) {
	was := map[string]fyne.CanvasObject{}
	for _, one := range l.lines {
		was[one.name] = one.object
	}
	l.lines = nil
	class := ""
	for i, g := range s.Groups {
		if g.Class != class {
			class = g.Class
			l.add("class "+class, 1, func() fyne.CanvasObject { return head(g.Class) })
		}
		l.group(i, g)
	}
	if len(s.Groups) == 0 {
		l.add("word "+s.Word, 1, func() fyne.CanvasObject { return quiet(s.Word) })
	}
	if n := len(s.Aside); n > 0 {
		text := fmt.Sprintf("set aside · %d", n)
		l.add(text, 1, func() fyne.CanvasObject { return head(text) })
	}
	for i, a := range s.Aside {
		text := a.Text
		if a.Note != "" {
			text += " · " + a.Note
		}
		l.add(fmt.Sprint("aside ", i, text), 1, func() fyne.CanvasObject { return quiet(text) })
		l.add(fmt.Sprint("back ", i), 1, func() fyne.CanvasObject { return inset(row(button("Look at it again", func() { l.do.Back(i) }))) })
	}
	for _, one := range l.lines {
		if o := was[one.name]; o != nil {
			one.object = o
			delete(was, one.name) // a second one of that name is made anew
		}
	}
}

// add adds a line.
func (l *List) add(name string, work int, anew func() fyne.CanvasObject) *line {
	one := &line{name: name, anew: anew, work: work}
	l.lines = append(l.lines, one)
	return one
}

// step makes some of the lines that are missing and shows all that there are.
func (l *List) step(serial int) {
	if serial != l.serial {
		return
	}
	made, missing := 0, false
	var objects []fyne.CanvasObject
	for _, one := range l.lines {
		if one.object == nil {
			if made > 0 && made+one.work > atOnce {
				missing = true
				continue
			}
			one.object = one.anew()
			made += one.work
		}
		objects = append(objects, one.object)
	}
	l.box.Objects = objects
	l.column.Layout(objects, l.box.Size())
	l.scroll.Base.Refresh() // not the lines in it
	if !missing {
		l.hold()
	}
	if l.reveal && l.picked != nil && l.picked.object != nil && !missing {
		l.reveal = false
		l.scroll.ScrollToOffset(fyne.NewPos(0, max(0, l.picked.object.Position().Y-above)))
	}
	if missing {
		l.later(func() { l.step(serial) })
	}
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
	l.reveal = l.picked != nil
	if l.reveal {
		l.step(l.serial)
	}
}

// above is how much of what stands before the picked place is left in sight.
const above = 24

// group adds one sentence with its places.
func (l *List) group(i int, g Group) {
	first := l.add(fmt.Sprint("line ", i, g.Strong, g.Picked == Whole, g.Text), 1, func() fyne.CanvasObject {
		p := paper.NewPointer(g.Text, func() { l.do.Pick(i, Whole) })
		if !g.Strong {
			p.InInk()
		}
		p.Here(g.Picked == Whole)
		return p
	})
	if g.Picked == Whole {
		l.picked = first
		l.detail(g.Detail)
	}
	for k, text := range g.Spots {
		here := g.Picked == k
		one := l.add(fmt.Sprint("spot ", i, " ", k, here, text), 1, func() fyne.CanvasObject {
			mark := "○ "
			if here {
				mark = "● "
			}
			p := paper.NewPointer(mark+text, func() { l.do.Pick(i, k) }).InInk()
			p.Here(here)
			return inset(p)
		})
		if here {
			if l.picked = one; k < 3 { // the sentence is seen with it
				l.picked = first
			}
			l.detail(g.Detail)
		}
	}
	if g.Rest != "" {
		l.add(fmt.Sprint("rest ", i, g.Rest), 1, func() fyne.CanvasObject {
			return inset(paper.NewPointer("+ "+g.Rest, func() { l.do.Unfold(i) }).InInk())
		})
	}
}

// detail adds what stands under the picked place.
func (l *List) detail(d *Detail) {
	if d == nil {
		return
	}
	for _, text := range []string{d.Where, d.Do} {
		if text != "" {
			l.add("detail "+text, 1, func() fyne.CanvasObject { return inset(quiet(text)) })
		}
	}
	for i, w := range d.Ways {
		l.add(fmt.Sprintf("way %d %p %q %q %q %v", i, w.Picture, w.Text, w.Price, w.Worse, w.ByHand), wayWork, func() fyne.CanvasObject {
			return inset(newWayCell(w, func() { l.do.Take(i) }, func() { l.do.Keep(i) }))
		}).slot = fmt.Sprint("way ", i)
	}
	if d.Word != "" {
		l.add("detail "+d.Word, 1, func() fyne.CanvasObject { return inset(quiet(d.Word)) })
	}
	l.add("note", 0, func() fyne.CanvasObject { return l.aside }).slot = "note"
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
