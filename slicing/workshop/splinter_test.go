package workshop_test

import (
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/export"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobtest"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
	"grainstack/slicing/workshop"
)

// TestSplinters: of two blocks that hang together by a neck the smaller comes off where the neck is narrower than it may be, with
// a volume and a place that are known; a sharp corner comes off nowhere, and a wider neck holds.
func TestSplinters(t *testing.T) {
	const high = 12.0
	s := job.Default(stocktest.Catalogue(t))
	s.Wall = 0
	for _, tt := range []struct {
		neck float64
		off  bool
	}{{0.4, true}, {0.9, true}, {2.2, false}, {4, false}} {
		// 60 x 40 mm with a sharp corner, a neck 6 mm long, and 20 x 30 mm behind it, seen from the front.
		low, up := 20-tt.neck/2, 20+tt.neck/2
		ring := geom.Ring{
			{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 60, Y: low}, {X: 66, Y: low}, {X: 66, Y: 5}, {X: 86, Y: 5}, {X: 86, Y: 35},
			{X: 66, Y: 35}, {X: 66, Y: up}, {X: 60, Y: up}, {X: 60, Y: 40}, {X: -40, Y: 40},
		}
		lying := solidtest.Turned(prism(ring, high), geom.TurnXYZ(90, 0, 0))
		w, _ := laidOut(t, lying, s, job.Places{})
		if told := saysOff(w); told != tt.off {
			t.Errorf("neck of %g mm: it is told %v that something comes off", tt.neck, told)
		}
		if !tt.off {
			if len(w.Parts) != 1 || len(w.Parts[0].Splinters) > 0 {
				t.Errorf("neck of %g mm: %d parts, splinters %v", tt.neck, len(w.Parts), w.Parts[0].Splinters)
			}
			continue
		}
		if len(w.Parts) != 1 || len(w.Parts[0].Splinters) != 1 {
			t.Fatalf("neck of %g mm: %d parts, splinters %v", tt.neck, len(w.Parts), w.Parts[0].Splinters)
		}
		p := w.Parts[0].Splinters[0]
		const block, column = 20 * 30 * high, 0.5
		if p.Volume < 0.98*block || p.Volume > 1.02*block+6*(tt.neck+column)*high {
			t.Errorf("neck of %g mm: %.0f mm³ come off, the block has %.0f", tt.neck, p.Volume, block)
		}
		all := w.Parts[0].Shadow.Box()
		if math.Abs(p.Box.Max.X-all.Max.X) > 1 || math.Abs(p.Box.Size().Y-30) > 1 || p.Box.Size().X < 20-column || p.Box.Size().X > 26+column {
			t.Errorf("neck of %g mm: %v comes off of %v", tt.neck, p.Box, all)
		}
	}
}

// TestHollowCutsFree: round a bore in the middle of a thick rod the hollow leaves a tube that hangs on nothing where it goes right
// through a layer; there the tube is a part of its own, that is laid and held, and nowhere else anything comes off.
func TestHollowCutsFree(t *testing.T) {
	const outer, bore, wall, high = 60.0, 8.0, 10.0, 96.0
	c := stocktest.Catalogue(t)
	rod := solidtest.Join(solidtest.Frustum(outer, outer, high, 96), solidtest.Flip(solidtest.Moved(solidtest.Frustum(bore, bore, high-12, 96), geom.Vec{Z: 6})))
	for _, core := range []job.CoreKind{job.Carved, job.Straight} {
		s := job.Default(c).WithLayer(c, 12)
		s.Wall, s.Core, s.CapBottom, s.CapTop = wall, core, 0, 0
		w, _ := laidOut(t, rod, s, job.Places{})
		tubes := 0
		for _, p := range w.Parts {
			l := &w.Figures.Layers[p.Layer-1]
			want := math.Pi * outer * outer
			if p.ID.Part == 1 {
				if tubes++; l.Bottom < wall || l.Top > high-wall {
					t.Errorf("core %v: layer %d has a part cut free", core, p.Layer)
				}
				want = math.Pi * ((bore+wall)*(bore+wall) - bore*bore)
				if !p.Held {
					t.Errorf("core %v: %v is not held by its %d tabs", core, p.ID, len(p.Tabs))
				}
			}
			jobtest.Near(t, "area of "+p.ID.String(), p.Shadow.Area(), want, 0.02)
			if _, _, ok := w.Layout.Find(p.ID); !ok || len(p.Splinters) > 0 || p.ID.Part > 1 {
				t.Errorf("core %v: %v is laid: %v; %v comes off", core, p.ID, ok, p.Splinters)
			}
		}
		if tubes < 5 || saysOff(w) {
			t.Errorf("core %v: tubes in %d layers; that something comes off is told: %v", core, tubes, saysOff(w))
		}
		_, off := holdsTogether(t, w)
		t.Logf("core %v: outlines are off by %.3f mm at the most", core, off)
		checkTubeJoints(t, w, math.Pi*(outer*outer-(outer-wall)*(outer-wall)), math.Pi*((bore+wall)*(bore+wall)-bore*bore))
	}
}

// checkTubeJoints: where a tube stands on a tube the glue-up has both as parts, with the areas of their rings, and nothing of one on the
// other.
func checkTubeJoints(t *testing.T, w *workshop.Workshop, ring, tube float64) {
	t.Helper()
	for i, j := range w.Joints {
		below, above := len(w.Layers[i].Parts), len(w.Layers[i+1].Parts)
		if below != 2 || above != 2 {
			continue
		}
		if len(j.Pairs) != 2 || j.Pairs[0].Below != 1 || j.Pairs[0].Above != 1 || j.Pairs[1].Below != 2 || j.Pairs[1].Above != 2 {
			t.Fatalf("joint %d: two parts on two meet as %v", i+1, j.Pairs)
		}
		jobtest.Near(t, "ring on ring", j.Pairs[0].Area, ring, 0.02)
		jobtest.Near(t, "tube on tube", j.Pairs[1].Area, tube, 0.02)
	}
}

// holdsTogether: the parts of every layer are numbered without a gap, each has a solid of its own, and their solids together are the
// layer's; the outline of what is cut free holds for its solid. It tells how many are cut free, and how far the worst outline is off, mm.
func holdsTogether(t *testing.T, w *workshop.Workshop) (cut int, off float64) {
	t.Helper()
	rnd := rand.New(rand.NewSource(1))
	made, _ := w.Figures.Made()
	for i := range w.Layers {
		l := &w.Layers[i]
		if len(l.Parts) == len(w.Figures.Layers[i].Parts) {
			continue
		}
		solids, err := export.LayerSolids(t.Context(), made, w.Figures, []int{i + 1})
		if err != nil {
			t.Fatal(err)
		}
		bodies, sum, seen := solids[0].Parts(), 0.0, 0
		for k := range w.Parts {
			p := &w.Parts[k]
			if p.Layer != i+1 {
				continue
			}
			own := p.Own(bodies)
			if own.Volume() < stack.SliverVolume {
				t.Errorf("%v has a solid of %.1f mm³", p.ID, own.Volume())
			}
			sum, seen = sum+own.Volume(), seen+1
			if layer := &w.Figures.Layers[i]; p.Of >= len(layer.Parts) {
				far := newLookDown(own).off(p.Shadow, layer.Bottom, layer.Top, 2000, rnd, func(geom.Vec2) bool { return false })
				if off = math.Max(off, far); far > outlineTrue {
					t.Errorf("%v: the outline of what is cut free is %.3f mm off", p.ID, far)
				}
			}
		}
		for k, j := range []int{i - 1, i} { // the joint below and the one above
			if j < 0 || j >= len(w.Joints) {
				continue
			}
			for _, pair := range w.Joints[j].Pairs {
				if n := [2]int{pair.Above, pair.Below}[k]; n < 1 || n > len(l.Parts) {
					t.Errorf("joint %d: part %d of the %d of layer %d", j+1, n, len(l.Parts), i+1)
				}
			}
		}
		if seen != len(l.Parts) || seen != l.Pieces {
			t.Errorf("layer %d: %d parts, %d told", i+1, seen, len(l.Parts))
		}
		if all := solids[0].Volume(); math.Abs(sum-all) > 1e-6*all {
			t.Errorf("layer %d: its parts hold %.1f mm³, its solid %.1f", i+1, sum, all)
		}
		cut += len(l.Parts) - len(w.Figures.Layers[i].Parts)
	}
	return cut, off
}

// TestPartsOfFieldPieces: on hollow pieces of the folder that GRAINSTACK_FIELD_SET names a layer's parts have one answer.
func TestPartsOfFieldPieces(t *testing.T) {
	set := os.Getenv("GRAINSTACK_FIELD_SET")
	if set == "" {
		t.Skip("GRAINSTACK_FIELD_SET names no folder")
	}
	files, err := filepath.Glob(filepath.Join(set, "*.o??"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		p, err := job.OpenPiece(t.Context(), file)
		if err != nil || len(p.Mesh.Triangles) > 12000 {
			continue
		}
		for _, core := range []job.CoreKind{job.Carved, job.Straight} {
			s := job.Default(stocktest.Catalogue(t))
			s.Wall, s.Core, s.CapBottom, s.CapTop = 7, core, 0, 0
			if p, err = p.Mend(t.Context(), s, nil); err != nil {
				t.Fatal(err)
			}
			box := p.Mesh.Box().Size()
			k := 300 / max(box.X, box.Y, box.Z)
			w, _ := laidOut(t, solidtest.Stretch(p.Mesh, k, k, k), s, job.Places{})
			cut, off := holdsTogether(t, w)
			t.Logf("%s, core %v: %d layers, %d parts cut free, outlines off by %.3f mm at the most", filepath.Base(file), core, len(w.Layers), cut, off)
		}
	}
}

// saysOff reports whether a caution tells that wood comes off.
func saysOff(w *workshop.Workshop) bool {
	for _, c := range w.Cautions {
		if c.Kind == finding.Splinter {
			return true
		}
	}
	return false
}
