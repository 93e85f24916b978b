package app

import (
	"errors"
	"fmt"
	"image/color"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/files"
	"grainstack/app/paper"
	"grainstack/app/work"
	"grainstack/render/book"
	"grainstack/slicing/export"
	"grainstack/slicing/phrase"
)

// A makePage is the page on which files are chosen and written.
type makePage struct {
	m      *making
	dialog *dialog.CustomDialog
	kinds  map[files.Kind]*paper.Check
	paper  *paper.Select
	folder *pathEntry
	list   *makeList
	said   *widget.Label
	bar    *bar
	write  *paper.Button
	back   *paper.Button

	writable
	fault string
}

// A writable is what the page would write, or has written.
type writable struct {
	work  files.Work
	files []files.File
	plan  export.Plan
	sizes map[string]int64
	parts []export.Written // what was written last, further parts of programs among it
}

// makeFiles opens the page.
func (m *making) makeFiles() {
	if m.kinds == nil {
		m.kinds = files.Kinds()
	}
	if m.dir == "" {
		m.dir = m.usualDir()
	}
	p := &makePage{m: m, kinds: map[files.Kind]*paper.Check{}, writable: writable{sizes: map[string]int64{}}, said: paper.Sentence(paper.Ink), bar: newBar()}
	m.page = p
	p.build()
	p.dialog.SetOnClosed(func() {
		m.tasks.sizes.Drop()
		if m.stopWriting() {
			m.Hint("Nothing was written: the folder is as it was.")
		}
		m.page, m.bench.Screen.Files = nil, false
	})
	m.show(p.dialog)
	m.bench.Screen.Files = true
	m.changed()
	p.refresh()
	if m.trace != nil { // once the page is laid out
		time.AfterFunc(2*shownBy, func() { m.post(p.tracePlaces) })
	}
}

func (p *makePage) build() {
	m := p.m
	left := container.NewVBox(paper.Write("What", paper.Small, paper.Pencil))
	for _, k := range files.Every() {
		c := paper.NewCheck(k.Words(), func(bool) { p.refresh() })
		c.Checked = slices.Contains(m.kinds, k)
		p.kinds[k] = c
		left.Add(c)
	}
	p.paper = paper.NewSelect([]string{"A4", "Letter"}, func(s string) {
		m.paper = book.A4
		if s == "Letter" {
			m.paper = book.Letter
		}
		p.refresh()
	})
	p.paper.Selected = "A4"
	if m.paper == book.Letter {
		p.paper.Selected = "Letter"
	}
	left.Add(paper.Write("Paper", paper.Small, paper.Pencil))
	left.Add(p.paper)
	p.folder = newPathEntry(func() { p.dialog.Hide() })
	p.folder.SetText(m.dir)
	p.folder.OnChanged = func(s string) { m.dir = s; p.refresh() }
	choose := paper.NewButton("Choose…", p.choose)
	folder := container.NewBorder(nil, nil, paper.Write("Folder ", paper.Small, paper.Pencil), choose, p.folder)
	p.list = newMakeList(p.showList)
	p.write = paper.NewButton("Write", p.ask)
	p.write.Importance = widget.HighImportance
	p.back = paper.NewButton("Back to the bench", func() { p.dialog.Hide() })
	foot := container.NewVBox(folder, container.NewBorder(nil, nil, nil, p.bar, container.NewStack(roomFor(saidLines), p.said)))
	body := container.NewBorder(nil, foot, container.New(layout.NewCustomPaddedLayout(0, 0, 0, 14), left), nil, p.list.shown)
	p.dialog = m.newPage("Make files", body, fyne.NewSize(900, 600), p.back, p.write)
}

// saidLines is how many lines the longest sentence under the list takes.
const saidLines = 2

// roomFor keeps room for so many lines of a sentence: a page lays out what stands over its buttons only once.
func roomFor(lines int) fyne.CanvasObject {
	most := paper.Sentence(paper.Ink)
	most.SetText(strings.Repeat("\n", lines-1))
	room := canvas.NewRectangle(color.Transparent)
	room.SetMinSize(fyne.NewSize(0, most.MinSize().Height))
	return room
}

// A pathEntry is where a folder's path is typed; Escape leaves the page that it stands on.
type pathEntry struct {
	widget.Entry
	leave func()
}

func newPathEntry(leave func()) *pathEntry {
	e := &pathEntry{leave: leave}
	e.ExtendBaseWidget(e)
	return e
}

// TypedKey leaves on Escape.
func (e *pathEntry) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape {
		e.leave()
		return
	}
	e.Entry.TypedKey(k)
}

// chosen are the kinds that are ticked.
func (p *makePage) chosen() (out []files.Kind) {
	for _, k := range files.Every() {
		if p.kinds[k].Checked {
			out = append(out, k)
		}
	}
	return out
}

// refresh lists what would be written now.
func (p *makePage) refresh() {
	m := p.m
	if p.list == nil || p.write == nil {
		return
	}
	m.kinds = p.chosen()
	p.files, p.parts, p.plan, p.fault = nil, nil, export.Plan{}, ""
	var err error
	if p.work, err = m.makeWork(); err == nil {
		p.work.WithPrograms = slices.Contains(m.kinds, files.Programs)
		p.files, err = files.List(p.work, m.kinds)
	}
	if err == nil {
		err = p.check()
	}
	if err == nil {
		p.plan, err = files.Preview(m.dir, p.files)
	}
	if err != nil {
		p.fault = phrase.Capital(p.m.sentence(err))
	}
	p.say()
	p.showList()
	if p.fault == "" && !m.busy() {
		m.measure(work.SizesAsk{Work: p.work, Files: p.sizable()})
	} else {
		m.tasks.sizes.Drop()
	}
}

// sizable are the files whose sizes are found out beforehand: all but programs, which take long.
func (p *makePage) sizable() []files.File {
	return slices.DeleteFunc(slices.Clone(p.files), func(f files.File) bool { return f.Kind == files.Programs })
}

// showList shows what would be written, and what becomes of what was made before.
func (p *makePage) showList() {
	p.list.put(groupFiles(files.WithParts(p.files, p.parts), p.plan, p.sizes))
}

// check says what is wrong with the folder or the choice.
func (p *makePage) check() error {
	switch dir := p.m.dir; {
	case len(p.files) == 0:
		return errors.New("tick what shall be made")
	case strings.TrimSpace(dir) == "":
		return errors.New("name a folder to write to")
	case !filepath.IsAbs(dir):
		return errors.New("write the folder's whole path, from the root on")
	}
	return nil
}

// say writes the sentence under the list and names the button.
func (p *makePage) say() {
	m := p.m
	switch {
	case m.busy():
	case p.fault != "":
		p.speak(p.fault, widget.DangerImportance)
	default:
		replaced, known, bytes := 0, 0, int64(0)
		for _, f := range p.plan.Files {
			if f.Replaces {
				replaced++
			}
			if n, ok := p.sizes[f.Name]; ok {
				known++
				bytes += n
			}
		}
		text := phrase.Count(len(p.files), "file")
		if slices.ContainsFunc(p.files, files.File.Divides) {
			text += " or more, as programs are divided"
		}
		switch n := len(p.sizable()); {
		case known < n:
			text += ", sizes being worked out"
		case n < len(p.files):
			text += ", " + fileSize(bytes) + " and the programs, which are made and proven as they are written: that takes a minute or more"
		default:
			text += ", " + fileSize(bytes)
		}
		if replaced > 0 {
			text += fmt.Sprintf("; %d replace those of the same name", replaced)
		}
		text += files.Others(p.plan)
		if n := len(p.work.Workshop.Layout.TooLarge); n > 0 {
			p.speak(fmt.Sprintf("%s. %d %s too large for the panel and will be missing on the panels: see the panel sheet for ways out.", text, n, phrase.Plural(n, "part is", "parts are")), widget.DangerImportance)
			break
		}
		p.speak(text+". All of them are written or none; what else lies in the folder stays.", widget.MediumImportance)
	}
	words := "Write"
	if m.busy() {
		words = "Stop"
	}
	if p.write.Text != words {
		p.write.SetText(words)
	}
	if on := m.busy() || p.fault == ""; on == p.write.Disabled() {
		if on {
			p.write.Enable()
		} else {
			p.write.Disable()
		}
	}
}

func (p *makePage) speak(text string, how widget.Importance) {
	if p.said.Text != text || p.said.Importance != how {
		p.said.Importance = how
		p.said.SetText(text)
	}
}

// ask writes the files, or stops writing them.
func (p *makePage) ask() {
	m := p.m
	if m.stopWriting() {
		p.bar.put(-1)
		p.refresh()
		m.changed()
		p.speak("Stopped: nothing was written, the folder is as it was.", widget.MediumImportance)
		return
	}
	p.refresh()
	if p.fault != "" {
		return
	}
	m.tasks.sizes.Drop()
	m.writeOut(work.MakeAsk{Work: p.work, To: m.dir, Files: p.files})
	p.speak("Making the first files …", widget.MediumImportance)
	p.say()
}

// progress shows how far the writing is.
func (p *makePage) progress(name string, done float64) {
	p.bar.put(done)
	p.speak("Writing "+name+" …", widget.MediumImportance)
}

// wrote says what came of it.
func (p *makePage) wrote(a work.MakeAsk, all []export.Written, err error) {
	p.bar.put(-1)
	p.refresh()
	if err != nil {
		p.speak(p.m.sentence(err), widget.DangerImportance)
		return
	}
	bytes := int64(0)
	for _, f := range all {
		p.sizes[f.Name] = f.Bytes
		bytes += f.Bytes
	}
	p.parts = all
	p.m.tasks.sizes.Drop()
	p.showList()
	p.speak(fmt.Sprintf("Written: %s, %s, in %s.", phrase.Count(len(all), "file"), fileSize(bytes), a.To), widget.SuccessImportance)
}

// sized takes the sizes of files.
func (p *makePage) sized(all []work.Size) {
	for _, one := range all {
		p.sizes[one.Name] = one.Bytes
	}
	p.say()
	p.showList()
}

// choose opens the folder chooser. Files go into the folder that is chosen where it is empty or some were made in it before, else into
// one of their own in it, so that they don't lie among others.
func (p *makePage) choose() {
	q := chooser{title: "Where the files go", confirm: "Write here", folder: filepath.Dir(p.m.dir), folders: true}
	p.m.choose(q, func(dir string) {
		if all, err := os.ReadDir(dir); err == nil && len(all) > 0 && !p.made(dir) {
			dir = filepath.Join(dir, filepath.Base(p.m.usualDir()))
		}
		p.folder.SetText(dir)
	})
}

// made reports whether files of the piece were made in a folder before.
func (p *makePage) made(dir string) bool {
	plan, err := files.Preview(dir, p.files)
	return err == nil && (len(plan.Kept)+len(plan.Removed) > 0 || slices.ContainsFunc(plan.Files, func(f export.Planned) bool { return f.Replaces }))
}

// tracePlaces logs where the page's controls are.
func (p *makePage) tracePlaces() {
	m := p.m
	m.trace.placeOf("button", "Write files", p.write)
	m.trace.placeOf("button", "Back from files", p.back)
	m.trace.placeOf("field", "folder", p.folder)
	for k, c := range p.kinds {
		m.trace.placeOf("button", "kind "+string(k), c)
	}
}
