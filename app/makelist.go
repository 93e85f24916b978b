package app

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"grainstack/app/files"
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
	more  bool // of which there may be more once they are made
	bytes int64
	sized int // of how many the size is known
	over  int // how many replace one of the same name
}

// groupFiles are the groups of what a page would write, and of what was made before.
func groupFiles(all []files.File, plan export.Plan, sizes map[string]int64) []makeGroup {
	replaces := map[string]bool{}
	for _, f := range plan.Files {
		replaces[f.Name] = f.Replaces
	}
	var out []makeGroup
	for _, f := range all {
		name := f.Kind.Words()
		if n := len(out); n == 0 || out[n-1].name != name {
			out = append(out, makeGroup{name: name})
		}
		g, size := &out[len(out)-1], "…"
		if n, ok := sizes[f.Name]; ok {
			size = fileSize(n)
			g.bytes, g.sized = g.bytes+n, g.sized+1
		} else if f.Divides() {
			g.more = true
		}
		if replaces[f.Name] {
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
	if g.more {
		count += " or more"
	}
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

// A makeList has the list of rows, of which a group is folded or unfolded where it is picked. It is no widget itself: whichever of
// the two were painted, only the other would hear of new rows.
type makeList struct {
	shown   *rowList
	rows    []makeRow
	open    map[string]bool
	changed func()
}

func newMakeList(changed func()) *makeList {
	l := &makeList{open: map[string]bool{}, changed: changed}
	l.shown = newRowList(func() int { return len(l.rows) }, newFileLine, l.line, l.fold)
	return l
}

// put shows groups.
func (l *makeList) put(groups []makeGroup) {
	if rows := rowsOf(groups, l.open); !slices.Equal(rows, l.rows) {
		l.rows = rows
		l.shown.Refresh()
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

func (l *makeList) line(i int, o fyne.CanvasObject) {
	if i < len(l.rows) {
		putLine(o, l.rows[i].group != "", l.rows[i].words)
	}
}
