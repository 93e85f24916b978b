package app

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
	"grainstack/slicing/unit"
)

// show opens a page over the bench, or over another page; Escape closes the one on top.
func (c *core) show(d dialog.Dialog) {
	c.pages = append(c.pages, d)
	d.SetOnClosed(func() { c.left(d) })
	d.Show()
}

// left takes a page that was closed from those that lie over the bench.
func (c *core) left(d dialog.Dialog) {
	c.pages = slices.DeleteFunc(c.pages, func(o dialog.Dialog) bool { return o == d })
}

// read opens a page that only has to be read.
func (c *core) read(title string, content fyne.CanvasObject, size fyne.Size) {
	var d *dialog.CustomDialog
	d = c.newPage(title, content, size, paper.NewButton("Back to the bench", func() { d.Hide() }))
	c.show(d)
}

// newPage is a page that is not shown yet, as large as is wanted and the window has room for.
func (c *core) newPage(title string, content fyne.CanvasObject, size fyne.Size, buttons ...fyne.CanvasObject) *dialog.CustomDialog {
	d := dialog.NewCustomWithoutButtons(title, content, c.win)
	d.SetButtons(buttons)
	whole := c.win.Canvas().Size()
	d.Resize(fyne.NewSize(min(size.Width, whole.Width-40), min(size.Height, whole.Height-40)))
	return d
}

// covered reports whether a page or a list lies over the bench: then what is below it is left alone.
func (c *core) covered() bool { return c.win.Canvas().Overlays().Top() != nil }

// say tells the maker something that has to be read.
func (c *core) say(title, text string) {
	c.ask(title, text, 190, []string{"Back to the bench"}, func() {})
}

// tellSaved tells that something could not be saved, and why.
func (c *core) tellSaved(err error) { c.say("This could not be saved", c.sentence(err)) }

// ask asks a question. The keys go to the first answer; Escape is the last one.
func (c *core) ask(title, text string, height float32, answers []string, do ...func()) dialog.Dialog {
	label := paper.Sentence(paper.Ink)
	label.SetText(text)
	d := dialog.NewCustomWithoutButtons(title, label, c.win)
	taken := make([]func(), len(do))
	for i := range do {
		taken[i] = func() {
			d.Hide()
			do[i]()
		}
	}
	buttons := paper.NewChoices(d.Hide, answers, taken)
	buttons[0].Importance = widget.HighImportance
	row := make([]fyne.CanvasObject, len(buttons))
	for i, b := range buttons {
		row[i] = b
	}
	d.SetButtons(row)
	d.Resize(fyne.NewSize(min(520, c.win.Canvas().Size().Width-60), height))
	c.show(d)
	c.win.Canvas().Focus(buttons[0])
	return d
}

// sentence is an error as a sentence with a full stop, in the units shown.
func (c *core) sentence(err error) string {
	text := unit.Told(err).In(c.bench.View.Units)
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
