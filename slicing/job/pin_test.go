package job_test

import (
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/solidtest"
)

// TestPinRoomIsOverTheWholeDepth: in a solid cone that narrows by a third of a millimetre in each upwards, the end of a pin is
// nearer to the surface than its middle at the joint is: by the cone's slope, to some hundredths for the field's voxels and the flats of its facets.
func TestPinRoomIsOverTheWholeDepth(t *testing.T) {
	s := job.Default(stocktest.Catalogue(t))
	s.Wall = 60 // more than there is: no hollow
	w, _ := workshop(t, solidtest.Frustum(60, 30, 90, 256), s, job.Places{})
	if len(w.Joints) < 4 {
		t.Fatalf("%d joints", len(w.Joints))
	}
	for i := range 4 {
		j := &w.Joints[i]
		radius := 60 - (j.Z+j.Depth)/3
		for _, off := range []float64{10, 20} {
			at := geom.Vec2{X: radius - off}
			want := min(off*math.Cos(math.Atan(1.0/3)), j.Z-j.Depth, 90-j.Z-j.Depth) // the flat ends are surface, too
			if got, near := j.PinRoom(at); math.Abs(got-want) > 0.05*want || near != job.Outside {
				t.Errorf("joint %d, %g mm inside the narrow end: %.2f mm to %v, want %.2f mm to the surface", i+1, off, got, near, want)
			}
		}
		if got, near := j.PinRoom(geom.Vec2{X: 61}); got != 0 || near != job.JointEdge {
			t.Errorf("joint %d, outside: %.2f mm to %v", i+1, got, near)
		}
	}
}
