package app

import (
	"errors"
	"fmt"
	"time"

	"grainstack/app/files"
	"grainstack/app/task"
	"grainstack/app/view"
	"grainstack/app/work"
	"grainstack/render/book"
	"grainstack/slicing/export"
	"grainstack/slicing/phrase"
	"grainstack/slicing/program"
	"grainstack/slicing/unit"
)

// A making is what the window knows of the files that it makes.
type making struct {
	*core
	on    *views
	tasks *tasks
	off   func() string // what was called off
	page  *makePage     // over the bench, nil while there is none
	dir   string
	kinds []files.Kind
	paper book.Paper
	at    task.Status[int] // of what is being written
	asks  int
	of    int // the revision of what is being written
}

// busy reports whether files are being written.
func (m *making) busy() bool { return m.at.State == task.Working }

// makeWork is what files are made of, or why there are none yet.
func (m *making) makeWork() (files.Work, error) {
	b := m.bench
	v, now := b.Shop.Newest()
	ready := now && v.Improved
	switch {
	case b.Model == nil:
		return files.Work{}, errors.New("open a piece first")
	case b.Figures != nil && !b.Figures.Withheld.None():
		return files.Work{}, unit.Error{Said: b.Figures.Withheld}
	case b.Shop.Fault() != "":
		return files.Work{}, errors.New(b.Shop.Fault())
	case !ready && m.off() != "":
		return files.Work{}, errors.New("called off: " + m.off() + ". Press \"go on\" at the foot of the window, then the files can be made")
	case !ready:
		return files.Work{}, errLaying
	case !v.Withheld.None():
		return files.Work{}, unit.Error{Said: v.Withheld}
	}
	machine, _ := b.Shelf.Now.Machine(b.Settings().Machine)
	return files.Work{
		Machine: program.For(machine), Standing: b.Standing, Figures: b.Figures, Workshop: v, Catalogue: b.Shelf.Now, Fonts: m.o.Assets, Letters: m.letters,
		Units: b.View.Units, Paper: m.paper, Date: time.Now().Format("2 January 2006"), Compared: view.BookColumns(b), Asides: b.Asides(),
	}, nil
}

// errLaying is why there are no files while the parts are being laid out.
var errLaying = errors.New("the parts are still being laid out: in a moment the files can be made")

// writeOut writes files, or the work book.
func (m *making) writeOut(a work.MakeAsk) {
	m.asks++
	m.of = m.bench.Revision()
	m.tasks.make.Want(m.asks, 0, a)
	m.changed()
}

// stopWriting stops writing, and reports whether anything was being written.
func (m *making) stopWriting() bool {
	was := m.busy()
	m.tasks.make.Drop()
	return was
}

// measure finds out how large files will be.
func (m *making) measure(a work.SizesAsk) {
	m.asks++
	m.tasks.sizes.Want(m.asks, work.SizesAfter, a)
}

// measured takes the sizes that are known so far.
func (m *making) measured(_ work.SizesAsk, all []work.Size) {
	if m.page != nil {
		m.page.sized(all)
	}
}

// told shows on the page how far the writing is.
func (m *making) told() {
	if m.page != nil && m.busy() && m.at.Told {
		m.page.progress(m.at.Step, m.at.Share)
	}
}

// wroteFiles says what was written, or why nothing was.
func (m *making) wroteFiles(a work.MakeAsk, all []export.Written, err error) {
	if err != nil {
		m.trace.line("what=unmade why=%q", err.Error())
		if a.Book {
			m.say("The work book could not be written", m.sentence(err))
		}
	} else {
		m.bench.Made = m.of + 1
		bytes := int64(0)
		for _, f := range all {
			bytes += f.Bytes
		}
		m.trace.line("what=made files=%d bytes=%d to=%q", len(all), bytes, a.To)
		m.Hint(fmt.Sprintf("Written: %s, %s, %s", phrase.Count(len(all), "file"), fileSize(bytes), a.To))
	}
	if m.page != nil && !a.Book {
		m.page.wrote(a, all, err)
	}
}

// fileSize is a number of bytes in words.
func fileSize(bytes int64) string {
	switch {
	case bytes < 1000:
		return fmt.Sprintf("%d B", bytes)
	case bytes < 1e6:
		return fmt.Sprintf("%.0f kB", float64(bytes)/1e3)
	}
	return fmt.Sprintf("%.1f MB", float64(bytes)/1e6)
}

// makeBook asks where the work book goes and writes it.
func (m *making) makeBook() {
	of, err := m.makeWork()
	if err != nil {
		m.say("There is no work book yet", phrase.Capital(m.sentence(err)))
		return
	}
	m.chooseWhere("Write the work book", m.bench.Model.Piece.Name+" work book.pdf", func(path string) {
		m.writeOut(work.MakeAsk{Work: of, To: path, Book: true})
	}, func() {})
}
