package wayout_test

import (
	"context"
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/carve"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobtest"
	"grainstack/slicing/mesh"
	"grainstack/slicing/sample"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
	"grainstack/slicing/wayout"
)

// holeLong is how long the hole in bored is, mm.
const holeLong = 40.0

// bored is a block 100 x 60 x 12 mm with a level hole inside, of square section that stands on its edge, half a diagonal d high
// with its middle z above the floor.
func bored(d, z float64) *mesh.Mesh {
	hole := solidtest.Turned(solidtest.Frustum(d, d, holeLong, 4), geom.TurnXYZ(90, 0, 0))
	return solidtest.Join(solidtest.Box(100, 60, 12), solidtest.Flip(solidtest.Moved(hole, geom.Vec{X: 50, Y: 50, Z: z})))
}

// partings are the ways out by one more joint, of a piece in one layer of 12 mm or of many.
func partings(t *testing.T, m *mesh.Mesh, change func(*job.Settings)) (*job.Standing, *job.Figures, *job.Reached, []wayout.Way) {
	t.Helper()
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall = 0
	change(&s)
	st := jobtest.Standing(t, m, s)
	f := jobtest.Settled(t, st, s, c)
	r := jobtest.Reached(t, st, f, stocktest.Catalogue(t), 0.5)
	all, err := wayout.Find(context.Background(), st, f, r, c)
	if err != nil {
		t.Fatal(err)
	}
	var out []wayout.Way
	for _, w := range all {
		if w.ByHand() {
			out = append(out, w)
		}
	}
	return st, f, r, out
}

// TestOneMoreJoint: only a joint through the middle of a square hole on its edge frees all of it, so there it is put. Where that
// would leave a board thinner than 3 mm, boards allow for one column either side of the middle, 1 mm apart: those have 1.5 mm of
// air either way, and the joint is put halfway between the end of that and the thinnest board. A joint frees 2(d² - off²) times
// the hole's length.
func TestOneMoreJoint(t *testing.T) {
	for _, tt := range []struct {
		name     string
		d, z, at float64
	}{
		{"in the middle", 4, 6, 6},
		{"above the middle", 3, 7.5, 7.5},
		{"too near the top", 2, 9.6, 8.55},
		{"too near the floor", 2, 2.4, 3.45},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, f, r, ways := partings(t, bored(tt.d, tt.z), func(s *job.Settings) { *s = s.WithLayer(stocktest.Catalogue(t), 12) })
			if len(f.Layers) != 1 || len(ways) != 1 {
				t.Fatalf("%d layers, %d ways out by one more joint; findings: %v", len(f.Layers), len(ways), r.Findings)
			}
			w, p := ways[0], ways[0].Parting
			if p.Layer != 1 || math.Abs(p.At-tt.at) > 0.051 {
				t.Errorf("the joint is put at %.2f mm in layer %d, want %.2f", p.At, p.Layer, tt.at)
			}
			if math.Abs(p.Lower-p.At) > 1e-9 || math.Abs(p.Lower+p.Upper-12) > 1e-9 || min(p.Lower, p.Upper) < 3-1e-9 {
				t.Errorf("boards of %.2f and %.2f mm", p.Lower, p.Upper)
			}
			whole := 2 * tt.d * tt.d * holeLong
			off := p.At - tt.z
			left := whole - 2*max(tt.d*tt.d-off*off, 0)*holeLong
			step := 2.0 * tt.d * holeLong // one row of columns along the hole, twice over
			jobtest.Near(t, "trapped there", p.Before, whole, 0.08)
			if math.Abs(p.Left-left) > step {
				t.Errorf("%.0f mm³ stay, want %.0f", p.Left, left)
			}
			if math.Abs(w.TrappedBefore-w.Trapped-(p.Before-p.Left)) > 1e-6*whole {
				t.Errorf("in all %.0f mm³ are freed, there %.0f", w.TrappedBefore-w.Trapped, p.Before-p.Left)
			}
			// One joint more: the block's section less the hole there, and what the glue's spread makes of it.
			open := 2 * max(tt.d-math.Abs(off), 0)
			jobtest.Near(t, "joint", p.Joint, 100*60-open*holeLong, 0.001)
			glue, _ := f.For.GlueIn(stocktest.Catalogue(t))
			jobtest.Near(t, "glue", p.GlueG, glue.Wet(p.Joint), 1e-9)
			if w.Layers != 1 || w.Panels < 0 || w.RouterMin <= 0 || w.Settings != f.For {
				t.Errorf("%+d layers, %+d panels, %+.1f min", w.Layers, w.Panels, w.RouterMin)
			}
			jobtest.Near(t, "weight of the glue", w.WeightKg, glue.Dry(p.Joint)/1000, 1e-6)
		})
	}
}

// TestOneMoreJointHolds: the cutters' columns, taken anew with the layer parted, trap what was promised, on the hare; every layer
// with a finding gets its joint.
func TestOneMoreJointHolds(t *testing.T) {
	st, f, r, ways := partings(t, sample.Hare(100_000), func(*job.Settings) {})
	parted := map[int]bool{}
	for _, w := range ways {
		p := w.Parting
		parted[p.Layer] = true
		var slabs []stack.Slab
		for _, l := range f.Layers {
			lower, upper := l.Slab, l.Slab
			if l.Number == p.Layer {
				lower.Top, upper.Bottom = p.At, p.At
				slabs = append(slabs, lower)
			}
			slabs = append(slabs, upper)
		}
		layers, err := carve.Reach(context.Background(), st.Placed.Mesh, slabs, carve.Options{Step: 1, Thickness: f.Thickness})
		if err != nil {
			t.Fatal(err)
		}
		after := 0.0
		for _, l := range layers {
			after += l.Outside.Volume
		}
		if math.Abs(after-w.Trapped) > 0.002*w.TrappedBefore {
			t.Errorf("%s: it really traps %.0f mm³, not %.0f", w.Text, after, w.Trapped)
		}
		if w.Trapped >= w.TrappedBefore || p.Left > 0.8*p.Before || min(p.Lower, p.Upper) < 3-1e-9 {
			t.Errorf("%s: %.0f of %.0f mm³ stay there", w.Text, p.Left, p.Before)
		}
	}
	if len(parted) == 0 {
		t.Error("no layer is parted")
	}
	for _, one := range r.Findings {
		if one.Kind == finding.Undercut && !parted[one.Layer] {
			t.Errorf("no joint is offered for: %+v", one)
		}
	}
}
