package job_test

import (
	"math"
	"slices"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
)

// TestAMovedSurfaceNeedsALook: where mending moved the surface by more than half a millimetre at the piece's scale, its place is
// among what needs a look, in its layer; where by less, nothing is said.
func TestAMovedSurfaceNeedsALook(t *testing.T) {
	c := stocktest.Catalogue(t)
	p := job.NewPiece("ball", ball80(), mesh.Raw{})
	p.Mended = job.Mended{MmPerUnit: 1, Did: []mend.Action{{Kind: mend.Shifted, Count: 1, Moved: 0.8, At: geom.Vec{Y: -60, Z: 52}}}}
	for _, tt := range []struct{ scale, want float64 }{{1, 0.8}, {2, 1.6}, {0.5, 0}} {
		s := layered(t, nil, 8)
		s.Scale = tt.scale
		st, err := job.Stand(t.Context(), p, s.Stand())
		if err != nil {
			t.Fatal(err)
		}
		f, err := job.Instant(t.Context(), st, s, c)
		if err != nil || !f.Withheld.None() {
			t.Fatal(err, f.Withheld)
		}
		i := slices.IndexFunc(f.Cautions, func(o finding.Finding) bool { return o.Kind == finding.Moved })
		if i < 0 {
			if tt.want > 0 {
				t.Errorf("at scale %v nothing is said", tt.scale)
			}
			continue
		}
		at := f.Cautions[i].Worst()
		l := f.Layers[at.Layer-1]
		if z := (52 + 80) * tt.scale; math.Abs(at.Size-tt.want) > 1e-9 || math.Abs(at.At.Z-z) > 0.1 || z < l.Bottom || z > l.Top || at.Where != (finding.Where{Y: -1}) {
			t.Errorf("at scale %v: %+v, want %v mm, %v up, at the front", tt.scale, at, tt.want, z)
		}
	}
}
