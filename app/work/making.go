package work

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"

	"grainstack/app/files"
	"grainstack/app/task"
	"grainstack/slicing/disk"
	"grainstack/slicing/export"
)

// A MakeAsk asks for files in a folder, or for the work book alone in a file.
type MakeAsk struct {
	Work  files.Work
	To    string
	Files []files.File
	Book  bool
}

// MakeTask makes files and writes them.
type MakeTask = task.Task[int, MakeAsk, []export.Written]

// Make makes and writes.
func Make(ctx context.Context, a MakeAsk, report task.Report[[]export.Written]) ([]export.Written, error) {
	if !a.Book {
		plan, err := files.Preview(a.To, a.Files)
		if err == nil {
			err = plan.Spares(a.To, a.Work.Standing.Piece.File)
		}
		if err != nil {
			return nil, err
		}
		return files.Write(ctx, a.Work, a.To, a.Files, func(done float64, name string) { report.Progress(name, done) })
	}
	data, err := files.WorkBook(ctx, a.Work)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := disk.WriteFile(a.To, data); err != nil {
		return nil, fmt.Errorf("the work book is not written, what was there before is untouched: %w", err)
	}
	return []export.Written{{Name: filepath.Base(a.To), Bytes: int64(len(data))}}, nil
}

// A SizesAsk asks how large files will be.
type SizesAsk struct {
	Work  files.Work
	Files []files.File
}

// A Size is how large a file will be.
type Size struct {
	Name  string
	Bytes int64
}

// SizesTask finds out how large files will be.
type SizesTask = task.Task[int, SizesAsk, []Size]

// SizesAfter is how long the choice of files has to rest before their sizes are worked out.
const SizesAfter = settleAfter

// Sizes finds out how large files will be, and hands in what it knows so far.
func Sizes(ctx context.Context, a SizesAsk, report task.Report[[]Size]) (all []Size, err error) {
	err = files.Measure(ctx, a.Work, a.Files, func(i int, bytes int64) {
		all = append(all, Size{a.Files[i].Name, bytes})
		report.Early(slices.Clone(all))
	})
	return all, err
}
