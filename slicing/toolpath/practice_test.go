package toolpath_test

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
	"grainstack/slicing/program"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/toolpath"
)

// domed is a layer of an ellipsoid 400 mm long, 300 wide and 240 high, from one height above its middle to another.
func domed(low, high float64) *mesh.Mesh {
	const steps = 24
	profile := []geom.Vec2{{}}
	for k := range steps + 1 {
		z := low + (high-low)*float64(k)/steps
		profile = append(profile, geom.Vec2{X: 150 * math.Sqrt(1-z*z/(120*120)), Y: z - low})
	}
	return solidtest.Stretch(lathed(append(profile, geom.Vec2{Y: high - low}), 180), 400.0/300, 1, 1)
}

// TestCommonPractice: with the cutters of 6.35 mm, feeds and steps that are set out with, the programs of a body of 400 × 300 × 240 mm
// in 15 layers of 16 mm on 10 panels of 600 × 600 mm take 40 to 90 minutes a side to rough and 2 to 3 hours a side to finish (common
// practice, no source). Each layer lies on a panel of its own here, which is the same work.
func TestCommonPractice(t *testing.T) {
	if testing.Short() {
		t.Skip("the paths of eight layers take half a minute")
	}
	s, _ := setup(t)
	if s.Rough.Diameter != 6.35 || s.Finish.Diameter != 6.35 {
		t.Fatalf("the cutters that are set out with are of %g and %g mm", s.Rough.Diameter, s.Finish.Diameter)
	}
	var minutes [2]float64
	for k := range 8 { // the layers below the middle one are those above it upside down
		times := 2.0
		if k == 0 {
			times = 1
		}
		rough, finish := layerMinutes(t, s, domed(16*float64(k)-8, 16*float64(k)+8))
		t.Logf("layer %d from the middle: %.1f min to rough, %.1f to finish", k, rough, finish)
		minutes[0] += times * rough
		minutes[1] += times * finish
	}
	const sides = 20
	rough, finish := minutes[0]/sides, minutes[1]/sides/60
	t.Logf("a side: %.1f min to rough, %.2f h to finish; a panel %.1f h", rough, finish, rough/30+2*finish)
	if rough < 40 || rough > 90 {
		t.Errorf("a side takes %.1f min to rough, want 40 to 90", rough)
	}
	if finish < 2 || finish > 3 {
		t.Errorf("a side takes %.2f h to finish, want 2 to 3", finish)
	}
}

// layerMinutes is how long both sides of a layer in the middle of a panel take.
func layerMinutes(t *testing.T, s hours.Setup, m *mesh.Mesh) (rough, finish float64) {
	t.Helper()
	r, err := panel.Registration(600, 600, panel.AlongX, panel.OnCentreLine, 8, 12, 14)
	if err != nil {
		t.Fatal(err)
	}
	p := toolpath.Panel{
		Number: 1, X: 600, Y: 600, Thickness: thickness, Skim: 0.9, Register: r,
		Parts: []toolpath.Part{{Solid: m, At: geom.Vec2{X: 300, Y: 300}}},
	}
	half := m.Box().Size().Scale(0.5)
	for i := range 4 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 2)
		p.Tabs = append(p.Tabs, hours.Tab{At: geom.Vec2{X: 300 + half.X*cos, Y: 300 + half.Y*sin}, Way: geom.Vec2{X: cos, Y: sin}, Root: 3, Length: 12, Width: 8, Bottom: 5, Top: 11})
	}
	for _, one := range made(t, p, s) {
		switch one.Step {
		case program.Rough:
			rough += one.Min
		case program.Finish:
			finish += one.Min
		}
	}
	return rough, finish
}
