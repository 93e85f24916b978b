package carve_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"grainstack/slicing/carve"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
)

func findings(t testing.TB, l carve.LayerColumns, w carve.Work, parts []stack.Part) []carve.Finding {
	t.Helper()
	task := carve.Task{Layers: []carve.LayerColumns{l}, Work: w, Limits: carve.UsualLimits()}
	if parts != nil {
		task.Parts = [][]stack.Part{parts}
	}
	if w.Cutter.Diameter > 0 {
		task.Cuts = []carve.LayerCut{cut(t, l, w)}
	}
	fs, err := task.Check(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return fs
}

// inside is a shape from a test for wood, h high.
func inside(h float64, in func(x, y float64) bool) func(x, y float64) float64 {
	return func(x, y float64) float64 {
		if in(x, y) {
			return h
		}
		return math.NaN()
	}
}

func within(v, half float64) bool { return math.Abs(v) < half }

func TestFindings(t *testing.T) {
	long := stock.Cutter{Name: "long ball nose", Shape: stock.Ball, Diameter: 6, CutLength: 30, Reach: 50, Shank: 6}
	short := stock.Cutter{Name: "3 mm end mill", Shape: stock.Flat, Diameter: 3, CutLength: 12, Reach: 30, Shank: 6}
	for _, tt := range []struct {
		name   string
		h      func(x, y float64) float64
		w      carve.Work
		kind   finding.Kind
		side   carve.Side
		size   float64
		near   float64
		at     geom.Vec2
		within float64
	}{
		{"a wall of 2.5 mm", inside(panel, func(x, y float64) bool {
			return within(y, 1.25) && within(x, 25) || y > 0 && within(x-20, 8) && within(y, 20)
		}),
			carve.Work{}, finding.ThinWood, carve.Both, 2.5, 0.3, geom.Vec2{X: -7}, 20},
		{"a floor of 1.5 mm", func(x, y float64) float64 {
			if within(x, 10) && within(y, 10) {
				return 1.5
			}
			return panel
		}, carve.Work{}, finding.ThinWood, carve.Both, 1.5, 0.01, geom.Vec2{}, 1},
		{"an island", inside(panel, func(x, y float64) bool { return x > 0 || within(x+15, 5) && within(y, 5) }),
			carve.Work{}, finding.LoosePart, carve.Both, 100, 10, geom.Vec2{X: -15}, 0.5},
		{"a neck of 4 mm", inside(panel, func(x, y float64) bool { return math.Abs(x) > 5 || within(y, 2) }),
			carve.Work{}, finding.Neck, carve.Both, 4, 0.6, geom.Vec2{}, 0.5},
		{"a groove too narrow", func(x, y float64) float64 {
			if within(x, 2) {
				return 12
			}
			return panel
		}, carve.Work{Cutter: long}, finding.NoFit, carve.Up, 8, 1.2, geom.Vec2{}, 30},
		{"too deep", inside(panel, func(x, y float64) bool { return x > 0 }),
			carve.Work{Cutter: short, Past: 0.5}, finding.BeyondEdge, carve.Up, 8.5, 0.01, geom.Vec2{X: -15}, 30},
		// The wall stands 20 mm above the panel's far face, the edge cuts 12: the shank meets 8 mm of it.
		{"a tall wall", func(x, y float64) float64 {
			if x > 0 {
				return panel
			}
			return 0.5
		}, carve.Work{Cutter: short}, finding.ShankRubs, carve.Up, 8, 0.01, geom.Vec2{X: 10}, 40},
	} {
		t.Run(tt.name, func(t *testing.T) {
			fs := findings(t, carved(101, 0.5, tt.h), tt.w, nil)
			n := 0
			for _, f := range fs {
				text := finding.Words{}.Sentence(f.Tell(geom.Vec{}))
				t.Logf("%v, %v, %.2f: %s", f.Kind, f.At, f.Size, text)
				if f.Kind != tt.kind || f.Side != tt.side || math.Abs(f.Size-tt.size) > tt.near {
					continue
				}
				if (geom.Vec2{X: f.At.X, Y: f.At.Y}).Sub(tt.at).Len() <= tt.within && strings.Contains(text, "ayer 1") {
					n++
				}
			}
			if n != 1 {
				t.Errorf("found %d times", n)
			}
		})
	}
}

// TestNothingFound: a stout round layer under a long cutter has nothing the matter, nor has one with square corners.
func TestNothingFound(t *testing.T) {
	long := stock.Cutter{Name: "long ball nose", Shape: stock.Ball, Diameter: 6, CutLength: 30, Reach: 50, Shank: 6}
	for name, h := range map[string]func(x, y float64) float64{
		"dome": func(x, y float64) float64 {
			if v := 30*30 - x*x - y*y; v > 0 {
				return min(math.Sqrt(v), panel)
			}
			return math.NaN()
		},
		"square": inside(panel, func(x, y float64) bool { return within(x, 30) && within(y, 30) }),
	} {
		box := geom.Box{Min: geom.Vec{X: -30, Y: -30}, Max: geom.Vec{X: 30, Y: 30, Z: panel}}
		for _, f := range findings(t, carved(141, 0.5, h), carve.Work{Cutter: long, Past: 0.5}, []stack.Part{{Box: box, Volume: 40000}}) {
			t.Errorf("%s: %+v", name, f)
		}
	}
}

func TestSmallPart(t *testing.T) {
	l := carved(41, 0.5, inside(panel, func(x, y float64) bool { return within(x, 4) && within(y, 4) }))
	part := stack.Part{Box: geom.Box{Min: geom.Vec{X: -4, Y: -4}, Max: geom.Vec{X: 4, Y: 4, Z: panel}}, Volume: 64 * panel}
	for _, f := range findings(t, l, carve.Work{}, []stack.Part{part}) {
		if f.Kind == finding.SmallPart && f.Size == 8 {
			return
		}
	}
	t.Error("not found")
}

// TestDemo names the undercut of the demo piece at the place where the columns have it.
func TestDemo(t *testing.T) {
	p := hare(t, 60_000)
	cs := reach(t, p.Mesh, layers(t, p.Box.Size().Z, 18), carve.Options{})
	task := carve.Task{Layers: cs, Work: carve.Work{Cutter: ball, Past: 0.5}, Limits: carve.UsualLimits()}
	var err error
	if task.Cuts, err = carve.Cuts(context.Background(), cs, task.Work, nil); err != nil {
		t.Fatal(err)
	}
	fs, err := task.Check(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	_, trapped, _ := sums(cs)
	named := 0.0
	for _, f := range fs {
		t.Logf("%v, %.0f: %+v", f.Kind, f.At, f)
		if f.Kind == finding.Undercut {
			named += f.Size
			if s := cs[f.Layer-1].Slab; f.At.Z < s.Bottom || f.At.Z > s.Top {
				t.Errorf("layer %d: the undercut is at %v", f.Layer, f.At)
			}
		}
	}
	if !(named > 0.8*trapped) {
		t.Errorf("findings name %.0f of %.0f mm³", named, trapped)
	}
}
