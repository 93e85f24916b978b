package app

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"grainstack/app/files"
	"grainstack/render/book"
	"grainstack/slicing/disk"
	"grainstack/slicing/export"
	"grainstack/slicing/phrase"
)

// A making is what the window knows of the files that it makes.
type making struct {
	page  *makePage // over the bench, nil while there is none
	dir   string
	kinds []files.Kind
	paper book.Paper
	busy  bool
}

// A makeAsk asks for files in a folder, or for the work book alone in a file.
type makeAsk struct {
	work  files.Work
	to    string
	files []files.File
	page  *makePage // that is told how far it is
	book  bool
}

// A sizeAsk asks how large files will be.
type sizeAsk struct {
	work  files.Work
	files []files.File
}

// makeWork is what files are made of, or why there are none yet.
func (w *window) makeWork() (files.Work, error) {
	v, now := w.workshop()
	switch {
	case w.model == nil:
		return files.Work{}, errors.New("open a piece first")
	case w.figures != nil && w.figures.Withheld != "":
		return files.Work{}, errors.New(w.figures.Withheld)
	case w.laying.fault != "":
		return files.Work{}, errors.New(w.laying.fault)
	case (!now || !v.Improved) && w.wordsOff() != "":
		return files.Work{}, errors.New("called off: " + w.wordsOff() + ". Press \"go on\" at the foot of the window, then the files can be made")
	case !now || !v.Improved:
		return files.Work{}, errLaying
	case v.Withheld != "":
		return files.Work{}, errors.New(v.Withheld)
	}
	return files.Work{
		Standing: w.standing, Figures: w.figures, Workshop: v, Catalogue: w.shelf.now, Fonts: w.o.Assets, Letters: w.letters,
		Units: w.session.View.Units, Paper: w.making.paper, Date: time.Now().Format("2 January 2006"),
		Compared: w.bookTrials(),
	}, nil
}

// errLaying is why there are no files while the parts are being laid out.
var errLaying = errors.New("the parts are still being laid out: in a moment the files can be made")

// writeFiles is the worker that makes and writes.
func (w *window) writeFiles(ctx context.Context, a makeAsk) ([]export.Written, error) {
	if !a.book {
		tell := a.page.progress(ctx, w.post)
		plan, err := files.Preview(a.to, a.files)
		if err == nil {
			err = plan.Spares(a.to, a.work.Standing.Piece.File)
		}
		if err != nil {
			return nil, err
		}
		return files.Write(ctx, a.work, a.to, a.files, tell)
	}
	data, err := files.WorkBook(ctx, a.work)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := disk.WriteFile(a.to, data); err != nil {
		return nil, fmt.Errorf("the work book is not written, what was there before is untouched: %w", err)
	}
	return []export.Written{{Name: filepath.Base(a.to), Bytes: int64(len(data))}}, nil
}

// wroteFiles says what was written, or why nothing was.
func (w *window) wroteFiles(a makeAsk, all []export.Written, err error) {
	w.making.busy = false
	w.calm()
	if err != nil && !errors.Is(err, context.Canceled) {
		w.trace.line("what=unmade why=%q", err.Error())
		if a.book {
			w.say("The work book could not be written", sentence(err))
		}
	}
	bytes := int64(0)
	for _, f := range all {
		bytes += f.Bytes
	}
	if err == nil {
		w.trace.line("what=made files=%d bytes=%d to=%q", len(all), bytes, a.to)
		w.hint(fmt.Sprintf("Written: %d %s, %s, %s", len(all), phrase.Plural(len(all), "file", "files"), fileSize(bytes), a.to))
	}
	if p := w.making.page; p != nil && !a.book {
		p.wrote(a, all, err)
	}
}

// measureFiles is the worker that finds out how large files will be.
func (w *window) measureFiles(ctx context.Context, a sizeAsk) (struct{}, error) {
	if err := rest(ctx, settleAfter); err != nil {
		return struct{}{}, err
	}
	return struct{}{}, files.Measure(ctx, a.work, a.files, func(i int, bytes int64) {
		w.post(func() {
			if p := w.making.page; ctx.Err() == nil && p != nil {
				p.size(a.files[i].Name, bytes)
			}
		})
	})
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

// usualDir is where files go until the maker says otherwise: beside the job or the piece, else in the home folder.
func (w *window) usualDir() string {
	beside := w.path
	if beside == "" && w.model != nil {
		beside = w.model.piece.File
	}
	dir, err := os.UserHomeDir()
	if whole, wrong := filepath.Abs(beside); beside != "" && wrong == nil {
		dir = filepath.Dir(whole)
	} else if err != nil {
		dir = os.TempDir()
	}
	name := "piece"
	if w.model != nil {
		name = w.model.piece.Name
	}
	return filepath.Join(dir, name+" workshop")
}

// makeBook asks where the work book goes and writes it.
func (w *window) makeBook() {
	work, err := w.makeWork()
	if err != nil {
		w.say("There is no work book yet", phrase.Capital(sentence(err)))
		return
	}
	w.chooseWhere("Write the work book", w.model.piece.Name+" work book.pdf", func(path string) {
		w.making.busy = true
		w.margin.work("writing the work book", -1)
		w.loops.make.Ask(makeAsk{work: work, to: path, book: true})
	}, func() {})
}
