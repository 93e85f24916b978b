package files

import (
	"context"
	"encoding/xml"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"grainstack/slicing/job"
	"grainstack/slicing/killtest"
	"grainstack/slicing/solidtest"
)

// TestPrintedLineIs100mm: a PDF rasteriser (poppler's pdftoppm) at 254 dots an inch, 10 a millimetre, draws the check line
// 1000 dots long. In the SVG, read as XML, the lower face of a block of 100 mm is 100 mm wide.
func TestPrintedLineIs100mm(t *testing.T) {
	tool, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Skip("no PDF rasteriser here")
	}
	w := work(t, solidtest.Box(100, 60, 32), job.Places{}, solid)
	all, err := List(w, []Kind{Outlines})
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "out")
	if _, err := Write(context.Background(), w, dir, all, nil); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), "page")
	if out, err := exec.Command(tool, "-r", "254", "-f", "1", "-l", "1", "-gray", "-png", "-singlefile", filepath.Join(dir, "outlines/layer-01.pdf"), to).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	file, err := os.Open(to + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	img, err := png.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	foot := 0
	box := img.Bounds()
	for y := box.Max.Y - int(10*(tileEdge+tileFoot+2)); y < box.Max.Y; y++ {
		foot = max(foot, darkRun(img, y))
	}
	if math.Abs(float64(foot)-1000) > 4 {
		t.Errorf("the check line is %.1f mm long", float64(foot)/10)
	}
	if got := svgWidth(t, filepath.Join(dir, "outlines/layer-01.svg"), "lower face"); math.Abs(got-100) > 0.01 {
		t.Errorf("the lower face is %.3f mm wide in the drawing", got)
	}
}

// svgWidth is how wide the lines of a drawing layer are.
func svgWidth(t *testing.T, path, layer string) float64 {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var drawing struct {
		Groups []struct {
			Title string `xml:"title"`
			Paths []struct {
				D string `xml:"d,attr"`
			} `xml:"path"`
		} `xml:"g"`
	}
	if err := xml.Unmarshal(text, &drawing); err != nil {
		t.Fatal(err)
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, g := range drawing.Groups {
		if g.Title != layer {
			continue
		}
		for _, p := range g.Paths {
			words := strings.FieldsFunc(p.D, func(r rune) bool { return strings.ContainsRune("MLZ ", r) })
			for i := 0; i < len(words); i += 2 {
				x, err := strconv.ParseFloat(words[i], 64)
				if err != nil {
					t.Fatal(err)
				}
				low, high = math.Min(low, x), math.Max(high, x)
			}
		}
	}
	return high - low
}

// darkRun is the longest run of dark dots in a row.
func darkRun(img image.Image, y int) (longest int) {
	run := 0
	for x := img.Bounds().Min.X; x < img.Bounds().Max.X; x++ {
		if r, _, _, _ := img.At(x, y).RGBA(); r < 0xb000 {
			run++
			longest = max(longest, run)
		} else {
			run = 0
		}
	}
	return longest
}

// TestChildMakes is the process that TestMakeKilled kills: it writes the folder again and again, now with one piece, now
// with another.
func TestChildMakes(t *testing.T) {
	child := killtest.Written(t)
	var works [2]func() Work
	for i, layers := range pieces {
		works[i] = sync.OnceValue(func() Work { return work(t, solidtest.Box(100, 80, 16*layers), job.Places{}, solid) })
	}
	child.Rounds(func(round int, step func()) error {
		w := works[round%2]()
		step()
		all, err := List(w, []Kind{Layers, Outlines, Lists})
		if err != nil {
			return err
		}
		_, err = Write(context.Background(), w, child.Path, all, func(float64, string) { step() })
		return err
	})
}

// pieces are the layers of the two pieces whose files TestMakeKilled looks at.
var pieces = [2]float64{2, 3}

// TestMakeKilled: killed at any moment, 50 times, the folder is one that a whole make has written.
func TestMakeKilled(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	seen := map[int]bool{}
	killtest.Killing{Child: "TestChildMakes", Path: dir, Kills: 50, Look: func(old, next int) (int, error) {
		if _, err := os.Stat(dir); os.IsNotExist(err) {
			return killtest.Nothing, nil
		}
		layers, err := checkContents(dir)
		if err != nil {
			return 0, err
		}
		if old >= 0 && pieces[old%2] == float64(layers) {
			next = old
		}
		if pieces[next%2] != float64(layers) {
			return 0, fmt.Errorf("%d layers are in the folder", layers)
		}
		seen[next] = true
		return next, nil
	}}.Run(t)
	if len(seen) < 10 {
		t.Errorf("only %d different folders were seen: the test looked at too little", len(seen))
	}
}

// checkContents compares a folder with its list: the files, their sizes, and that the layers are those of one piece, which it
// counts.
func checkContents(dir string) (layers int, err error) {
	text, err := os.ReadFile(filepath.Join(dir, "contents.txt"))
	if err != nil {
		return 0, err
	}
	for _, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		size, name, _ := strings.Cut(line, "\t")
		info, err := os.Stat(filepath.Join(dir, filepath.FromSlash(name)))
		if err != nil {
			return 0, err
		}
		if strconv.FormatInt(info.Size(), 10) != size {
			return 0, fmt.Errorf("%s has %d bytes, the list says %s", name, info.Size(), size)
		}
		if strings.HasPrefix(name, "layers/layer-") {
			layers++
		}
	}
	found, err := filepath.Glob(filepath.Join(dir, "layers", "layer-*.stl"))
	if err != nil || len(found) != layers || layers < 2 {
		return 0, fmt.Errorf("%d layers listed, %d there: %w", layers, len(found), err)
	}
	return layers, nil
}
