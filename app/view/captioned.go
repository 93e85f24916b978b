package view

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"grainstack/app/paper"
)

func newCaption() *paper.Told { return paper.Tell("", paper.Small, paper.Pencil) }

// captioned sets a line of words above a picture, and what stands below it, nil for nothing.
func captioned(caption, picture, foot fyne.CanvasObject) fyne.CanvasObject {
	head := container.New(layout.NewCustomPaddedLayout(5, 3, 8, 6), caption)
	if foot == nil {
		return container.New(layout.NewBorderLayout(head, nil, nil, nil), picture, head)
	}
	return container.New(layout.NewBorderLayout(head, foot, nil, nil), picture, head, foot)
}

func footed(foot fyne.CanvasObject) fyne.CanvasObject {
	return container.New(layout.NewCustomPaddedLayout(0, 4, 2, 2), foot)
}
