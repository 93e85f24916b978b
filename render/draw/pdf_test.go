package draw_test

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
)

const assets = "../../assets"

func loaded(t testing.TB) *draw.Letters {
	t.Helper()
	l, err := draw.LoadLetters(os.DirFS(assets))
	if err != nil {
		t.Fatal(err)
	}
	return l
}

var black = color.RGBA{A: 255}

// checkLine is 100 mm long at mm a unit, level, dashed by nothing, with words below it and beside it.
func checkLine(mm float64) *draw.Drawing {
	d := draw.New(150/mm, 60/mm, color.RGBA{255, 255, 255, 255})
	pen := draw.Pen{Color: black, Width: 0.2 / mm}
	at := func(x, y float64) geom.Vec2 { return geom.Vec2{X: x / mm, Y: y / mm} }
	d.Segments(pen, draw.Segment{at(20, 30), at(120, 30)})
	d.Text(draw.Text{At: at(70, 40), Words: "100 mm, ½ × 3 – “Grüße” ±0.05°", Size: 5 / mm, Color: black, Align: draw.Centre})
	d.Text(draw.Text{At: at(10, 50), Words: "upwards", Size: 4 / mm, Color: black, Up: true, Bold: true})
	return d
}

func document(t testing.TB, mm float64) []byte {
	t.Helper()
	p, err := draw.NewPDF(loaded(t), os.DirFS(assets), "A line")
	if err != nil {
		t.Fatal(err)
	}
	p.Page(210, 297)
	p.Place(checkLine(mm), geom.Vec2{X: 15, Y: 25}, mm)
	p.Picture(image.NewRGBA(image.Rect(0, 0, 8, 8)), geom.Box2{Min: geom.Vec2{X: 15, Y: 200}, Max: geom.Vec2{X: 35, Y: 220}})
	var b bytes.Buffer
	if err := p.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// contents are the inflated streams of a PDF.
func contents(pdf []byte) (out []string) {
	for _, part := range bytes.Split(pdf, []byte("stream\n"))[1:] {
		z, err := zlib.NewReader(bytes.NewReader(part))
		if err != nil {
			continue
		}
		if b, err := io.ReadAll(z); err == nil {
			out = append(out, string(b))
		}
	}
	return out
}

// PDF: the default unit is 1/72 in, the origin lower left (ISO 32000-1, 8.3.2), so 100 mm are 283.465 units.
func TestPDFLineIsTrue(t *testing.T) {
	stroke := regexp.MustCompile(`([\d.]+) ([\d.]+) m\s+([\d.]+) ([\d.]+) l`)
	for _, mm := range []float64{1, 25.4 / 72, 0.2} {
		found := 0
		for _, s := range contents(document(t, mm)) {
			for _, m := range stroke.FindAllStringSubmatch(s, -1) {
				found++
				var v [4]float64
				for i := range v {
					v[i], _ = strconv.ParseFloat(m[i+1], 64)
				}
				if got := (v[2] - v[0]) * 25.4 / 72; math.Abs(got-100) > 0.01 {
					t.Errorf("at %g mm a unit: the line is %g mm long", mm, got)
				}
				if x, y := v[0]*25.4/72, 297-v[1]*25.4/72; math.Abs(x-35) > 0.01 || math.Abs(y-55) > 0.01 {
					t.Errorf("at %g mm a unit: it begins at %g, %g mm, want 35, 55", mm, x, y)
				}
			}
		}
		if found != 1 {
			t.Errorf("at %g mm a unit: found %d lines", mm, found)
		}
	}
}

// An independent reader (poppler) sees the line at its length, too.
func TestPDFLineSeen(t *testing.T) {
	tool, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Skip("pdftoppm is not installed")
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "line.pdf")
	if err := os.WriteFile(file, document(t, 0.5), 0o600); err != nil {
		t.Fatal(err)
	}
	const dpi = 254 // ten picture points a mm
	if out, err := exec.Command(tool, "-png", "-singlefile", "-gray", "-r", strconv.Itoa(dpi), file, filepath.Join(dir, "line")).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	f, err := os.Open(filepath.Join(dir, "line.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	first, last := -1, -1
	for x := range img.Bounds().Dx() {
		if r, _, _, _ := img.At(x, 550).RGBA(); r < 0x8000 {
			if first < 0 {
				first = x
			}
			last = x
		}
	}
	if first < 349 || first > 351 || last-first+1 < 999 || last-first+1 > 1001 {
		t.Errorf("seen from %d to %d tenths of a mm, want 350 to 1349", first, last)
	}
}

func TestPDFRepeats(t *testing.T) {
	a := document(t, 1)
	for range 5 {
		if !bytes.Equal(a, document(t, 1)) {
			t.Fatal("two documents of the same calls differ")
		}
	}
	if !bytes.Contains(a, []byte("FontFile2")) {
		t.Error("the letters are not embedded")
	}
}

// full is a disk without room.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, fmt.Errorf("no space left on device") }

func TestWriteErrorsAreKept(t *testing.T) {
	p, err := draw.NewPDF(loaded(t), os.DirFS(assets), "")
	if err != nil {
		t.Fatal(err)
	}
	p.Page(100, 100)
	if err := p.Write(full{}); err == nil {
		t.Error("pdf: no error")
	}
	if _, err := draw.NewPDF(loaded(t), os.DirFS(t.TempDir()), ""); err == nil {
		t.Error("pdf without fonts: no error")
	}
}
