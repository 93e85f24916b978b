package book

import (
	"bytes"
	"fmt"
	"image/color"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// words notes the lettering of a drawing.
type words struct{ texts []draw.Text }

func (w *words) Fill(geom.Region, color.RGBA)      {}
func (w *words) Lines(draw.Pen, []draw.Line)       {}
func (w *words) Segments(draw.Pen, []draw.Segment) {}
func (w *words) Text(t draw.Text)                  { w.texts = append(w.texts, t) }
func lettering(d *draw.Drawing) []draw.Text        { w := &words{}; d.Play(w); return w.texts }
func scaled(b geom.Box2, s float64, at geom.Vec2) geom.Box2 {
	return geom.Box2{Min: b.Min.Scale(s).Add(at), Max: b.Max.Scale(s).Add(at)}
}

type lettered struct {
	words string
	box   geom.Box2
	size  float64
}

// all is the lettering of a page with where it stands on the paper.
func (p *page) all(l *draw.Letters) (out []lettered) {
	for _, t := range lettering(p.Drawing) {
		out = append(out, lettered{t.Words, l.Box(t), t.Size})
	}
	for _, s := range p.sheets {
		for _, t := range lettering(s.Drawing) {
			out = append(out, lettered{t.Words, scaled(l.Box(t), s.scale, s.at), t.Size * s.scale})
		}
	}
	return out
}

// printable is the margin that printers leave, in points: 6 mm.
const printable = 17

// Nothing is clipped: all lettering is on the paper, within its sheet, and no line of it lies over another.
func TestNoClippedLettering(t *testing.T) {
	l := letters(t)
	long := sample(t, 15, A4, unit.Metric)
	long.Title = strings.Repeat("A very long name of a job ", 8) + strings.Repeat("x", 120)
	long.Subtitle = strings.Repeat("more about it, ", 30)
	long.Findings = append(long.Findings, strings.Repeat("A finding without an end ", 60), strings.Repeat("y", 300))
	long.Ticket = append(long.Ticket, Entry{strings.Repeat("name ", 8), strings.Repeat("9", 30), strings.Repeat("note ", 12)})
	long.Buy = append(long.Buy, Purchase{strings.Repeat("thing ", 20), strings.Repeat("much ", 20), strings.Repeat("8", 30), strings.Repeat("z", 90)})
	for name, b := range map[string]Book{
		"A4": sample(t, 15, A4, unit.Metric), "Letter, inches": sample(t, 15, Letter, unit.Inch), "40 layers": sample(t, 40, A4, unit.Metric), "long words": long,
		"two layers": sample(t, 2, Letter, unit.Metric), "empty": {},
	} {
		for i, p := range Lay(b, l).pages {
			texts := p.all(l)
			for k, x := range texts {
				if x.box.Min.X < printable || x.box.Min.Y < printable || x.box.Max.X > p.W-printable || x.box.Max.Y > p.H-printable {
					t.Errorf("%s, page %d: %.40q at %.0f leaves the paper", name, i+1, x.words, x.box)
				}
				if x.size < 5 {
					t.Errorf("%s, page %d: %.40q is %.1f points small", name, i+1, x.words, x.size)
				}
				for _, y := range texts[:k] {
					if over(x.box, y.box) {
						t.Errorf("%s, page %d: %.40q lies over %.40q", name, i+1, x.words, y.words)
					}
				}
			}
			for _, s := range p.sheets {
				for _, x := range lettering(s.Drawing) {
					if b := l.Box(x); b.Min.X < -1 || b.Min.Y < -1 || b.Max.X > s.W+1 || b.Max.Y > s.H+1 {
						t.Errorf("%s, page %d: %.40q leaves its sheet", name, i+1, x.Words)
					}
				}
			}
		}
	}
}

// over reports whether two boxes share more than a hair.
func over(a, b geom.Box2) bool {
	const hair = 0.6
	return a.Min.X+hair < b.Max.X && b.Min.X+hair < a.Max.X && a.Min.Y+hair < b.Max.Y && b.Min.Y+hair < a.Max.Y
}

// The steps on the pages of a panel are those of the panel, each once and with its number in carving order, and all pages
// draw the panel to one scale.
func TestStepsAndScaleOfBothSides(t *testing.T) {
	l := letters(t)
	b := sample(t, 4, A4, unit.Metric)
	var pages []*page
	for _, p := range Lay(b, l).pages {
		if strings.HasPrefix(p.section, "Panel 1,") {
			pages = append(pages, p)
		}
	}
	if len(pages) != 3 {
		t.Fatalf("%d pages", len(pages))
	}
	number := map[string]string{}
	for _, p := range pages {
		texts := p.all(l)
		for i, x := range texts {
			for k, s := range b.Panels[0].Steps {
				if x.words == s.Name && i > 0 {
					if _, twice := number[s.Name]; twice {
						t.Errorf("step %q is there twice", s.Name)
					}
					if number[s.Name] = texts[i-1].words; number[s.Name] != fmt.Sprint(k+1) {
						t.Errorf("step %q has the number %s, not %d", s.Name, number[s.Name], k+1)
					}
				}
			}
		}
	}
	if len(number) != len(b.Panels[0].Steps) {
		t.Errorf("%d of %d steps are on the pages", len(number), len(b.Panels[0].Steps))
	}
	for _, p := range pages[1:] {
		if one, other := pages[0].sheets[0], p.sheets[0]; one.W != other.W || one.H != other.H || one.scale != other.scale {
			t.Errorf("side A has a sheet of %.1f × %.1f, %s one of %.1f × %.1f", one.W, one.H, p.section, other.W, other.H)
		}
	}
}

// Every panel has its pages, in order, each with every step's box and planned minutes; every layer, board and pressing
// is there.
func TestNothingIsLeftOut(t *testing.T) {
	l := letters(t)
	b := sample(t, 15, A4, unit.Metric)
	var all, sides []string
	for _, p := range Lay(b, l).pages {
		if strings.HasPrefix(p.section, "Panel ") {
			sides = append(sides, p.section)
		}
		for _, x := range p.all(l) {
			all = append(all, x.words)
		}
	}
	text := strings.Join(all, "\n")
	for i := range b.Panels {
		for k, side := range []string{"A", "B", "A again"} {
			if want := fmt.Sprintf("Panel %d, side %s", i+1, side); len(sides) <= 3*i+k || sides[3*i+k] != want {
				t.Fatalf("pages of panels are %q", sides)
			}
		}
	}
	for i := range b.Layers {
		if !strings.Contains(text, fmt.Sprintf("Layer %d of 15", i+1)) {
			t.Errorf("layer %d has no sheet", i+1)
		}
	}
	for _, want := range []string{"Listening hare", "6.42 kg", "Board 1 of 1", "Stage 4", "Dust", "Noise", "Spinning cutters", "Lifting", "Rags", "Coat 3", "Sand, grit 180", "under the chin"} {
		if !strings.Contains(text, want) {
			t.Errorf("nowhere says %q", want)
		}
	}
}

func TestPaperSizes(t *testing.T) {
	for _, tt := range []struct {
		p    Paper
		w, h float64 // mm
	}{{A4, 210, 297}, {Letter, 215.9, 279.4}} {
		w, h := tt.p.Size()
		if d := max(w*mm-tt.w, tt.w-w*mm, h*mm-tt.h, tt.h-h*mm); d > 1e-9 {
			t.Errorf("%v is %g × %g mm", tt.p, w*mm, h*mm)
		}
	}
}

func written(t testing.TB, b Book) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := Lay(b, letters(t)).Write(&out, os.DirFS(assets)); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestBookRepeats(t *testing.T) {
	b := sample(t, 5, A4, unit.Metric)
	if !bytes.Equal(written(t, b), written(t, b)) {
		t.Error("the same book comes out differently")
	}
}

// An independent reader (poppler) opens it, finds the pages, the paper, embedded fonts only, and the words.
func TestBookIsRead(t *testing.T) {
	if _, err := exec.LookPath("pdffonts"); err != nil {
		t.Skip("poppler-utils are not installed")
	}
	dir := t.TempDir()
	if keep := os.Getenv("BOOK_DIR"); keep != "" {
		dir = keep
	}
	for _, paper := range []Paper{A4, Letter} {
		b := sample(t, 15, paper, unit.Metric)
		file := filepath.Join(dir, "book-"+paper.String()+".pdf")
		if err := os.WriteFile(file, written(t, b), 0o600); err != nil {
			t.Fatal(err)
		}
		run := func(tool string, args ...string) string {
			out, err := exec.Command(tool, args...).CombinedOutput()
			if err != nil {
				t.Fatalf("%s: %v: %s", tool, err, out)
			}
			return string(out)
		}
		info := run("pdfinfo", file)
		for _, want := range []string{fmt.Sprintf("Pages:           %d\n", len(Lay(b, letters(t)).pages)), map[Paper]string{A4: "595.28 x 841.89", Letter: "612 x 792"}[paper]} {
			if !strings.Contains(info, want) {
				t.Errorf("no %q in\n%s", want, info)
			}
		}
		for _, line := range strings.Split(strings.TrimSpace(run("pdffonts", file)), "\n")[2:] {
			if f := strings.Fields(line); len(f) < 5 || f[len(f)-5] != "yes" {
				t.Errorf("not embedded: %s", line)
			}
		}
		if words := run("pdftotext", "-layout", file, "-"); !strings.Contains(words, "Finish pass, side A") || !strings.Contains(words, "14 cm³ under the chin") {
			t.Error("the words are not found")
		}
	}
}

func BenchmarkBook(b *testing.B) {
	l, s := letters(b), sample(b, 15, A4, unit.Metric)
	for b.Loop() {
		if err := Lay(s, l).Write(new(bytes.Buffer), os.DirFS(assets)); err != nil {
			b.Fatal(err)
		}
	}
}
