package job_test

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/solidtest"
)

// TestPinRoomIsOverTheWholeDepth: in a solid cone that narrows by a third of a millimetre in each upwards, the end of a pin is
// nearer to the surface than its middle at the joint is: by the cone's slope, to a voxel's hundredth and the flats of its facets.
func TestPinRoomIsOverTheWholeDepth(t *testing.T) {
	s := job.Default(catalogue(t))
	s.Wall = 60 // more than there is: no hollow
	w, _ := workshop(t, solidtest.Frustum(60, 30, 90, 256), s, job.Places{})
	if len(w.Joints) < 4 {
		t.Fatalf("%d joints", len(w.Joints))
	}
	for i := range 3 {
		j := &w.Joints[i+1] // the first is near the floor, too
		radius := 60 - (j.Z+j.Depth)/3
		for _, off := range []float64{10, 20} {
			at := geom.Vec2{X: radius - off}
			want := off * math.Cos(math.Atan(1.0/3))
			if got, near := j.PinRoom(at); math.Abs(got-want) > 0.05*want || near != job.Outside {
				t.Errorf("joint %d, %g mm inside the narrow end: %.2f mm to %v, want %.2f mm to the surface", i+2, off, got, near, want)
			}
		}
		if got, near := j.PinRoom(geom.Vec2{X: 61}); got != 0 || near != job.JointEdge {
			t.Errorf("joint %d, outside: %.2f mm to %v", i+2, got, near)
		}
	}
}
