package app

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
)

// A chooser is a question for a file that is to be opened.
type chooser struct {
	title, confirm string
	endings        []string // that are shown, all where there are none
	folder         string   // to begin in, "" for where the toolkit was last
}

// choose asks which file to open; then is run with its path, and not at all where nothing is chosen.
func (c *core) choose(q chooser, then func(path string), failed func(error)) {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil {
			failed(err)
			return
		}
		if r == nil {
			return
		}
		path := r.URI().Path()
		r.Close()
		then(path)
	}, c.win)
	d.SetFilter(shown(q.endings))
	if at, err := storage.ListerForURI(storage.NewFileURI(q.folder)); q.folder != "" && err == nil {
		d.SetLocation(at)
	}
	d.SetTitleText(q.title)
	d.SetConfirmText(q.confirm)
	d.SetDismissText("Back")
	c.roomy(d)
}

// chooseFolder asks for a folder, beginning in at; then is run with its path, and not at all where nothing is chosen.
func (c *core) chooseFolder(at, confirm string, then func(path string), failed func(error)) {
	d := dialog.NewFolderOpen(func(to fyne.ListableURI, err error) {
		if err != nil {
			failed(err)
		} else if to != nil {
			then(to.Path())
		}
	}, c.win)
	if place, err := storage.ListerForURI(storage.NewFileURI(at)); err == nil {
		d.SetLocation(place)
	}
	d.SetTitleText("Where the files go")
	d.SetConfirmText(confirm)
	d.SetDismissText("Back")
	c.roomy(d)
}

// roomy shows a file dialog nearly as large as the window.
func (c *core) roomy(d *dialog.FileDialog) {
	d.Resize(c.win.Canvas().Size().Subtract(fyne.NewSize(120, 100)))
	c.show(d)
}

// shown are the endings of the files that a dialog shows, all where there are none.
type shown []string

// Matches shows a folder, and a file that the dialog can open: at a pipe or a device it would wait for good.
func (endings shown) Matches(at fyne.URI) bool {
	if len(endings) > 0 && !slices.Contains(endings, strings.ToLower(at.Extension())) {
		return false
	}
	info, err := os.Stat(at.Path())
	return err == nil && (info.Mode().IsRegular() || info.IsDir())
}

// endingOf is a file's ending as a list, none where it has none.
func endingOf(path string) []string {
	if e := filepath.Ext(path); e != "" {
		return []string{strings.ToLower(e)}
	}
	return nil
}
