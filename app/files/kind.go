package files

import (
	"fmt"
	"slices"
	"strings"
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
	Programs Kind = "programs" // what the machine is told; only made where they are asked for by name, since they take long
)

// Kinds are the kinds that are made where none is named, in the order in which they are written.
func Kinds() []Kind { return []Kind{Layers, Panels, Outlines, Lists, Pictures, Book} }

// ParseKinds reads kinds with commas between them; nothing stands for all.
func ParseKinds(s string) ([]Kind, error) {
	if strings.TrimSpace(s) == "" {
		return Kinds(), nil
	}
	var out []Kind
	for word := range strings.SplitSeq(s, ",") {
		k := Kind(strings.TrimSpace(word))
		if !slices.Contains(Every(), k) {
			return nil, fmt.Errorf("there are no files of the kind %q: choose of layers, panels, outlines, lists, pictures, book and programs", k)
		}
		if !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	return out, nil
}

// Every are all kinds, in the order in which they are written.
func Every() []Kind { return append(Kinds(), Programs) }

// kindOf is the kind of a file by its name: each kind has a folder of its own, and the work book is a file. None where there
// is no such kind.
func kindOf(name string) Kind {
	if name == bookName {
		return Book
	}
	folder, _, inside := strings.Cut(name, "/")
	if k := Kind(folder); inside && slices.Contains(Every(), k) {
		return k
	}
	return ""
}

// bookName is the file of the work book.
const bookName = "work-book.pdf"
