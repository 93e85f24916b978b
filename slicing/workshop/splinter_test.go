package workshop_test

import (
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobtest"
	"grainstack/slicing/solidtest"
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
