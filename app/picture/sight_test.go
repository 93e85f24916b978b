package picture

import (
	"context"
	"math"
	"testing"

	"grainstack/render/look"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

// TestLine: a place on a ball is seen from its own side and not through it, whatever the viewer looked at before; the middle of a
// shut hollow is seen only with the ball cut away there.
func TestLine(t *testing.T) {
	ctx, at := context.Background(), geom.Placement{Turn: geom.NoTurn(), Scale: 1}
	ball := solidtest.Sphere(50, 4000)
	for _, p := range []geom.Vec{{X: 51}, {Y: -51}, {X: 36, Y: 36, Z: 5}, {Z: 51}} {
		line, err := Line(ctx, ball, at, finding.Undercut, finding.Place{At: p, Placed: true}, look.Camera{Azimuth: math.Pi, Elevation: 0.2, Zoom: 1})
		if err != nil || line.Cut != 0 {
			t.Fatalf("%v: %+v, %v", p, line, err)
		}
		if line.way().Dot(p.Unit()) < 0 {
			t.Errorf("%v is looked at through the ball: %+v", p, line)
		}
	}
	hollow := solidtest.Join(ball, solidtest.Flip(solidtest.Sphere(20, 1000)))
	line, err := Line(ctx, hollow, at, finding.InnerUndercut, finding.Place{At: geom.Vec{Z: 5}, Placed: true}, FirstCamera())
	if err != nil || line.Cut != 5 || line.Elevation < 0.5 {
		t.Errorf("within the hollow: %+v, %v", line, err)
	}
	off, stop := context.WithCancel(ctx)
	stop()
	if _, err := Line(off, ball, at, finding.Undercut, finding.Place{At: geom.Vec{X: 51}}, FirstCamera()); err == nil {
		t.Error("it was called off, and there is no error")
	}
}
