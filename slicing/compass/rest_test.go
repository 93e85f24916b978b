package compass

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

// TestRests: a block rests on each of its six faces, a cone on its base, a leaning block on no face beside its centre.
func TestRests(t *testing.T) {
	for _, turn := range []geom.Turn{geom.NoTurn(), leant()} {
		block := solidtest.Moved(solidtest.Turned(solidtest.Box(30, 40, 50), turn), geom.Vec{X: 300, Y: -20, Z: 5})
		centre, _ := block.Centroid()
		got := Rests(block, centre)
		if len(got) != 6 {
			t.Errorf("a block rests in %d ways: %v", len(got), got)
		}
		for _, up := range got {
			v := turn.Inverse().Apply(up)
			if most := max(math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z)); most < 1-1e-6 {
				t.Errorf("a block rests with %v up", v)
			}
		}
		cone := solidtest.Turned(solidtest.Frustum(60, 0, 40, 180), turn)
		centre, _ = cone.Centroid()
		base := false
		for _, up := range Rests(cone, centre) {
			base = base || turn.Inverse().Apply(up).Z > 1-1e-6
		}
		if !base {
			t.Error("a cone does not rest on its base")
		}
	}
	// A block sheared so far that its centre lies beyond its base falls over.
	block := solidtest.Box(20, 20, 40)
	for i, p := range block.Points {
		block.Points[i][0] = p[0] + 1.5*p[2]
	}
	centre, _ := block.Centroid()
	got := Rests(block, centre)
	if len(got) == 0 {
		t.Error("a sheared block rests nowhere")
	}
	for _, up := range got {
		if math.Abs(up.Z) > 1-1e-6 {
			t.Error("a sheared block rests on its base, beyond which its centre lies")
		}
	}
}
