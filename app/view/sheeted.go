package view

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"grainstack/app/paper"
)

// A sheetLayout sets what stands round the picture of a sheet. In a pane that is no wider than usual the caption and the numbers to
// leaf by stand above the picture, facts and tools below it; in a wide one they stand on one line and beside it, and in one that is
// low as well all of them beside it, so that the picture has the height of the pane. numbers and feet may be nil.
type sheetLayout struct {
	caption, numbers, picture, feet fyne.CanvasObject
	facts                           *paper.Lines
}

// sheeted is the picture of a sheet with what stands round it.
func sheeted(caption, numbers, picture fyne.CanvasObject, facts *paper.Lines, feet fyne.CanvasObject) fyne.CanvasObject {
	l := &sheetLayout{caption: caption, numbers: numbers, picture: picture, facts: facts, feet: feet}
	all := container.New(l, picture, caption, facts)
	for _, o := range []fyne.CanvasObject{numbers, feet} {
		if o != nil {
			all.Add(o)
		}
	}
	return all
}

const (
	wideSheet = 600 // from this width on facts and tools stand beside the picture
	lowSheet  = 540 // under this height what stands above it does, too
	besideIt  = 240 // and are so wide, and less in a sheet that is hardly wider
	captionIn = 8
	aboveIt   = 5
	belowIt   = 3
)

func (l *sheetLayout) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	put := func(o fyne.CanvasObject, x, y, w, h float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(max(0, w), max(0, h)))
	}
	high := func(o fyne.CanvasObject) float32 {
		if o == nil {
			return 0
		}
		return o.MinSize().Height
	}
	// feetIn is how high what stands at the foot of the sheet is in a width: words there may take more lines in a narrow one.
	feetIn := func(width float32) float32 {
		if l.feet == nil {
			return 0
		}
		put(l.feet, l.feet.Position().X, l.feet.Position().Y, width, high(l.feet))
		return high(l.feet)
	}
	caption, numbers := high(l.caption)+aboveIt+belowIt, high(l.numbers)
	if s.Width >= wideSheet {
		besideIt := min(besideIt, 0.3*s.Width)
		left, wide := s.Width-besideIt+4, besideIt-8
		feet := feetIn(wide)
		head, y := max(caption, numbers), float32(0)
		if s.Height < lowSheet {
			head, y = 0, caption+numbers
			put(l.caption, left+captionIn, aboveIt, wide-captionIn, high(l.caption))
			if l.numbers != nil {
				put(l.numbers, left, caption, wide, numbers)
			}
		} else {
			half := s.Width * 0.45
			if l.numbers == nil {
				half = s.Width
			} else {
				put(l.numbers, half, head-numbers, s.Width-half, numbers)
			}
			put(l.caption, captionIn, aboveIt, half-2*captionIn, high(l.caption))
			y = head
		}
		put(l.picture, 0, head, s.Width-besideIt, s.Height-head)
		put(l.facts, left, y+4, wide, s.Height-y-feet-12)
		if l.feet != nil {
			put(l.feet, left, s.Height-feet-4, wide, feet)
		}
		return
	}
	put(l.caption, captionIn, aboveIt, s.Width-2*captionIn, high(l.caption))
	y := caption
	if l.numbers != nil {
		put(l.numbers, 0, y, s.Width, numbers)
		y += numbers
	}
	facts, feet := high(l.facts), feetIn(s.Width-4)
	foot := s.Height - facts - feet - 4
	put(l.picture, 0, y, s.Width, foot-y)
	put(l.facts, 2, foot, s.Width-4, facts)
	if l.feet != nil {
		put(l.feet, 2, foot+facts, s.Width-4, feet)
	}
}

func (l *sheetLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	size := l.picture.MinSize()
	for _, o := range []fyne.CanvasObject{l.caption, l.numbers, l.facts, l.feet} {
		if o != nil {
			m := o.MinSize()
			size = fyne.NewSize(max(size.Width, m.Width), size.Height+m.Height)
		}
	}
	return fyne.NewSize(size.Width, size.Height+aboveIt+belowIt+4)
}
