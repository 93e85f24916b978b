package app

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/files"
	"grainstack/app/paper"
	"grainstack/slicing/export"
)

// A makeRow is a line of the list on the page Make files: a group of files, or a file of a group that is unfolded.
type makeRow struct {
	group string    // that a click folds or unfolds, "" for a file
	words [3]string // name, what it holds, and size or what becomes of it
}

// A makeGroup is the files of one kind, or those made before that stay or go.
type makeGroup struct {
	name  string
	files []makeRow
	bytes int64
	sized int // of how many the size is known
	over  int // how many replace one of the same name
}

// groupFiles are the groups of what a page would write, and of what was made before.
func groupFiles(all []files.File, plan export.Plan, sizes map[string]int64) []makeGroup {
	var out []makeGroup
	for i, f := range all {
		name := f.Kind.Words()
		if n := len(out); n == 0 || out[n-1].name != name {
			out = append(out, makeGroup{name: name})
		}
		g, size := &out[len(out)-1], "…"
		if n, ok := sizes[f.Name]; ok {
			size = fileSize(n)
			g.bytes, g.sized = g.bytes+n, g.sized+1
		}
		if i < len(plan.Files) && plan.Files[i].Replaces {
			size, g.over = "replaces · "+size, g.over+1
		}
		g.files = append(g.files, makeRow{words: [3]string{f.Name, f.Does, size}})
	}
	before := func(names []string, what string) {
		g := makeGroup{name: "made before · " + what}
		for _, name := range names {
			g.files = append(g.files, makeRow{words: [3]string{name, "made before", what}})
		}
		if len(names) > 0 {
			out = append(out, g)
		}
	}
	before(plan.Kept, "stays")
	before(plan.Removed, "goes")
	return out
}

// rowsOf are the lines of groups; a group of one file is that file.
func rowsOf(groups []makeGroup, open map[string]bool) (rows []makeRow) {
	for _, g := range groups {
		if len(g.files) == 1 {
			rows = append(rows, g.files[0])
			continue
		}
		rows = append(rows, makeRow{g.name, g.words(open[g.name])})
		if open[g.name] {
			rows = append(rows, g.files...)
		}
	}
	return rows
}

// words are those of a group's line.
func (g makeGroup) words(open bool) [3]string {
	sign := map[bool]string{false: "+  ", true: "–  "}[open]
	count := fmt.Sprintf("%d files", len(g.files))
	if g.over > 0 {
		count += fmt.Sprintf(", %d replace", g.over)
	}
	size := "…"
	switch {
	case strings.HasPrefix(g.name, "made before"):
		size = ""
	case g.sized == len(g.files):
		size = fileSize(g.bytes)
	}
	return [3]string{sign + g.name, count, size}
}

// A makeList is the list of rows. A click, Enter or the space bar folds a group or unfolds it; Escape leaves the page.
type makeList struct {
	widget.List
	rows    []makeRow
	open    map[string]bool
	changed func()
}

func newMakeList(changed func()) *makeList {
	l := &makeList{open: map[string]bool{}, changed: changed}
	l.Length = func() int { return len(l.rows) }
	l.CreateItem, l.UpdateItem = newFileLine, l.line
	l.HideSeparators = true
	l.OnSelected = func(i widget.ListItemID) {
		l.Unselect(i)
		l.fold(i)
	}
	l.ExtendBaseWidget(l)
	return l
}

// put shows groups.
func (l *makeList) put(groups []makeGroup) {
	if rows := rowsOf(groups, l.open); !slices.Equal(rows, l.rows) {
		l.rows = rows
		l.Refresh()
	}
}

// fold folds a group or unfolds it.
func (l *makeList) fold(i int) {
	if i < 0 || i >= len(l.rows) || l.rows[i].group == "" {
		return
	}
	l.open[l.rows[i].group] = !l.open[l.rows[i].group]
	l.changed()
}

// TypedKey folds by Enter and leaves other keys to the toolkit's list, or to the window.
func (l *makeList) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		l.List.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	case fyne.KeyEscape:
		paper.PassOn(l, e)
	default:
		l.List.TypedKey(e)
	}
}

// A file's line in the list is its name, what it holds, and its size.
func newFileLine() fyne.CanvasObject {
	size := paper.Write("replaces · 000.0 MB", paper.Small, paper.Pencil).Right()
	return container.New(fileLine{}, paper.Write("", paper.Small, paper.Ink).Cut(), paper.Write("", paper.Small, paper.Pencil).Cut(), size)
}

func (l *makeList) line(i widget.ListItemID, o fyne.CanvasObject) {
	if i >= len(l.rows) {
		return
	}
	for k, words := range l.rows[i].words {
		said := o.(*fyne.Container).Objects[k].(*paper.Words)
		said.Strong(l.rows[i].group != "" && k == 0)
		said.Say(words)
	}
}

// fileLine shares a line out among name, what it holds, and size.
type fileLine struct{}

func (fileLine) Layout(o []fyne.CanvasObject, s fyne.Size) {
	s.Width -= 14 // the scroll bar
	size := min(120, s.Width*0.24)
	name := (s.Width - size) * 0.52
	for i, at := range [3][2]float32{{0, name - 8}, {name, s.Width - size - name - 8}, {s.Width - size, size}} {
		o[i].Move(fyne.NewPos(at[0], 0))
		o[i].Resize(fyne.NewSize(at[1], s.Height))
	}
}

func (fileLine) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(260, o[0].MinSize().Height)
}
