package files

import (
	"bytes"
	"context"
	stdcsv "encoding/csv"
	"encoding/xml"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/render/book"
	"grainstack/render/draw"
	"grainstack/slicing/export"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/workshop"
)

const assets = "../../assets"

// work is the work of a mesh with settings that change may alter.
func work(t testing.TB, m *mesh.Mesh, p job.Places, change func(*job.Settings)) Work {
	t.Helper()
	ctx := context.Background()
	c := stocktest.Catalogue(t)
	letters, err := draw.LoadLetters(os.DirFS(assets))
	if err != nil {
		t.Fatal(err)
	}
	s := job.Default(c)
	if change != nil {
		change(&s)
	}
	st, err := job.Stand(ctx, job.NewPiece("piece", m, mesh.Raw{}), s.Stand())
	if err != nil {
		t.Fatal(err)
	}
	if s.Wall > 0 {
		grid, err := st.Piece.Hollow(ctx, nil)
		if err != nil {
			t.Fatal(err)
		}
		if st, err = st.WithField(ctx, grid); err != nil {
			t.Fatal(err)
		}
	}
	f, err := job.Settle(ctx, st, s, c)
	if err != nil {
		t.Fatal(err)
	}
	w, err := workshop.New(ctx, st, f, p, c, workshop.Watch{})
	if err != nil {
		t.Fatal(err)
	}
	if !w.Withheld.None() {
		t.Fatal(w.Withheld)
	}
	return Work{Standing: st, Figures: f, Workshop: w, Catalogue: c, Fonts: os.DirFS(assets), Letters: letters}
}

func solid(s *job.Settings) { s.Wall = 0 }

// TestDemoFiles: every file of the demo is written and read back by a reader that is not its writer.
func TestDemoFiles(t *testing.T) {
	w := work(t, job.Demo().Mesh, job.Places{}, nil)
	all, err := List(w, Kinds())
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "hare")
	planned, err := Preview(dir, all)
	if err != nil || len(planned.Files) != len(all) {
		t.Fatalf("%d files planned, %d listed: %v", len(planned.Files), len(all), err)
	}
	if _, err := Write(context.Background(), w, dir, all, nil); err != nil {
		t.Fatal(err)
	}
	volume := 0.0
	for _, f := range all {
		path := filepath.Join(dir, filepath.FromSlash(f.Name))
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := readBack(f.Name, path, data, w, &volume); err != nil {
			t.Errorf("%s: %v", f.Name, err)
		}
	}
	// The solids' hollow is a mesh, the figures' a table of the field: both are true to 0.01 % of the piece.
	piece := w.Figures.Totals.Wood + w.Figures.Totals.Core
	if got, want := volume, w.Figures.Totals.Wood; math.Abs(got-want) > 1e-4*piece {
		t.Errorf("the layers come to %.1f cm³, the figures to %.1f cm³", got/1000, want/1000)
	} else {
		t.Logf("layers %.2f cm³, figures %.2f cm³: %.4f %% of the piece apart", got/1000, want/1000, 100*(got-want)/piece)
	}
}

// untied is how many parts of the panel that a file is of have no tab, and are told to be held badly.
func untied(name string, w Work) (n int) {
	for _, p := range w.Workshop.Layout.Panels {
		if !strings.HasPrefix(filepath.Base(name), fmt.Sprintf("panel-%02d", p.Number)) {
			continue
		}
		for _, at := range p.Placed {
			if part, ok := w.Workshop.Part(at.Part); ok && len(part.Tabs) == 0 && !part.Held {
				n++
			}
		}
	}
	return n
}

// readBack reads one file as its ending says.
func readBack(name, path string, data []byte, w Work, volume *float64) error {
	switch filepath.Ext(name) {
	case ".stl":
		m, _, err := mesh.Open(path)
		if err != nil {
			return err
		}
		f := mesh.Inspect(m, m.Adjacency())
		if want := 1 + untied(name, w); strings.HasPrefix(name, "panels/") && f.Shells != want {
			return fmt.Errorf("%d bodies instead of %d: a part that is told to have tabs has none to the frame", f.Shells, want)
		}
		if !f.Solid() {
			return fmt.Errorf("no solid: %d open edges, %d of more than two facets, %d flipped, %.1f mm³", f.OpenEdges, f.NonManifoldEdges, f.FlippedEdges, f.Volume)
		}
		if strings.HasPrefix(name, "layers/") {
			*volume += m.Volume()
		}
	case ".3mf":
		m, raw, err := mesh.Open(path)
		if err != nil || raw.UnitMM != 1 {
			return fmt.Errorf("unit %g, %v", raw.UnitMM, err)
		}
		if got := m.Volume(); math.Abs(got-*volume) > 1e-4*got {
			return fmt.Errorf("%.1f mm³ in one file, %.1f in several", got, *volume)
		}
	case ".png":
		img, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			return err
		}
		if _, deep := img.(*image.Gray16); strings.HasPrefix(name, "panels/") && !deep {
			return fmt.Errorf("a height map of %T", img)
		}
	case ".pdf":
		return readPDF(name, data, w)
	case ".svg":
		return readXML(data)
	case ".csv":
		rows, err := stdcsv.NewReader(bytes.NewReader(data)).ReadAll()
		if err == nil && len(rows) < 2 {
			return errors.New("nothing but headings")
		}
		return err
	case ".dxf":
		if !bytes.HasSuffix(bytes.TrimSpace(data), []byte("EOF")) || bytes.Count(data, []byte("POLYLINE")) < 2 {
			return errors.New("no whole drawing")
		}
	case ".txt":
		for _, want := range []string{"Z zero", "Spoilboard", "off each face", "Take care"} {
			if !bytes.Contains(data, []byte(want)) {
				return fmt.Errorf("it does not speak of %q", want)
			}
		}
	default:
		return errors.New("nobody reads this")
	}
	return nil
}

var pages = regexp.MustCompile(`/Type /Page\b[^s]`)

func readPDF(name string, data []byte, w Work) error {
	if !bytes.HasPrefix(data, []byte("%PDF-1.")) || !bytes.HasSuffix(bytes.TrimSpace(data), []byte("%%EOF")) {
		return errors.New("no whole PDF")
	}
	n := len(pages.FindAll(data, -1))
	least := 1
	if name == "work-book.pdf" {
		least = 3*len(w.Workshop.Layout.Panels) + len(w.Figures.Layers)/4
	} else if strings.Contains(name, "panel-") {
		least = 12 // 600 × 600 on A4 with edges
	}
	if n < least {
		return fmt.Errorf("%d pages, want %d at least", n, least)
	}
	return nil
}

func readXML(data []byte) error {
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		if _, err := d.Token(); err == io.EOF {
			return nil
		} else if err != nil {
			return err
		}
	}
}

// TestLayersAddUp: without a hollow the layers are the piece, within a hundredth of a percent.
func TestLayersAddUp(t *testing.T) {
	w := work(t, solidtest.Bumpy(90, 60000), job.Places{}, solid)
	all, err := layerSolids(context.Background(), w)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, m := range all {
		sum += m.Volume()
	}
	if want := w.Standing.Placed.Mesh.Volume(); math.Abs(sum-want) > 1e-4*want {
		t.Errorf("layers %.2f mm³, piece %.2f mm³", sum, want)
	}
}

// TestAllowanceIsAdded: a ball with 0.5 mm for sanding comes out 0.5 mm larger in radius, as high as before.
func TestAllowanceIsAdded(t *testing.T) {
	w := work(t, solidtest.Sphere(80, 40000), job.Places{}, func(s *job.Settings) { s.Wall, s.Shop.Allowance = 0, 0.5 })
	all, err := layerSolids(context.Background(), w)
	if err != nil {
		t.Fatal(err)
	}
	box := geom.EmptyBox()
	for _, m := range all {
		for _, p := range m.Points {
			box = box.Add(p.Vec())
		}
	}
	if size := box.Size(); math.Abs(size.X-161) > 0.05 || math.Abs(size.Y-161) > 0.05 || math.Abs(size.Z-160) > 0.05 {
		t.Errorf("the grown ball measures %.2f × %.2f × %.2f mm, want 161 × 161 × 160", size.X, size.Y, size.Z)
	}
}

// TestSplitPartsAddUp: the two solids of a split part are closed and come to the whole.
func TestSplitPartsAddUp(t *testing.T) {
	m := solidtest.Stretch(solidtest.Ellipsoid(350, 90, 30, 20000), 1, 1, 1)
	var p job.Places
	for layer := 1; layer <= 4; layer++ {
		p = p.WithSplit(job.Split{Part: panel.ID{Layer: layer}, A: geom.Vec2{X: 17, Y: -300}, B: geom.Vec2{X: 40, Y: 300}})
	}
	w := work(t, m, p, solid)
	if len(w.Workshop.Parts) != 2*len(w.Figures.Layers) || len(w.Workshop.Layout.TooLarge) > 0 {
		t.Fatalf("%d parts of %d layers, %d too large", len(w.Workshop.Parts), len(w.Figures.Layers), len(w.Workshop.Layout.TooLarge))
	}
	b := newBench(context.Background(), w)
	parts, err := b.parts()
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for id, q := range parts {
		if f := mesh.Inspect(q, q.Adjacency()); !f.Solid() {
			t.Errorf("%v is no solid: %+v", id, f)
		}
		sum += q.Volume()
	}
	if want := w.Standing.Placed.Mesh.Volume(); math.Abs(sum-want) > 1e-4*want {
		t.Errorf("pieces %.1f mm³, the whole %.1f mm³", sum, want)
	}
	if _, err := b.panels[0](); err != nil {
		t.Error(err)
	}
}

// TestTilesAreTrue: a drawing as large as four pages less what they overlap takes four; every place of it is on a page, what
// lies at a join is on both, and the crosses of neighbours lie at one place of the drawing.
func TestTilesAreTrue(t *testing.T) {
	letters, err := draw.LoadLetters(os.DirFS(assets))
	if err != nil {
		t.Fatal(err)
	}
	for _, paper := range []book.Paper{book.A4, book.Letter} {
		b := &bench{Work: Work{Letters: letters, Fonts: os.DirFS(assets), Paper: paper}}
		pw, ph := paperMM(paper)
		w, h := pw-2*tileEdge, ph-2*tileEdge-tileFoot
		s := export.Sheet{Name: "test", W: 2*w - tileLap, H: 2*h - tileLap}
		data, err := tiles(b, s)
		if err != nil {
			t.Fatal(err)
		}
		if n := len(pages.FindAll(data, -1)); n != 4 {
			t.Errorf("%v: %d pages, want 4", paper, n)
		}
		l, _, _ := newTiling(s, paper)
		one, next := l.at(0, 0), l.at(1, 1)
		if lap := one.X + l.w - next.X; math.Abs(lap-tileLap) > 1e-9 {
			t.Errorf("%v: pages overlap by %g mm", paper, lap)
		}
		if last := l.at(l.nx-1, l.ny-1); last.X+l.w < s.W-1e-9 || last.Y+l.h < s.H-1e-9 {
			t.Errorf("%v: the last page ends at %v of %g × %g", paper, last, s.W, s.H)
		}
		right, left := one.X+l.w-tileLap/2, next.X+tileLap/2
		if math.Abs(right-left) > 1e-9 {
			t.Errorf("%v: crosses at %g and %g", paper, right, left)
		}
	}
}

// TestKinds: names are read, wrong ones told.
func TestKinds(t *testing.T) {
	if k, err := ParseKinds(" layers, book,layers"); err != nil || len(k) != 2 {
		t.Errorf("got %v, %v", k, err)
	}
	if k, err := ParseKinds(""); err != nil || len(k) != len(Kinds()) {
		t.Errorf("got %v, %v", k, err)
	}
	if _, err := ParseKinds("sheets"); err == nil {
		t.Error("a kind that there isn't is taken")
	}
}

// TestCalledOff: a make that is called off leaves what was there, and no goroutine writes on.
func TestCalledOff(t *testing.T) {
	w := work(t, solidtest.Box(100, 80, 48), job.Places{}, solid)
	all, err := List(w, Kinds())
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "out")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "mine.txt"), []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	_, err = Write(ctx, w, dir, all, func(done float64, _ string) {
		if done > 0.3 {
			stop()
		}
	})
	stop()
	if !errors.Is(err, context.Canceled) {
		t.Errorf("called off: %v", err)
	}
	left, err := os.ReadDir(dir)
	if err != nil || len(left) != 1 {
		t.Errorf("%d files are left of one: %v", len(left), err)
	}
}

func BenchmarkMake(b *testing.B) {
	w := work(b, job.Demo().Mesh, job.Places{}, nil)
	all, err := List(w, Kinds())
	if err != nil {
		b.Fatal(err)
	}
	dir := filepath.Join(b.TempDir(), "hare")
	for b.Loop() {
		if _, err := Write(context.Background(), w, dir, all, nil); err != nil {
			b.Fatal(err)
		}
	}
}
