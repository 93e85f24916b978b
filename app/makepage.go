package app

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/files"
	"grainstack/app/paper"
	"grainstack/render/book"
	"grainstack/slicing/export"
	"grainstack/slicing/phrase"
)

// A makePage is the page on which files are chosen and written.
type makePage struct {
	w      *window
	dialog *dialog.CustomDialog
	kinds  map[files.Kind]*widget.Check
	paper  *widget.RadioGroup
	folder *pathEntry
	list   *widget.List
	said   *widget.Label
	bar    *bar
	write  *widget.Button
	back   *widget.Button

	work  files.Work
	files []files.File
	plan  export.Plan
	sizes map[string]int64
	fault string
}

// makeFiles opens the page.
func (w *window) makeFiles() {
	if w.making.kinds == nil {
		w.making.kinds = files.Kinds()
	}
	if w.making.dir == "" {
		w.making.dir = w.usualDir()
	}
	p := &makePage{w: w, kinds: map[files.Kind]*widget.Check{}, sizes: map[string]int64{}, said: paper.Sentence(paper.Ink), bar: newBar()}
	w.making.page = p
	p.build()
	p.dialog.SetOnClosed(func() {
		w.loops.sizes.Drop()
		w.loops.make.Drop()
		if w.making.busy {
			w.making.busy = false
			w.hint("Nothing was written: the folder is as it was.")
		}
		w.making.page = nil
	})
	w.show(p.dialog)
	w.askWorkshop()
	p.refresh()
	if w.trace != nil { // once the page is laid out
		time.AfterFunc(2*progressEvery, func() { w.post(p.tracePlaces) })
	}
}

func (p *makePage) build() {
	w := p.w
	left := container.NewVBox(paper.Write("What", paper.Small, paper.Pencil))
	for _, k := range files.Kinds() {
		c := widget.NewCheck(k.Words(), func(bool) { p.refresh() })
		c.Checked = slices.Contains(w.making.kinds, k)
		p.kinds[k] = c
		left.Add(c)
	}
	p.paper = widget.NewRadioGroup([]string{"A4", "Letter"}, func(s string) {
		w.making.paper = book.A4
		if s == "Letter" {
			w.making.paper = book.Letter
		}
		p.refresh()
	})
	p.paper.Horizontal, p.paper.Required = true, true
	p.paper.Selected = "A4"
	if w.making.paper == book.Letter {
		p.paper.Selected = "Letter"
	}
	left.Add(paper.Write("Paper", paper.Small, paper.Pencil))
	left.Add(p.paper)
	p.folder = newPathEntry(func() { p.dialog.Hide() })
	p.folder.SetText(w.making.dir)
	p.folder.OnChanged = func(s string) { w.making.dir = s; p.refresh() }
	choose := widget.NewButton("Choose…", p.choose)
	folder := container.NewBorder(nil, nil, paper.Write("Folder ", paper.Small, paper.Pencil), choose, p.folder)
	p.list = widget.NewList(func() int { return len(p.files) + len(p.plan.Kept) + len(p.plan.Removed) }, newFileLine, p.line)
	p.list.HideSeparators = true
	p.write = widget.NewButton("Write", p.ask)
	p.write.Importance = widget.HighImportance
	p.back = widget.NewButton("Back to the bench", func() { p.dialog.Hide() })
	foot := container.NewVBox(folder, container.NewBorder(nil, nil, nil, p.bar, p.said))
	body := container.NewBorder(nil, foot, container.New(layout.NewCustomPaddedLayout(0, 0, 0, 14), left), nil, p.list)
	p.dialog = dialog.NewCustomWithoutButtons("Make files", body, w.win)
	p.dialog.SetButtons([]fyne.CanvasObject{p.back, p.write})
	size := w.win.Canvas().Size()
	p.dialog.Resize(fyne.NewSize(min(900, size.Width-60), min(600, size.Height-60)))
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
	for _, k := range files.Kinds() {
		if p.kinds[k].Checked {
			out = append(out, k)
		}
	}
	return out
}

// refresh lists what would be written now.
func (p *makePage) refresh() {
	w := p.w
	if p.list == nil || p.write == nil {
		return
	}
	w.making.kinds = p.chosen()
	p.files, p.plan, p.fault = nil, export.Plan{}, ""
	var err error
	if p.work, err = w.makeWork(); err == nil {
		p.files, err = files.List(p.work, w.making.kinds)
	}
	if err == nil {
		err = p.check()
	}
	if err == nil {
		p.plan, err = files.Preview(w.making.dir, p.files)
	}
	if err != nil {
		p.fault = phrase.Capital(sentence(err))
	}
	p.say()
	p.list.Refresh()
	if p.fault == "" && !w.making.busy {
		w.loops.sizes.Ask(sizeAsk{p.work, p.files})
	} else {
		w.loops.sizes.Drop()
	}
}

// check says what is wrong with the folder or the choice.
func (p *makePage) check() error {
	switch dir := p.w.making.dir; {
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
	w := p.w
	switch {
	case w.making.busy:
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
		text := fmt.Sprintf("%d files", len(p.files))
		if known == len(p.files) {
			text += ", " + fileSize(bytes)
		} else {
			text += ", sizes being worked out"
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
	if w.making.busy {
		words = "Stop"
	}
	if p.write.Text != words {
		p.write.SetText(words)
	}
	if on := w.making.busy || p.fault == ""; on == p.write.Disabled() {
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
	w := p.w
	if w.making.busy {
		w.loops.make.Drop()
		w.making.busy = false
		p.bar.put(-1)
		p.refresh()
		p.speak("Stopped: nothing was written, the folder is as it was.", widget.MediumImportance)
		return
	}
	p.refresh()
	if p.fault != "" {
		return
	}
	w.loops.sizes.Drop()
	w.making.busy = true
	p.speak("Making the first files …", widget.MediumImportance)
	p.say()
	w.loops.make.Ask(makeAsk{work: p.work, to: w.making.dir, files: p.files, page: p})
}

// progress is told from the worker how far it is, and tells it on, not too often.
func (p *makePage) progress(ctx context.Context, post func(func())) func(float64, string) {
	var last time.Time
	return func(done float64, name string) {
		if p == nil || time.Since(last) < progressEvery {
			return
		}
		last = time.Now()
		post(func() {
			if ctx.Err() == nil && p.w.making.page == p {
				p.bar.put(done)
				p.speak("Writing "+name+" …", widget.MediumImportance)
			}
		})
	}
}

// wrote says what came of it.
func (p *makePage) wrote(a makeAsk, all []export.Written, err error) {
	p.bar.put(-1)
	p.refresh()
	if err != nil {
		p.speak(sentence(err), widget.DangerImportance)
		return
	}
	bytes := int64(0)
	for _, f := range all {
		p.sizes[f.Name] = f.Bytes
		bytes += f.Bytes
	}
	p.w.loops.sizes.Drop()
	p.list.Refresh()
	p.speak(fmt.Sprintf("Written: %d files, %s, in %s.", len(all), fileSize(bytes), a.to), widget.SuccessImportance)
}

// size takes the size of a file.
func (p *makePage) size(name string, bytes int64) {
	p.sizes[name] = bytes
	p.say()
	p.list.Refresh()
}

// choose opens the folder chooser.
func (p *makePage) choose() {
	p.w.chooseFolder(filepath.Dir(p.w.making.dir), "Write here", p.folder.SetText, func(err error) {
		p.speak(sentence(err), widget.DangerImportance)
	})
}

// A file's line in the list is its name, what it holds, and its size.
func newFileLine() fyne.CanvasObject {
	size := paper.Write("replaces · 000.0 MB", paper.Small, paper.Pencil).Right()
	return container.New(fileLine{}, paper.Write("", paper.Small, paper.Ink).Cut(), paper.Write("", paper.Small, paper.Pencil).Cut(), size)
}

func (p *makePage) line(i widget.ListItemID, o fyne.CanvasObject) {
	for k, words := range p.words(i) {
		o.(*fyne.Container).Objects[k].(*paper.Words).Say(words)
	}
}

// words are those of line i: first the files that are written, then those made before that stay and those that go.
func (p *makePage) words(i int) [3]string {
	if i >= len(p.files) {
		switch before, kept := i-len(p.files), len(p.plan.Kept); {
		case before < kept:
			return [3]string{p.plan.Kept[before], "made before", "stays"}
		case before < kept+len(p.plan.Removed):
			return [3]string{p.plan.Removed[before-kept], "made before", "goes"}
		}
		return [3]string{}
	}
	f := p.files[i]
	size := "…"
	if n, ok := p.sizes[f.Name]; ok {
		size = fileSize(n)
	}
	if i < len(p.plan.Files) && p.plan.Files[i].Replaces {
		size = "replaces · " + size
	}
	return [3]string{f.Name, f.Does, size}
}

// fileLine shares a line out among name, what it holds, and size.
type fileLine struct{}

func (fileLine) Layout(o []fyne.CanvasObject, s fyne.Size) {
	s.Width -= 14 // the scroll bar
	size := min(120, s.Width*0.24)
	name := (s.Width - size) * 0.46
	for i, at := range [3][2]float32{{0, name - 8}, {name, s.Width - size - name - 8}, {s.Width - size, size}} {
		o[i].Move(fyne.NewPos(at[0], 0))
		o[i].Resize(fyne.NewSize(at[1], s.Height))
	}
}

func (fileLine) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(260, o[0].MinSize().Height)
}

// tracePlaces logs where the page's controls are.
func (p *makePage) tracePlaces() {
	w := p.w
	w.trace.place("button", "Write files", p.write)
	w.trace.place("button", "Back from files", p.back)
	w.trace.place("field", "folder", p.folder)
	for k, c := range p.kinds {
		w.trace.place("button", "kind "+string(k), c)
	}
}
