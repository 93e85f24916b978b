package files

import (
	"context"
	"fmt"
	"image"
	"slices"
	"strings"
	"sync"

	"grainstack/slicing/export"
	"grainstack/slicing/finding"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
	"grainstack/slicing/phrase"
)

// List is the files of the kinds asked for and the one that says what is what, without making any. It fails where the figures
// are withheld and where no part fits the panel.
func List(w Work, kinds []Kind) ([]File, error) {
	if !w.Workshop.Withheld.None() {
		return nil, fmt.Errorf("there is nothing to write yet: %s", w.Workshop.Withheld.In(w.Units))
	}
	if l := w.Workshop.Layout; len(l.Panels) == 0 && len(l.TooLarge) > 0 {
		return nil, fmt.Errorf("nothing of this piece fits its panel, so there is nothing to make: %s", finding.Words{Units: w.Units}.Sentence(l.TooLarge[0].Tell()))
	}
	var out []File
	for _, k := range Every() {
		if !slices.Contains(kinds, k) {
			continue
		}
		switch k {
		case Layers:
			out = append(out, layerFiles(w)...)
		case Panels:
			out = append(out, panelFiles(w)...)
		case Outlines:
			out = append(out, outlineFiles(w)...)
		case Lists:
			out = append(out, listFiles(w)...)
		case Pictures:
			out = append(out, pictureFiles(w)...)
		case Book:
			out = append(out, bookFile())
		case Programs:
			out = append(out, programFiles(w)...)
		}
	}
	if len(out) > 0 {
		out = append(out, readMe())
	}
	return out, nil
}

// Divides reports whether a file may come to more than one, which is only known once it is made.
func (f File) Divides() bool { return f.rest != nil }

// WithParts are files, and after each that came to more than one its further parts, of what was written.
func WithParts(files []File, written []export.Written) (all []File) {
	for _, f := range files {
		all = append(all, f)
		if !f.Divides() {
			continue
		}
		for _, w := range written {
			if w.Name != f.Name && strings.HasPrefix(w.Name, f.series) {
				all = append(all, File{Kind: f.Kind, Name: w.Name, Does: "a further part of it"})
			}
		}
	}
	return all
}

// Preview tells what writing the files into a folder would do to what is in it.
func Preview(dir string, files []File) (export.Plan, error) {
	out := make([]export.File, len(files))
	for i, f := range files {
		out[i] = export.File{Name: f.Name, Series: f.series}
	}
	return export.Preview(dir, out, stays(files))
}

// Others says of files that were made before and are not made now how many stay and how many go, as the end of a sentence;
// nothing where there are none.
func Others(p export.Plan) (words string) {
	if n := len(p.Kept); n > 0 {
		words = fmt.Sprintf("; %d made there before %s as they are, such as %s", n, phrase.Plural(n, "stays", "stay"), p.Kept[0])
	}
	if n := len(p.Removed); n > 0 {
		words += fmt.Sprintf("; %d made there before %s, such as %s", n, phrase.Plural(n, "goes", "go"), p.Removed[0])
	}
	return words
}

// stays says of a file that was written before whether it stays where these files are written: one of a kind that is made now
// goes, and one of a kind that is no more goes where all kinds are made.
func stays(files []File) func(name string) bool {
	made := make(map[Kind]bool)
	for _, f := range files {
		made[f.Kind] = true
	}
	none := Kind("")
	made[none] = !slices.ContainsFunc(Kinds(), func(k Kind) bool { return !made[k] })
	return func(name string) bool { return !made[kindOf(name)] }
}

func newBench(ctx context.Context, w Work) *bench {
	b := &bench{Work: w}
	b.solids = sync.OnceValues(func() ([]export.LayerSolid, error) { return layerSolids(ctx, w) })
	b.parts = sync.OnceValues(func() (partSolids, error) { return b.partSolids(ctx) })
	once := sync.OnceValue(func() (out looked) {
		out.png, out.picture, out.err = finishedLook(ctx, w)
		return out
	})
	b.look = func() ([]byte, image.Image, error) { l := once(); return l.png, l.picture, l.err }
	b.programs = newProgramMaker(b, w).ready(ctx)
	b.panels = make([]func() (*export.PanelModel, error), len(w.Workshop.Layout.Panels))
	for i := range b.panels {
		b.panels[i] = lease(modelAskings, func() (*export.PanelModel, error) { return b.panelModel(ctx, i) })
		b.sidesA = append(b.sidesA, lease(solidAskings, func() (*mesh.Mesh, error) {
			m, err := b.panels[i]()
			if err != nil {
				return nil, err
			}
			return m.Solid(panel.SideA), nil
		}))
	}
	return b
}
