package app

import (
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"

	"grainstack/app/picture"
	"grainstack/app/state"
	"grainstack/app/view"
	"grainstack/app/work"
	"grainstack/render/sheet"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/mesh"
	"grainstack/slicing/scans"
)

// A filing opens, saves and keeps what is on the bench.
type filing struct {
	*core
	on       *views
	tasks    *tasks
	kept     keeping
	leaving  func()        // what is to be done once the job is saved, nil for nothing
	question dialog.Dialog // whether to leave unsaved work, nil while it is not open
	asks     int           // counts what was asked of tasks
	menu     func()        // makes the menu anew
	joiner   *joiner
}

// nextAsk is another number for what is asked of a task each time anew.
func (f *filing) nextAsk() int {
	f.asks++
	return f.asks
}

// openPiece opens another piece, but asks first where something would be lost.
func (f *filing) openPiece(path string) {
	f.askToLeave([]string{"Save it and open", "Open without it", "Stay"}, func() { f.openNow(path) })
}

// openNow asks for another piece; the one on the screen stays until it is there. Without a path it is the demo piece.
func (f *filing) openNow(path string) { f.openMoved(path, "") }

// openMoved opens a job whose piece lies elsewhere now.
func (f *filing) openMoved(path, piece string) {
	f.askFor(state.Opening{Path: path, Moved: piece})
}

// askFor asks for what is to be opened.
func (f *filing) askFor(a state.Opening) {
	a.Asking = state.Asking{Rev: f.bench.Revision(), When: time.Now(), Stock: f.bench.Shelf.Mine}
	f.tasks.open.Want(a, 0, a)
	f.soon()
}

// opened puts a piece on the bench.
func (f *filing) opened(a state.Opening, m *state.Model, err error) {
	b := f.bench
	if err != nil {
		if gone := (*jobfile.MovedError)(nil); errors.As(err, &gone) {
			f.askMoved(a, gone)
		} else if a.Plan != nil {
			f.joiner.notFound(err, a.Plan, func(p *scans.Plan) { f.askFor(state.Opening{Path: a.Path, Plan: p}) })
		} else {
			f.tell(err)
		}
		if b.Model == nil && a.Path != "" && f.o.Piece != nil {
			f.openNow("") // rather than an empty bench
		}
		return
	}
	b.Put(m)
	for _, v := range f.on.drawers {
		v.Renew()
	}
	f.on.look.Stroke.Drop()
	f.on.look.Camera.Camera = picture.FirstCamera()
	f.on.look.Pick = view.Pick{}
	f.on.sheet.Look = sheet.Look{}
	f.tasks.compass.Drop()
	f.tasks.join.Drop()
	if len(m.Job.Notes) > 0 {
		f.Hint(strings.Join(m.Job.Notes, " "))
	}
	if a.Path == f.kept.path {
		f.kept.anew = a.Path != ""
		b.Path = m.Job.Saved
	} else {
		f.forget()
		if a.Path != m.Piece.File { // a job, not the piece itself
			b.Path = a.Path
		}
		if a.Path != "" && a.Plan == nil {
			f.remember(a.Path)
		}
	}
	f.change.asked = state.Asking{Rev: b.Revision(), When: a.When, Stock: b.Shelf.Now}
	if a.Moved != "" {
		f.Hint("The piece lies at " + a.Moved + " now: save the job to keep that.")
	}
	f.win.SetTitle("Grainstack · " + m.Piece.Name)
}

// tell says an error in a dialog; what is on the screen stays.
func (f *filing) tell(err error) {
	if errors.Is(err, context.Canceled) {
		return
	}
	title, text := notOpened, f.sentence(err)
	var unsupported *mesh.UnsupportedError
	switch {
	case errors.As(err, &unsupported):
		title = "This kind of file is not read here"
	case errors.Is(err, fs.ErrNotExist):
		text += " Look where it was moved to, and open it from there."
	case errors.Is(err, fs.ErrPermission):
		text += " Ask for the right to read it."
	}
	f.say(title, text)
}

const notOpened = "This could not be opened"

func (f *filing) openDialog() {
	f.choose(chooser{title: "Open a mesh or a job", confirm: "Open", endings: append(mesh.Endings(), ".grainstack")}, f.openPiece)
}

// dropped opens what was dropped: a piece or a job, or several scans of one piece.
func (f *filing) dropped(uris []fyne.URI) {
	var files []string
	for _, u := range uris {
		files = append(files, u.Path())
	}
	switch {
	case len(files) == 1:
		f.openPiece(files[0])
	case len(files) > 1:
		f.joiner.several(files, func() {
			f.askToLeave([]string{"Save it and open", "Open without it", "Stay"}, func() { f.openScans(files) })
		})
	}
}

// openScans asks for the piece that several scans make.
func (f *filing) openScans(files []string) {
	f.askFor(state.Opening{Path: files[0], Plan: scans.NewPlan(files...)})
}

func (f *filing) saveJob() {
	if f.bench.Path == "" {
		f.saveAs()
		return
	}
	f.saveTo(f.bench.Path)
}

func (f *filing) saveAs() {
	f.chooseWhere("Save the job", f.bench.Model.Piece.Name+".grainstack", f.saveTo, func() { f.leaving = nil })
}

// saveTo writes the job.
func (f *filing) saveTo(path string) {
	f.Hint("Saving " + filepath.Base(path) + " …")
	f.tasks.save.Want(f.nextAsk(), 0, work.SaveAsk{Path: path, Job: f.bench.Job(), Rev: f.bench.Revision()})
}

// saved says so; what was changed meanwhile is still unsaved, and another piece may lie on the bench by now.
func (f *filing) saved(a work.SaveAsk, _ work.Nothing, err error) {
	leaving := f.leaving
	f.leaving = nil
	if err != nil {
		f.tellSaved(err)
		return
	}
	f.remember(a.Path)
	if a.Job.Piece == f.bench.Model.Piece {
		f.bench.Path = a.Path
		if a.Rev == f.bench.Revision() {
			f.bench.Saved()
			f.forget()
		}
	}
	f.Hint("Saved: " + a.Path)
	f.trace.line("what=saved rev=%d", a.Rev)
	if leaving != nil {
		leaving()
	}
}

// mostRecent is how many files the menu remembers.
const mostRecent = 8

// remember puts a file at the head of the recent ones.
func (f *filing) remember(path string) {
	if at, err := filepath.Abs(path); err == nil {
		path = at
	}
	p := f.app.Preferences()
	recent := slices.DeleteFunc(p.StringList(prefRecent), func(s string) bool { return s == path })
	recent = append([]string{path}, recent...)
	p.SetStringList(prefRecent, recent[:min(len(recent), mostRecent)])
	f.menu()
}

// recentItem is the menu of the recent files.
func (f *filing) recentItem() *fyne.MenuItem {
	item := fyne.NewMenuItem("Open again", nil)
	var items []*fyne.MenuItem
	for _, path := range f.app.Preferences().StringList(prefRecent) {
		items = append(items, fyne.NewMenuItem(path, func() { f.openPiece(path) }))
	}
	item.ChildMenu = fyne.NewMenu("", items...)
	item.Disabled = len(items) == 0
	return item
}
