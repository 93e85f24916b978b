package files

import (
	"context"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"grainstack/app/picture"
	"grainstack/render/book"
	"grainstack/render/draw"
	"grainstack/slicing/export"
	"grainstack/slicing/finding"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/phrase"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// A Kind is a group of files that are asked for together.
type Kind string

// The kinds of files.
const (
	Layers   Kind = "layers"   // each layer as a solid
	Panels   Kind = "panels"   // each panel side as a solid and as a height map
	Outlines Kind = "outlines" // drawings at true size
	Lists    Kind = "lists"    // shopping and cutting lists
	Pictures Kind = "pictures" // finished look, sheets and panels
	Book     Kind = "book"     // the work book
)

// Kinds are all kinds, in the order in which they are written.
func Kinds() []Kind { return []Kind{Layers, Panels, Outlines, Lists, Pictures, Book} }

// ParseKinds reads kinds with commas between them; nothing stands for all.
func ParseKinds(s string) ([]Kind, error) {
	if strings.TrimSpace(s) == "" {
		return Kinds(), nil
	}
	var out []Kind
	for _, word := range strings.Split(s, ",") {
		k := Kind(strings.TrimSpace(word))
		if !slices.Contains(Kinds(), k) {
			return nil, fmt.Errorf("there are no files of the kind %q: choose of layers, panels, outlines, lists, pictures and book", k)
		}
		if !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	return out, nil
}

// A Work is all that files are made of. Nothing in it is written to.
type Work struct {
	Standing  *job.Standing
	Figures   *job.Figures // settled, with the router's reach where it is known
	Workshop  *workshop.Workshop
	Catalogue *stock.Catalogue
	Fonts     fs.FS // with the letters that draw.LoadLetters reads
	Letters   *draw.Letters
	Units     unit.System
	Paper     book.Paper
	Asides    []finding.Aside    // what needs a look and the maker sees to by hand
	Date      string             // as the work book prints it; none where empty
	Compared  []picture.Compared // what the job was weighed against, the job itself first; none where it has no trials
}

// A File is one file of the job: its name within the folder, its kind, and what it holds, in a few words.
type File struct {
	Kind Kind
	Name string
	Does string
	make func(context.Context, *bench) ([]byte, error)
}

// List is the files of the kinds asked for and the one that says what is what, without making any. It fails where the figures
// are withheld and where no part fits the panel.
func List(w Work, kinds []Kind) ([]File, error) {
	if w.Workshop.Withheld != "" {
		return nil, fmt.Errorf("there is nothing to write yet: %s", w.Workshop.Withheld)
	}
	if l := w.Workshop.Layout; len(l.Panels) == 0 && len(l.TooLarge) > 0 {
		return nil, fmt.Errorf("nothing of this piece fits its panel, so there is nothing to make: %s", finding.Words{Units: w.Units}.Sentence(l.TooLarge[0].Tell()))
	}
	var out []File
	for _, k := range Kinds() {
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
		}
	}
	if len(out) > 0 {
		out = append(out, readMe())
	}
	return out, nil
}

// Preview tells what writing the files into a folder would do to what is in it.
func Preview(dir string, files []File) (export.Plan, error) {
	out := make([]export.File, len(files))
	for i, f := range files {
		out[i] = export.File{Name: f.Name}
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

// kindOf is the kind of a file by its name: each kind has a folder of its own, and the work book is a file. None where there
// is no such kind.
func kindOf(name string) Kind {
	if name == bookName {
		return Book
	}
	folder, _, inside := strings.Cut(name, "/")
	if k := Kind(folder); inside && slices.Contains(Kinds(), k) {
		return k
	}
	return ""
}

// A bench keeps what several files are made of.
type bench struct {
	Work
	solids func() ([]export.LayerSolid, error) // of all layers
	parts  func() (partSolids, error)
	look   func() ([]byte, lookPicture, error)
	panels []func() (*export.PanelModel, error)
	sidesA []func() (*mesh.Mesh, error) // of the panels

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

func newBench(ctx context.Context, w Work) *bench {
	b := &bench{Work: w}
	b.solids = sync.OnceValues(func() ([]export.LayerSolid, error) { return layerSolids(ctx, w) })
	b.parts = sync.OnceValues(func() (partSolids, error) { return b.partSolids(ctx) })
	once := sync.OnceValue(func() (out looked) {
		out.png, out.picture, out.err = finishedLook(ctx, w)
		return out
	})
	b.look = func() ([]byte, lookPicture, error) { l := once(); return l.png, l.picture, l.err }
	b.panels = make([]func() (*export.PanelModel, error), len(w.Workshop.Layout.Panels))
	for i := range b.panels {
		b.panels[i] = sync.OnceValues(func() (*export.PanelModel, error) { return b.panelModel(ctx, i) })
		b.sidesA = append(b.sidesA, sync.OnceValues(func() (*mesh.Mesh, error) {
			m, err := b.panels[i]()
			if err != nil {
				return nil, err
			}
			return m.Solid(export.SideA), nil
		}))
	}
	return b
}
