package snag

import (
	"fyne.io/fyne/v2"

	"grainstack/app/paper"
)

// leastWide is the width that the list wants at the least.
const leastWide = 170

// A column sets lines one under another. It keeps how high each is at its width: to measure wrapped text takes longer than all else.
type column struct {
	wide, letters float32
	high          map[fyne.CanvasObject]float32
}

// Layout sets the lines.
func (c *column) Layout(o []fyne.CanvasObject, s fyne.Size) {
	letters := fyne.CurrentApp().Settings().Theme().Size(paper.Small)
	was := c.high
	if s.Width != c.wide || letters != c.letters {
		was = nil
	}
	c.wide, c.letters, c.high = s.Width, letters, make(map[fyne.CanvasObject]float32, len(o))
	y := float32(0)
	for _, one := range o {
		high, known := was[one]
		if !known {
			one.Resize(fyne.NewSize(s.Width, one.MinSize().Height)) // wrapped anew at this width,
			high = one.MinSize().Height                             // so high is it then
			one.Resize(fyne.NewSize(s.Width, high))
		}
		c.high[one] = high
		one.Move(fyne.NewPos(0, y))
		y += high
	}
}

// MinSize is as high as the lines are.
func (c *column) MinSize(o []fyne.CanvasObject) fyne.Size {
	size := fyne.NewSize(leastWide, 0)
	for _, one := range o {
		high, known := c.high[one]
		if !known {
			high = one.MinSize().Height
		}
		size.Height += high
	}
	return size
}
