package app

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
	"grainstack/slicing/disk"
	"grainstack/slicing/job"
)

// Work that has not been saved is kept in a folder of the program's own while the hand rests, under the number of the process,
// and taken away when the window is closed: what is found there at the next start was left by a program that came to a bad end.

// keeping is where the work of this sitting is kept.
type keeping struct {
	path string // "" where nothing is to be kept
	anew bool   // taken up from an earlier sitting: unsaved from the start
}

const (
	keptBefore = "unsaved-"
	keptAfter  = ".grainstack"
	keepAfter  = 300 * time.Millisecond // the hand has to rest so long
)

// keptPath is where work of a process is kept in a folder.
func keptPath(dir string, process int) string {
	if dir == "" {
		return ""
	}
	return filepath.Join(dir, keptBefore+strconv.Itoa(process)+keptAfter)
}

type keepAsk struct {
	path string
	job  job.Job
}

// keepWork keeps what has not been saved.
func (w *window) keepWork() {
	if w.kept.path == "" || w.model == nil || !w.session.Dirty() && !w.kept.anew {
		return
	}
	w.loops.keep.Ask(keepAsk{w.kept.path, w.jobNow()})
}

// keepNow keeps it at once, before the program ends badly.
func (w *window) keepNow() error {
	if w.kept.path == "" || !w.unsaved() {
		return nil
	}
	if err := writeKept(keepAsk{w.kept.path, w.jobNow()}); err != nil {
		return fmt.Errorf("what you have chosen could not be kept: %w", err)
	}
	return errors.New("what you have chosen is kept and offered at the next start")
}

// keepJob writes the work down, wholly or not at all.
func keepJob(ctx context.Context, a keepAsk) (struct{}, error) {
	if err := rest(ctx, keepAfter); err != nil {
		return struct{}{}, err
	}
	return struct{}{}, writeKept(a)
}

func writeKept(a keepAsk) error {
	if err := os.MkdirAll(filepath.Dir(a.path), 0o700); err != nil {
		return err
	}
	return a.job.Save(a.path, false)
}

// jobKept says so where the work could not be kept.
func (w *window) jobKept(_ keepAsk, _ struct{}, err error) {
	if err != nil && w.margin.words.Text() == "" {
		w.margin.hint("Unsaved work can't be kept for the case of a crash: " + err.Error())
	}
	if err == nil {
		w.trace.line("what=kept")
	}
}

// forget takes what was kept away: it was saved, or the maker has left it.
func (w *window) forget() {
	w.loops.keep.Drop()
	w.loops.keep.Wait()
	w.kept.anew = false
	if w.kept.path != "" {
		os.Remove(w.kept.path)
	}
}

// leftBehind are the jobs in a folder that no running program keeps, the newest first.
func leftBehind(dir string) []string {
	all, _ := filepath.Glob(filepath.Join(dir, keptBefore+"*"+keptAfter))
	all = slices.DeleteFunc(all, func(path string) bool {
		name := strings.TrimSuffix(strings.TrimPrefix(filepath.Base(path), keptBefore), keptAfter)
		n, err := strconv.Atoi(name)
		return err != nil || n == os.Getpid() || disk.Alive(n)
	})
	slices.SortFunc(all, func(a, b string) int { return keptAt(b).Compare(keptAt(a)) })
	return all
}

func keptAt(path string) time.Time {
	info, err := os.Stat(path)
	if err != nil {
		return time.Time{}
	}
	return info.ModTime()
}

// offer asks whether to take up the newest work that was left behind; older work comes up at later starts.
func (w *window) offer() {
	if w.o.State == "" {
		return
	}
	left := leftBehind(w.o.State)
	if len(left) == 0 {
		return
	}
	text := fmt.Sprintf("Grainstack came to an end without being closed. What you had chosen until %s was kept, though it had not been saved.\n\nTake it up where you left it?",
		keptAt(left[0]).Format("2 January 15:04"))
	label := paper.Sentence(paper.Ink)
	label.SetText(text)
	d := dialog.NewCustomWithoutButtons("Unsaved work", label, w.win)
	button := func(words string, do func()) *widget.Button {
		return widget.NewButton(words, func() {
			d.Hide()
			do()
		})
	}
	take := button("Take it up", func() { w.takeUp(left[0]) })
	take.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{
		button("Throw it away", func() { os.Remove(left[0]) }),
		button("Ask again at the next start", func() {}), // as Escape does
		take,
	})
	d.Resize(fyne.NewSize(500, 230))
	w.show(d)
}

// takeUp opens work that was left behind and keeps it as this sitting's own.
func (w *window) takeUp(path string) {
	if err := os.Rename(path, w.kept.path); err != nil {
		w.tell(err)
		return
	}
	w.openNow(w.kept.path)
}
