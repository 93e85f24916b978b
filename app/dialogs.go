package app

import (
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
)

// show opens a page over the bench; Escape closes it.
func (c *core) show(d dialog.Dialog) {
	c.page = d
	d.Show()
}

// say tells the maker something that has to be read.
func (c *core) say(title, text string) {
	label := widget.NewLabel(text)
	label.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustom(title, "Back to the bench", label, c.win)
	d.Resize(fyne.NewSize(min(460, c.win.Canvas().Size().Width-80), 190))
	c.show(d)
}

// sentence is an error as a sentence: with a capital and a full stop.
func sentence(err error) string {
	text := err.Error()
	if text == "" {
		return text
	}
	if !strings.HasSuffix(text, ".") {
		text += "."
	}
	return text
}

// usualDir is where files go until the maker says otherwise: beside the job or the piece, else in the home folder.
func (c *core) usualDir() string {
	beside := c.bench.Path
	if beside == "" && c.bench.Model != nil {
		beside = c.bench.Model.Piece.File
	}
	dir, err := os.UserHomeDir()
	if whole, wrong := filepath.Abs(beside); beside != "" && wrong == nil {
		dir = filepath.Dir(whole)
	} else if err != nil {
		dir = os.TempDir()
	}
	name := "piece"
	if c.bench.Model != nil {
		name = c.bench.Model.Piece.Name
	}
	return filepath.Join(dir, name+" workshop")
}
