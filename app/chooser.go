package app

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

// A chooser is a question for a file that is to be opened, or for a folder.
type chooser struct {
	title, confirm string
	endings        []string // that are shown, all where there are none
	folder         string   // to begin in, "" for where files usually go
	folders        bool     // a folder is asked for
}

// A choosePage is the page on which a file or a folder is chosen: its path to be typed, and what lies there as a list.
type choosePage struct {
	chooser
	c      *core
	dialog *dialog.CustomDialog
	path   *pathEntry
	list   *rowList
	said   *widget.Label
	dir    string // whose list is shown
	all    []listed
	then   func(path string)
}

// choose asks which file to open, or which folder to take; then is run with its path, and not at all where nothing is chosen.
func (c *core) choose(q chooser, then func(path string)) *choosePage {
	p := &choosePage{chooser: q, c: c, said: paper.Sentence(paper.Red), then: then}
	p.path = newPathEntry(func() { p.dialog.Hide() })
	p.path.OnSubmitted = func(string) { p.take() }
	p.list = newRowList(func() int { return len(p.all) }, newFileLine, p.line, p.pick)
	confirm := paper.NewButton(q.confirm, p.take)
	confirm.Importance = widget.HighImportance
	head := container.NewBorder(nil, nil, paper.Write(map[bool]string{false: "File ", true: "Folder "}[q.folders], paper.Small, paper.Pencil), nil, p.path)
	p.dialog = c.newPage(q.title, container.New(layout.NewBorderLayout(head, p.said, nil, nil), head, p.list, p.said), fyne.NewSize(760, 560), paper.NewButton("Back", func() { p.dialog.Hide() }), confirm)
	c.show(p.dialog)
	dir := q.folder
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		dir = filepath.Dir(c.usualDir())
	}
	p.enter(dir)
	return p
}

// enter lists a folder, and gives the keys to the list. Folders may lie on slow disks: the answer comes when it comes.
func (p *choosePage) enter(dir string) {
	if whole, err := filepath.Abs(dir); err == nil {
		dir = whole
	}
	p.dir = dir
	p.path.SetText(dir)
	p.said.SetText("")
	go func() {
		all, err := listFolder(dir, p.chooser)
		p.c.post(func() {
			if p.dir != dir || !slices.Contains(p.c.pages, dialog.Dialog(p.dialog)) {
				return // left meanwhile
			}
			if err != nil {
				p.said.SetText(p.c.sentence(err))
			}
			p.all = all
			p.list.Refresh()
			p.list.ScrollToTop()
			p.c.win.Canvas().Focus(p.list)
		})
	}()
}

// pick goes into a folder of the list, and takes a file of it.
func (p *choosePage) pick(i int) {
	if i >= len(p.all) {
		return
	}
	one := p.all[i]
	if p.path.SetText(filepath.Join(p.dir, one.name)); one.folder {
		p.list.toFirst(i)
		p.enter(filepath.Join(p.dir, one.name))
		return
	}
	p.take()
}

// take goes where the path leads: it takes a file, or the folder that is asked for, and lists another folder.
func (p *choosePage) take() {
	path := strings.TrimSpace(p.path.Text)
	info, err := os.Stat(path)
	switch {
	case err != nil:
		p.said.SetText(p.c.sentence(err))
	case info.IsDir() && !(p.folders && path == p.dir):
		p.enter(path)
	case info.IsDir() || info.Mode().IsRegular() && !p.folders: // at a pipe or a device it would wait for good
		p.dialog.Hide()
		p.then(path)
	default:
		p.said.SetText(filepath.Base(path) + " is no " + map[bool]string{false: "file that can be opened.", true: "folder."}[p.folders])
	}
}

// line writes a row of the list.
func (p *choosePage) line(i int, o fyne.CanvasObject) {
	if i < len(p.all) {
		one := p.all[i]
		putLine(o, one.folder, one.words())
	}
}

// A listed is a folder or file of a list.
type listed struct {
	name   string
	folder bool
	size   int64 // bytes, of a file
}

// upward is the name of the folder that holds the one listed.
const upward = ".."

func (l listed) words() [3]string {
	switch {
	case l.name == upward:
		return [3]string{upward, "the folder that holds this one", ""}
	case l.folder:
		return [3]string{l.name, "folder", ""}
	}
	return [3]string{l.name, "", fileSize(l.size)}
}

// listFolder lists the folders in a folder, and then the files that a question is for.
func listFolder(dir string, q chooser) (all []listed, err error) {
	if filepath.Dir(dir) != dir {
		all = append(all, listed{name: upward, folder: true})
	}
	entries, err := os.ReadDir(dir)
	var files []listed
	for _, e := range entries {
		info, err := os.Stat(filepath.Join(dir, e.Name())) // what a link leads to
		switch {
		case err != nil || strings.HasPrefix(e.Name(), "."):
		case info.IsDir():
			all = append(all, listed{name: e.Name(), folder: true})
		case info.Mode().IsRegular() && !q.folders && q.shows(e.Name()):
			files = append(files, listed{name: e.Name(), size: info.Size()})
		}
	}
	return append(all, files...), err
}

// shows reports whether a file of a name is of those asked for.
func (q chooser) shows(name string) bool {
	return len(q.endings) == 0 || slices.Contains(q.endings, strings.ToLower(filepath.Ext(name)))
}

// endingOf is a file's ending as a list, none where it has none.
func endingOf(path string) []string {
	if e := filepath.Ext(path); e != "" {
		return []string{strings.ToLower(e)}
	}
	return nil
}
