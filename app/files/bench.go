package files

import (
	"context"
	"image"
	"io/fs"
	"sync"

	"grainstack/app/picture"
	"grainstack/render/book"
	"grainstack/render/draw"
	"grainstack/slicing/export"
	"grainstack/slicing/finding"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
	"grainstack/slicing/program"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// A Work is all that files are made of. Nothing in it is written to.
type Work struct {
	Standing     *job.Standing
	Figures      *job.Figures // settled, with the router's reach where it is known
	Workshop     *workshop.Workshop
	Catalogue    *stock.Catalogue
	Fonts        fs.FS // with the letters that draw.LoadLetters reads
	Letters      *draw.Letters
	Units        unit.System
	Paper        book.Paper
	Asides       []finding.Aside    // what needs a look and the maker sees to by hand
	Machine      program.Machine    // that programs are written for
	WithPrograms bool               // programs are made with these files
	Date         string             // as the work book prints it; none where empty
	Compared     []picture.Compared // what the job was weighed against, the job itself first; none where it has no trials
}

// A File is one file of the job: its name within the folder, its kind, and what it holds, in a few words.
type File struct {
	Kind Kind
	Name string
	Does string
	make func(context.Context, *bench) ([]byte, error)
	// rest is what more files it comes to, once it is made, with names that begin with series; nil for none.
	rest   func(*bench) []export.File
	series string
}

// A bench keeps what several files are made of.
type bench struct {
	Work
	solids func() ([]export.LayerSolid, error) // of all layers
	parts  func() (partSolids, error)
	look   func() ([]byte, image.Image, error)
	panels []func() (*export.PanelModel, error) // leased for the files of each
	sidesA []func() (*mesh.Mesh, error)         // of the panels, the same

	programs *programMaker

	drawings memo[export.Sheet] // three files are made of each
}

// A memo keeps what is made the first time that it is asked for.
type memo[T any] struct {
	mu   sync.Mutex
	made map[string]func() (T, error)
}

func (m *memo[T]) get(name string, first func() (T, error)) (T, error) {
	m.mu.Lock()
	if m.made == nil {
		m.made = make(map[string]func() (T, error))
	}
	once, ok := m.made[name]
	if !ok {
		once = sync.OnceValues(first)
		m.made[name] = once
	}
	m.mu.Unlock()
	return once()
}

// lease keeps what is made the first time that it is asked for until it was asked for so many times: then it is let go of, so that
// a job of many panels never has them all in memory. Whoever asks once more has it made anew.
func lease[T any](times int, first func() (T, error)) func() (T, error) {
	var (
		mu   sync.Mutex
		kept T
		err  error
		left int
	)
	return func() (T, error) {
		mu.Lock()
		defer mu.Unlock()
		if left == 0 {
			kept, err = first()
			left = times
		}
		out, fault := kept, err
		if left--; left == 0 {
			var none T
			kept, err = none, nil
		}
		return out, fault
	}
}

// partSolids are the solids of parts.
type partSolids map[panel.ID]*mesh.Mesh
