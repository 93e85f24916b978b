package files

import (
	"context"
	"fmt"
	"strings"

	"grainstack/slicing/export"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// readMe is the file that is written with every kind.
func readMe() File {
	return File{Kind: "", Name: "read-me.txt", Does: "what is what, where the zeros are, how true the files are", make: func(_ context.Context, b *bench) ([]byte, error) {
		return []byte(b.readMe()), nil
	}}
}

// readMe says what the folder holds and what whoever opens a file of it has to know.
func (b *bench) readMe() string {
	var t textFile
	t.line(b.Standing.Piece.Name)
	t.line(strings.Repeat("=", len([]rune(b.Standing.Piece.Name))))
	t.line("")
	size, u := b.Figures.Size, b.Units
	t.line(fmt.Sprintf("%s × %s × %s, %d layers of %s, %s. %s", unit.Length(size.X, u), unit.Length(size.Y, u), unit.Length(size.Z, u), len(b.Figures.Layers), unit.Length(b.Figures.Thickness, u), phrase.Count(b.Workshop.Panels(), "panel"), b.Date))
	t.head("What is what")
	for _, k := range Kinds() {
		name := string(k) + "/"
		if k == Book {
			name = bookName
		}
		t.fact(name, k.Words())
	}
	if b.WithPrograms {
		t.fact(string(Programs)+"/", Programs.Words())
	}
	t.fact("contents.txt", "Every file that the program has written here, with its size in bytes. Files of a kind that was not made anew are as they were made before.")
	t.head("Datum and stock")
	for _, f := range datum(b.Workshop, u) {
		t.fact(f.about, f.words)
	}
	t.fact("Layers", "Solids of layers stand as in the piece: X and Y zero on the axis of the stack, Z zero on the floor. Drawings of layers are seen from above, their zero is the sheet's lower left corner.")
	t.fact("Unit", "All solids, height maps, SVG and DXF are in millimetres. PDFs of outlines are at true size: print them at 100 % and measure the line at the foot of each page.")
	if b.WithPrograms {
		t.head("Programs")
		for _, f := range b.programFacts() {
			t.fact(f.about, f.words)
		}
		t.WriteString("\n" + strings.Join(zeroLines(b.zeroView(), u), "\n") + "\n")
	}
	t.head("How true the files are")
	for _, f := range accuracy() {
		t.fact(f.about, f.words)
	}
	t.head("Take care")
	t.line("Routing and sanding make fine dust and noise, and a spinning cutter does not stop for a hand: extraction, mask, ear and eye protection, work held fast, nobody near the machine while it runs, spindle isolated before it is touched. Lift boards and stacks with help. Rags with oil or solvent can heat up by themselves: dry them flat outdoors or close them under water in a metal can. The rules where you work and the data sheets of board, glue, finish and machine come before anything in these files.")
	return t.String()
}

// accuracy is how true the files are.
func accuracy() []fact {
	return []fact{
		{"Layers", "Cut from the surface itself; the hollow is true to 0.01 % of the piece."},
		{"Faces", "Upper and lower faces and hollows in the drawings are sections of the surface, written to 0.0001 mm."},
		{"Outlines", "All that a part covers, seen from above, true to 0.05 mm; holes under 1 mm² are closed. The carve boundary is true to a millimetre."},
		{"Panels", fmt.Sprintf("Solids and height maps are of columns about %.4g mm apart; between two columns they run straight. Height maps come to the nearest of 65535 steps of the panel's thickness.", export.DefaultStep)},
	}
}

// textFile is text in lines short enough to be read anywhere.
type textFile struct{ strings.Builder }

const textWidth = 78

func (t *textFile) head(words string) {
	t.line("")
	t.line(words)
	t.line(strings.Repeat("-", len(words)))
}

func (t *textFile) line(words string) { t.indented("", words) }

// fact is a name with what there is to say of it, beside it.
func (t *textFile) fact(name, words string) { t.indented(fmt.Sprintf("%-14s", name), words) }

// indented breaks words into lines beside a first column.
func (t *textFile) indented(first, words string) {
	line, empty := first, true
	for w := range strings.FieldsSeq(words) {
		if !empty && len([]rune(line))+1+len([]rune(w)) > textWidth {
			t.WriteString(strings.TrimRight(line, " ") + "\n")
			line, empty = strings.Repeat(" ", len(first)), true
		}
		if !empty {
			line += " "
		}
		line, empty = line+w, false
	}
	t.WriteString(strings.TrimRight(line, " ") + "\n")
}
