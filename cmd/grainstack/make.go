package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
	"time"

	"grainstack/app/files"
	"grainstack/assets"
	"grainstack/render/book"
	"grainstack/render/draw"
	"grainstack/slicing/export"
	"grainstack/slicing/finding"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// A makeFlags is what only make asks for.
type makeFlags struct {
	out, only, paper string
	list, inches     bool
	machine          *machineFlags
}

func bindMake(set *flag.FlagSet) *makeFlags {
	f := &makeFlags{}
	set.StringVar(&f.out, "out", "", "`DIR` to write the files to; all of them are written or none, and what else lies there stays")
	set.StringVar(&f.only, "only", "", "`KINDS` of files to be made anew, with commas between them: layers, panels, outlines, lists, pictures, book; and programs, which are only made where they are named; those of other kinds stay as they are")
	set.StringVar(&f.paper, "paper", "a4", "`SIZE` of the pages: a4 or letter")
	set.BoolVar(&f.list, "list", false, "only name the files that would be written, would stay and would go")
	set.BoolVar(&f.inches, "inches", false, "print lengths in inches, and write programs in them")
	f.machine = bindMachine(set)
	return f
}

// page is the paper that the flags name.
func (f *makeFlags) page() (book.Paper, error) {
	switch f.paper {
	case "a4", "A4":
		return book.A4, nil
	case "letter", "Letter":
		return book.Letter, nil
	}
	return book.A4, &usageError{fmt.Sprintf("the paper is a4 or letter, not %q", f.paper)}
}

// makeFiles writes everything that the workshop needs of a piece or a job.
func makeFiles(ctx context.Context, args []string, out io.Writer) error {
	set := newFlags("make")
	stackWords, own := bindStack(set), bindMake(set)
	words, err := parse(set, args)
	if err != nil {
		return err
	}
	if own.out == "" {
		return &usageError{"name the folder to write to with -out DIR"}
	}
	kinds, err := files.ParseKinds(own.only)
	if err != nil {
		return &usageError{err.Error()}
	}
	page, err := own.page()
	if err != nil {
		return err
	}
	if !own.list {
		if err := export.CheckFolder(own.out); err != nil {
			return err
		}
	}
	b, err := open(ctx, words, stackWords)
	if err != nil {
		return err
	}
	w, err := own.work(ctx, b, page, kinds)
	if err != nil {
		return err
	}
	all, err := files.List(w, kinds)
	if err != nil {
		return err
	}
	plan, err := files.Preview(own.out, all)
	if err != nil {
		return err
	}
	if own.list {
		return listFiles(plan, all, out)
	}
	if err := plan.Spares(own.out, append(stackWords.inputs(words), b.piece.File)...); err != nil {
		return err
	}
	written, err := files.Write(ctx, w, own.out, all, nil)
	if err != nil {
		return err
	}
	bytes := int64(0)
	for _, f := range written {
		bytes += f.Bytes
	}
	_, err = fmt.Fprintf(out, "%s: %d files, %.1f MB%s\n%s", phrase.Name(own.out), len(written), float64(bytes)/1e6, files.Others(plan), missing(w.Workshop))
	return err
}

// missing says how many parts are on no panel, in a line of its own; nothing where all are.
func missing(w *workshop.Workshop) string {
	n := len(w.Layout.TooLarge)
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%d of %d parts %s too large for the panel and on none: %s\n", n, len(w.Parts), phrase.Plural(n, "is", "are"), finding.Words{}.Sentence(w.Layout.TooLarge[0].Tell()))
}

// listFiles names the files that would be written, those that would stay as they were made before, and those that would go.
func listFiles(plan export.Plan, all []files.File, out io.Writer) error {
	var text strings.Builder
	for i, p := range plan.Files {
		note := ""
		if p.Replaces {
			note = " (replaces the one there)"
		}
		fmt.Fprintf(&text, "%s: %s%s\n", p.Name, all[i].Does, note)
	}
	for _, name := range plan.Kept {
		fmt.Fprintf(&text, "%s: stays as it was made before\n", name)
	}
	for _, name := range plan.Removed {
		fmt.Fprintf(&text, "%s: goes, since it is no longer made\n", name)
	}
	_, err := io.WriteString(out, text.String())
	return err
}

// work settles the figures, follows the cutters where a file tells minutes, and works out the workshop.
func (f *makeFlags) work(ctx context.Context, b *bench, page book.Paper, kinds []files.Kind) (files.Work, error) {
	letters, err := draw.LoadLetters(fs.FS(assets.FS))
	if err != nil {
		return files.Work{}, err
	}
	fig, err := job.Settle(ctx, b.standing, b.settings, b.catalogue)
	if err != nil {
		return files.Work{}, err
	}
	if err := fig.NothingFits(b.places); err != nil {
		return files.Work{}, err
	}
	if !f.list && (slices.Contains(kinds, files.Book) || slices.Contains(kinds, files.Pictures)) { // they tell minutes
		if fig, err = b.timed(ctx, fig); err != nil {
			return files.Work{}, err
		}
	}
	shop, err := workshop.New(ctx, b.standing, fig, b.places, b.catalogue, workshop.Watch{})
	if err != nil {
		return files.Work{}, err
	}
	w := files.Work{
		Standing: b.standing, Figures: fig, Workshop: shop, Catalogue: b.catalogue, Fonts: fs.FS(assets.FS), Letters: letters,
		Paper: page, Asides: b.asides, WithPrograms: slices.Contains(kinds, files.Programs), Date: time.Now().Format("2 January 2006"),
	}
	if f.inches {
		w.Units = unit.Inch
	}
	m, _ := b.catalogue.Machine(b.settings.Machine)
	if w.Machine, err = f.machine.machine(m, f.inches); err != nil {
		return w, err
	}
	w.Compared, err = f.compared(ctx, b)
	return w, err
}
