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

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/app/work"
	"grainstack/slicing/disk"
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
)

// keptPath is where work of a process is kept in a folder.
func keptPath(dir string, process int) string {
	if dir == "" {
		return ""
	}
	return filepath.Join(dir, keptBefore+strconv.Itoa(process)+keptAfter)
}

// wantKept keeps what has not been saved.
func (f *filing) wantKept(b *state.Bench, t *task.Task[int, work.SaveAsk, work.Nothing]) {
	if f.kept.path != "" && f.unsaved() {
		work.WantKept(b, t, f.kept.path)
	}
}

// keepNow keeps it at once, before the program ends badly.
func (f *filing) keepNow() error {
	if f.kept.path == "" || !f.unsaved() {
		return nil
	}
	if _, err := work.Keep(context.Background(), work.SaveAsk{Path: f.kept.path, Job: f.bench.Kept()}, task.Silent[work.Nothing]()); err != nil {
		return fmt.Errorf("what you have chosen could not be kept: %w", err)
	}
	return errors.New("what you have chosen is kept and offered at the next start")
}

// keptNow says so where the work could not be kept.
func (f *filing) keptNow(_ work.SaveAsk, _ work.Nothing, err error) {
	if err != nil {
		f.margin.whisper("Unsaved work can't be kept for the case of a crash: " + err.Error())
		return
	}
	f.trace.line("what=kept")
}

// forget takes what was kept away: it was saved, or the maker has left it.
func (f *filing) forget() {
	f.tasks.keep.Drop()
	f.tasks.keep.Wait()
	f.kept.anew = false
	if f.kept.path != "" {
		os.Remove(f.kept.path)
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
func (f *filing) offer() {
	if f.o.State == "" {
		return
	}
	left := leftBehind(f.o.State)
	if len(left) == 0 {
		return
	}
	text := fmt.Sprintf("Grainstack came to an end without being closed. What you had chosen until %s was kept, though it had not been saved.\n\nTake it up where you left it?",
		keptAt(left[0]).Format("2 January 15:04"))
	f.ask("Unsaved work", text, 230, []string{"Take it up", "Throw it away", "Ask again at the next start"},
		func() { f.takeUp(left[0]) }, func() { os.Remove(left[0]) }, func() {})
}

// takeUp opens work that was left behind and keeps it as this sitting's own.
func (f *filing) takeUp(path string) {
	if err := os.Rename(path, f.kept.path); err != nil {
		f.tell(err)
		return
	}
	f.openNow(f.kept.path)
}
