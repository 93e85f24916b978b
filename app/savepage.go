package app

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

// A savePage asks where a file is to be written. It touches nothing: what stands there stays until the whole new file does.
type savePage struct {
	c            *core
	dialog       *dialog.CustomDialog
	name, folder *pathEntry
	said         *widget.Label
	write        *paper.Button
	ending       string // that the name gets where it has none
	replaces     string // the file whose replacing was asked about, "" for none
	chosen       bool
}

// chooseWhere asks for a file to write; then is run with its path, left where nothing is chosen.
func (c *core) chooseWhere(title, name string, then func(path string), left func()) *savePage {
	p := &savePage{c: c, ending: filepath.Ext(name), said: paper.Sentence(paper.Ink)}
	leave := func() { p.dialog.Hide() }
	p.name, p.folder = newPathEntry(leave), newPathEntry(leave)
	p.name.SetText(name)
	p.folder.SetText(filepath.Dir(c.usualDir()))
	confirm := func() {
		if path, ok := p.confirmed(); ok {
			p.chosen = true
			p.dialog.Hide()
			then(path)
		}
	}
	for _, e := range []*pathEntry{p.name, p.folder} {
		e.OnChanged = func(string) { p.say("") }
		e.OnSubmitted = func(string) { confirm() }
	}
	p.write = paper.NewButton("Write", confirm)
	p.write.Importance = widget.HighImportance
	choose := paper.NewButton("Choose…", func() {
		c.choose(chooser{title: "Where the file goes", confirm: "Write here", folder: p.folder.Text, folders: true}, p.folder.SetText)
	})
	form := container.New(layout.NewFormLayout(),
		paper.Write("Name ", paper.Small, paper.Pencil), p.name,
		paper.Write("Folder ", paper.Small, paper.Pencil), container.NewBorder(nil, nil, nil, choose, p.folder))
	p.dialog = dialog.NewCustomWithoutButtons(title, container.NewBorder(form, nil, nil, nil, p.said), c.win)
	p.dialog.SetButtons([]fyne.CanvasObject{paper.NewButton("Back", leave), p.write})
	p.dialog.SetOnClosed(func() {
		if !p.chosen {
			left()
		}
	})
	p.dialog.Resize(fyne.NewSize(min(620, c.win.Canvas().Size().Width-60), 190))
	c.show(p.dialog)
	c.win.Canvas().Focus(p.name)
	return p
}

// say puts a sentence under the fields; what was asked about before is no longer.
func (p *savePage) say(text string) {
	p.replaces = ""
	p.write.SetText("Write")
	p.said.SetText(text)
}

// confirmed is the file that was chosen; not ok where it can't be written, or where it has to be said once more that it is
// to be replaced.
func (p *savePage) confirmed() (path string, ok bool) {
	path, err := p.chosenPath()
	if err != nil {
		p.say(p.c.sentence(err))
		return "", false
	}
	switch info, err := os.Stat(path); {
	case errors.Is(err, os.ErrNotExist) || path == p.replaces:
		return path, true
	case err != nil:
		p.say(p.c.sentence(err))
	case !info.Mode().IsRegular():
		p.say(fmt.Sprintf("%s is no file that could be replaced: give another name.", filepath.Base(path)))
	default:
		p.say(fmt.Sprintf("%s is there already.", filepath.Base(path)))
		p.replaces = path
		p.write.SetText("Replace it")
	}
	return "", false
}

// chosenPath is what the fields say.
func (p *savePage) chosenPath() (string, error) {
	name := strings.TrimSpace(p.name.Text)
	if name == "" || name != filepath.Base(name) || name == "." || name == ".." {
		return "", errors.New("the file needs a name without the signs that part folders")
	}
	if !strings.EqualFold(filepath.Ext(name), p.ending) {
		name += p.ending
	}
	folder, err := filepath.Abs(p.folder.Text)
	if err != nil {
		return "", err
	}
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		return "", fmt.Errorf("there is no folder %s", folder)
	}
	return filepath.Join(folder, name), nil
}
