package card

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"grainstack/app/paper"
)

// A fact is a name and what the state says about it.
type fact struct {
	Name  string
	Say   func(State) string
	Means string // of a name that may need it
}

// facts are lines of names and figures.
type facts struct {
	Each []fact

	said []*paper.Told
	box  *fyne.Container
}

func (f *facts) on() *facts {
	f.box = container.New(stackedTight{})
	for _, one := range f.Each {
		said := paper.Tell("", paper.Small, paper.Ink)
		f.said = append(f.said, said)
		f.box.Add(container.New(namedLayout{}, paper.Tell(one.Name, paper.Small, paper.Pencil).Means(one.Means), said))
	}
	return f
}

func (f *facts) object() fyne.CanvasObject { return f.box }

func (f *facts) show(s State) {
	for i, one := range f.Each {
		f.said[i].Say(one.Say(s))
	}
}

// stackedTight sets lines under one another without gaps.
type stackedTight struct{}

func (stackedTight) Layout(o []fyne.CanvasObject, s fyne.Size) {
	y := float32(0)
	for _, c := range o {
		if !c.Visible() {
			continue
		}
		h := c.MinSize().Height
		c.Move(fyne.NewPos(0, y))
		c.Resize(fyne.NewSize(s.Width, h))
		y += h
	}
}

func (stackedTight) MinSize(o []fyne.CanvasObject) fyne.Size {
	var size fyne.Size
	for _, c := range o {
		if !c.Visible() {
			continue
		}
		m := c.MinSize()
		size = fyne.NewSize(max(size.Width, m.Width), size.Height+m.Height)
	}
	return size
}

// Thousands prints a count with thin gaps between thousands.
func Thousands(n int) string {
	text := fmt.Sprint(n)
	for i := len(text) - 3; i > 0 && text[i-1] != '-'; i -= 3 {
		text = text[:i] + "\u2009" + text[i:]
	}
	return text
}
