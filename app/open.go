package app

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"grainstack/render/sheet"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
)

// An opening asks for a piece; without a path, for the one to begin with.
type opening struct {
	asking
	path  string
	moved string // where the piece of the job at path is now, "" for where the job says
}

// errNoPiece is what opening nothing comes to.
var errNoPiece = errors.New("there is no demo piece in this program: open a mesh")

// read reads a mesh or a job and makes it ready to be drawn.
func (o Options) read(ctx context.Context, a opening) (*model, error) {
	m := &model{settings: job.Default(a.stock)}
	var err error
	switch {
	case a.path != "":
		m.job, err = job.Open(ctx, a.path, a.moved, a.stock)
		m.piece, m.settings = m.job.Piece, m.job.Settings
	case o.Piece != nil:
		m.piece, err = o.Piece(ctx)
	default:
		err = errNoPiece
	}
	if err != nil {
		return nil, err
	}
	if len(m.piece.Mesh.Triangles) == 0 {
		return nil, fmt.Errorf("%s holds no facets: export the piece again as a mesh", a.path)
	}
	m.key = mendKey{scan: m.piece.Scan} // not looked through: no settings ask for that
	m.dress()
	return m, ctx.Err()
}

// open opens another piece, but asks first where something would be lost.
func (w *window) open(path string) {
	w.askToLeave([]string{"Save it and open", "Open without it", "Stay"}, func() { w.openNow(path) })
}

// openNow asks for another piece; the one on the screen stays until it is there.
func (w *window) openNow(path string) {
	what := "opening " + filepath.Base(path)
	if path == "" {
		what = "making the demo piece"
	}
	w.margin.work(what, -1)
	a := opening{asking: asking{w.session.Revision(), time.Now(), w.shelf.mine}, path: path}
	w.loops.open.Want(a, a)
}

// opened puts a piece on the bench.
func (w *window) opened(a opening, m *model, err error) {
	w.calm()
	if err != nil {
		if gone := (*job.MovedError)(nil); errors.As(err, &gone) {
			w.askMoved(a, gone)
		} else {
			w.tell(err)
		}
		if w.model == nil && a.path != "" && w.o.Piece != nil {
			w.openNow("") // rather than an empty bench
		}
		return
	}
	w.model, w.standing, w.figures, w.fault, w.stoodAt = m, nil, nil, "", time.Time{}
	w.picking = picking{serial: w.picking.serial}
	w.dropStroke()
	w.endMend()
	w.loops.survey.Drop()
	w.mending, w.survey, w.finding = mending{raw: m}, nil, 0
	w.camera, w.plan = firstCamera(), sheet.Look{}
	w.path, w.chosen = "", false
	w.bring(m.job)
	w.session.Replace(m.settings, m.job.Places, m.job.Trials...)
	w.leaveWorkshop()
	w.laying = laying{}
	w.loops.bench.Stop()
	w.loops.bench = w.benchLoop()
	w.leaveSteering()
	w.steering.found, w.steering.pointed, w.steering.fault = nil, nil, ""
	w.forgetTrials()
	if a.path == w.kept.path {
		w.kept.anew = a.path != ""
	} else {
		w.forget()
		if a.path != m.piece.File { // a job, not the piece itself
			w.path = a.path
		}
		if a.path != "" {
			w.remember(a.path)
		}
	}
	w.asked = asking{w.session.Revision(), a.when, w.shelf.now}
	w.askLook()
	w.askStand()
	w.askMend()
	w.askHollow()
	w.askSurvey()
	w.showAll()
	if a.moved != "" {
		w.hint("The piece lies at " + a.moved + " now: save the job to keep that.")
	}
	w.win.SetTitle("Grainstack · " + m.piece.Name)
}

// tell says an error in a dialog; what is on the screen stays.
func (w *window) tell(err error) {
	if errors.Is(err, context.Canceled) {
		return
	}
	title, text := "This could not be opened", sentence(err)
	var unsupported *mesh.UnsupportedError
	switch {
	case errors.As(err, &unsupported):
		title = "This kind of file is not read here"
	case errors.Is(err, fs.ErrNotExist):
		text += " Look where it was moved to, and open it from there."
	case errors.Is(err, fs.ErrPermission):
		text += " Ask for the right to read it."
	}
	w.say(title, text)
}

// say tells the maker something that has to be read.
func (w *window) say(title, text string) {
	label := widget.NewLabel(text)
	label.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustom(title, "Back to the bench", label, w.win)
	d.Resize(fyne.NewSize(min(460, w.win.Canvas().Size().Width-80), 190))
	w.show(d)
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

// askHollow sees to it that the hollow is worked out where the piece has an inside. A scan that is being mended waits for what
// comes of it, but for one of a single shell: most likely that is clean, and stays as it is.
func (w *window) askHollow() {
	m := w.model
	switch scan := m.piece == w.mending.raw.piece; {
	case m.grid != nil || !m.piece.Solid():
		w.loops.hollow.Drop()
	case !scan || !w.beingMended() || m.piece.Findings.Shells == 1:
		w.loops.hollow.Want(m.piece, m)
	}
}

// progressEvery keeps the window from being repainted for every step of a calculation.
const progressEvery = 100 * time.Millisecond

// hollowOut works out the hollow of a piece and how open its surface is to the sky.
func (w *window) hollowOut(ctx context.Context, m *model) (*model, error) {
	tell := w.progress(ctx, "working out the hollow")
	grid, err := m.piece.Hollow(ctx, func(done float64) { tell("", done) })
	if err != nil {
		return nil, err
	}
	with := *m
	with.grid = grid
	with.full = m.full.WithOpenness(grid.Openness(m.piece.Mesh.Points, nil))
	with.thin = with.full
	if m.piece.Thin != m.piece.Mesh {
		with.thin = m.thin.WithOpenness(grid.Openness(m.piece.Thin.Points, nil))
	}
	return &with, ctx.Err()
}

// hollowed takes the hollow and works the figures out with it.
func (w *window) hollowed(_ *model, m *model, err error) {
	w.calm()
	if err != nil {
		w.failed(err)
		return
	}
	m.key = w.model.key
	w.model, w.stoodAt = m, time.Time{}
	if m.key == w.mending.raw.key {
		w.mending.raw = m
	} else {
		w.mending.keep(m)
	}
	w.asked = w.now()
	w.follow()
}

// meshKinds are the endings that the open dialog shows; what a file is, is told by its content.
var meshKinds = []string{".stl", ".obj", ".ply", ".off", ".3mf", ".gz", ".grainstack"}

func (w *window) openDialog() {
	w.choose(chooser{title: "Open a mesh or a job", confirm: "Open", endings: meshKinds}, w.open)
}

// dropped opens the first file of a drop.
func (w *window) dropped(uris []fyne.URI) {
	if len(uris) == 0 {
		return
	}
	if n := len(uris) - 1; n > 0 {
		w.margin.hint(fmt.Sprintf("One piece at a time: %d more were left.", n))
	}
	w.open(uris[0].Path())
}

func (w *window) save() {
	if w.path == "" {
		w.saveAs()
		return
	}
	w.saveTo(w.path)
}

func (w *window) saveAs() {
	w.chooseWhere("Save the job", w.model.piece.Name+".grainstack", w.saveTo, func() { w.leaving = nil })
}

// A saveAsk is a job to be written to a file.
type saveAsk struct {
	path string
	job  job.Job
	rev  int // of the session that it is
}

// jobNow is the job as it is on the bench.
func (w *window) jobNow() job.Job {
	j := w.model.job
	j.Piece, j.Settings, j.Places, j.Trials = w.model.piece, w.session.Settings(), *w.session.Places(), w.session.Trials()
	j.Catalogue = w.shelf.now
	return j
}

// saveTo writes the job in a loop of its own: the piece's file is read again for it, which may take a while.
func (w *window) saveTo(path string) {
	w.margin.hint("Saving " + filepath.Base(path) + " …")
	w.loops.save.Ask(saveAsk{path, w.jobNow(), w.session.Revision()})
}

func saveJob(_ context.Context, a saveAsk) (struct{}, error) {
	return struct{}{}, a.job.Save(a.path, false)
}

// savedJob says so; what was changed meanwhile is still unsaved, and another piece may lie on the bench by now.
func (w *window) savedJob(a saveAsk, _ struct{}, err error) {
	leaving := w.leaving
	w.leaving = nil
	if err != nil {
		w.tellSaved(err)
		return
	}
	w.remember(a.path)
	if a.job.Piece == w.model.piece {
		w.path = a.path
		if a.rev == w.session.Revision() {
			w.session.Saved()
			w.forget()
		}
	}
	w.margin.hint("Saved: " + a.path)
	w.trace.line("what=saved rev=%d", a.rev)
	if leaving != nil {
		leaving()
	}
}

func (w *window) tellSaved(err error) {
	w.say("This could not be saved", sentence(err))
}

// mostRecent is how many files the menu remembers.
const mostRecent = 8

// remember puts a file at the head of the recent ones.
func (w *window) remember(path string) {
	if at, err := filepath.Abs(path); err == nil {
		path = at
	}
	p := w.app.Preferences()
	recent := slices.DeleteFunc(p.StringList(prefRecent), func(s string) bool { return s == path })
	recent = append([]string{path}, recent...)
	p.SetStringList(prefRecent, recent[:min(len(recent), mostRecent)])
	w.win.SetMainMenu(w.mainMenu())
}

// recentItem is the menu of the recent files.
func (w *window) recentItem() *fyne.MenuItem {
	item := fyne.NewMenuItem("Open again", nil)
	var items []*fyne.MenuItem
	for _, path := range w.app.Preferences().StringList(prefRecent) {
		items = append(items, fyne.NewMenuItem(path, func() { w.open(path) }))
	}
	item.ChildMenu = fyne.NewMenu("", items...)
	item.Disabled = len(items) == 0
	return item
}
