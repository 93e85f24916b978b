package files

import (
	"context"
	"encoding/json"
	"math"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"grainstack/slicing/export"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/solidtest"
)

// measureDXF prints what the reader ezdxf finds in a drawing, after it has audited it.
const measureDXF = `
import json, sys, ezdxf
d = ezdxf.readfile(sys.argv[1])
a = d.audit()
lines, circles, texts = [], [], []
for e in d.modelspace():
    if e.dxftype() == "POLYLINE":
        lines.append({"layer": e.dxf.layer, "closed": e.is_closed, "x": [v.dxf.location.x for v in e.vertices], "y": [v.dxf.location.y for v in e.vertices]})
    elif e.dxftype() == "CIRCLE":
        circles.append({"layer": e.dxf.layer, "radius": e.dxf.radius})
    else:
        texts.append(e.dxf.text)
json.dump({"version": d.dxfversion, "errors": len(a.errors), "fixes": len(a.fixes), "layers": [l.dxf.name for l in d.layers], "lines": lines, "circles": circles, "texts": texts}, sys.stdout)
`

type dxfFound struct {
	Version       string
	Errors, Fixes int
	Layers, Texts []string
	Lines         []struct {
		Layer  string
		Closed bool
		X, Y   []float64
	}
	Circles []struct {
		Layer  string
		Radius float64
	}
}

// TestDXFByAnotherReader: ezdxf, a reader of Debian's archive, finds nothing to mend in a drawing of a block of 100 × 60 mm,
// and measures its lower face at that, its pins and its panel.
func TestDXFByAnotherReader(t *testing.T) {
	const python = "/usr/bin/python3" // the one that Debian's packages are for
	if exec.Command(python, "-c", "import ezdxf").Run() != nil {
		t.Skip("no DXF reader here: python3-ezdxf")
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
	for name, size := range map[string][3]any{"layer-01": {"LOWER_FACE", 100.0, 60.0}, "panel-01-A": {"PANEL", 600.0, 600.0}} {
		out, err := exec.Command(python, "-c", measureDXF, filepath.Join(dir, "outlines", name+".dxf")).Output()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var f dxfFound
		if err := json.Unmarshal(out, &f); err != nil {
			t.Fatal(err)
		}
		if f.Version != "AC1009" || f.Errors > 0 || f.Fixes > 0 || !slices.Contains(f.Texts, "All lengths in mm") {
			t.Errorf("%s: version %s, %d errors, %d mended, texts %q", name, f.Version, f.Errors, f.Fixes, f.Texts)
		}
		found := false
		for _, l := range f.Lines {
			if !slices.Contains(f.Layers, l.Layer) {
				t.Errorf("%s: a line on the layer %s, which the drawing lacks", name, l.Layer)
			}
			if l.Layer != size[0] {
				continue
			}
			found = true
			wide, high := slices.Max(l.X)-slices.Min(l.X), slices.Max(l.Y)-slices.Min(l.Y)
			if !l.Closed || math.Abs(wide-size[1].(float64)) > 0.001 || math.Abs(high-size[2].(float64)) > 0.001 {
				t.Errorf("%s: %s is %.4f × %.4f mm, closed: %v", name, l.Layer, wide, high, l.Closed)
			}
		}
		if !found {
			t.Errorf("%s: nothing on the layer %s", name, size[0])
		}
		for _, c := range f.Circles {
			if c.Radius != 4 { // dowels and pins are of 8 mm
				t.Errorf("%s: a circle of radius %g on %s", name, c.Radius, c.Layer)
			}
		}
		if len(f.Circles) < 2 {
			t.Errorf("%s: %d circles", name, len(f.Circles))
		}
	}
}

// TestColoursAreAlike: a layer has one colour in all drawings of a job, and every layer that is drawn on is in the table.
func TestColoursAreAlike(t *testing.T) {
	w := work(t, solidtest.Box(100, 60, 32), job.Places{}, solid)
	b := newBench(context.Background(), w)
	want, drawn := map[string]int{}, 0
	for _, s := range strokes() {
		if _, twice := want[s.Name]; twice || s.Color < 1 || s.Color > 8 {
			t.Errorf("%q is there twice or has the colour %d", s.Name, s.Color)
		}
		want[s.Name] = s.Color
	}
	check := func(s export.Sheet, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range s.Layers {
			drawn++
			if color, known := want[l.Name]; !known || color != l.Color {
				t.Errorf("%s: the layer %q has the colour %d", s.Name, l.Name, l.Color)
			}
		}
	}
	for _, side := range faces() {
		check(b.panelDrawing(context.Background(), 0, side))
	}
	check(b.layerDrawing(context.Background(), 1))
	check(b.layerDrawing(context.Background(), 2))
	if drawn < 20 {
		t.Errorf("only %d layers were looked at", drawn)
	}
}

// TestSideBIsSideATurned: what side A's drawing has at a place, side B's has where the panel's turning carries it.
func TestSideBIsSideATurned(t *testing.T) {
	w := work(t, solidtest.Box(100, 60, 32), job.Places{}, solid)
	b := newBench(context.Background(), w)
	a, err := b.panelDrawing(context.Background(), 0, panel.SideA)
	if err != nil {
		t.Fatal(err)
	}
	turned, err := b.panelDrawing(context.Background(), 0, panel.SideB)
	if err != nil {
		t.Fatal(err)
	}
	holes := 0
	for i, l := range a.Layers {
		if l.Name != turned.Layers[i].Name || len(l.Circles) != len(turned.Layers[i].Circles) {
			t.Fatalf("side B has %q in place of %q", turned.Layers[i].Name, l.Name)
		}
		for k, c := range l.Circles {
			holes++
			q := turned.Layers[i].Circles[k].At
			if math.Abs(q.X-c.At.X) > 1e-9 || math.Abs(q.Y-(w.Workshop.For.PanelY-c.At.Y)) > 1e-9 {
				t.Errorf("%s: %v lies at %v on side B", l.Name, c.At, q)
			}
		}
	}
	if holes < 4 {
		t.Errorf("only %d holes were looked at", holes)
	}
}
