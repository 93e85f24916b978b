package glue_test

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/glue"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stock"
)

func circle(r float64, n int) geom.Region {
	ring := make(geom.Ring, n)
	for i := range ring {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		ring[i] = geom.Vec2{X: r * cos, Y: r * sin}
	}
	return geom.Region{ring}
}

func square(a float64) geom.Region {
	h := a / 2
	return geom.Region{{{X: -h, Y: -h}, {X: h, Y: -h}, {X: h, Y: h}, {X: -h, Y: h}}}
}

// Known answers of statics: a cube tips at 45°; a cone's centre is at h/4, so atan(4r/h); a hemisphere on its flat face has it
// at 3r/8, so atan(8/3); a cylinder at h/2, so atan(2r/h).
func TestTipAngle(t *testing.T) {
	deg := func(d, h float64) float64 { return math.Atan2(d, h) * 180 / math.Pi }
	const n = 3600 // a chord of it is 4e-7 of the radius inside the circle
	for _, tt := range []struct {
		name   string
		base   geom.Region
		height float64 // of the centre
		want   float64
	}{
		{"cube", square(100), 50, 45},
		{"cone", circle(50, n), 200 / 4, deg(4*50, 200)},
		{"slim cone", circle(20, n), 300 / 4, deg(4*20, 300)},
		{"hemisphere", circle(80, n), 3 * 80.0 / 8, deg(8, 3)},
		{"cylinder", circle(30, n), 100, deg(2*30, 200)},
		{"four feet stand like the square round them", feet(100, 10), 50, 45},
	} {
		b, ok := glue.Body{MassG: 1000, Centre: geom.Vec{Z: tt.height}, Base: tt.base}.Stand()
		if !ok {
			t.Fatalf("%s: no balance", tt.name)
		}
		near(t, tt.name, b.TipDeg, tt.want, 1e-4)
	}
}

// feet are four squares of side f in the corners of a square of side a.
func feet(a, f float64) (out geom.Region) {
	for _, sx := range []float64{-1, 1} {
		for _, sy := range []float64{-1, 1} {
			ring := append(geom.Ring(nil), square(f)[0]...)
			for i := range ring {
				ring[i] = ring[i].Add(geom.Vec2{X: sx * (a - f) / 2, Y: sy * (a - f) / 2})
			}
			out = append(out, ring)
		}
	}
	return out
}

// The centres of real solids carry through: a mesh of a cone and of a cube.
func TestTipOfMeshes(t *testing.T) {
	cone, cube := solidtest.Frustum(50, 1e-6, 200, 720), solidtest.Box(100, 100, 100)
	for _, tt := range []struct {
		name string
		m    *mesh.Mesh
		base geom.Region
		want float64
	}{
		{"cone", cone, circle(50, 720), 45},
		{"cube", cube, geom.Region{{{}, {X: 100}, {X: 100, Y: 100}, {Y: 100}}}, 45},
	} {
		c, ok := tt.m.Centroid()
		if !ok {
			t.Fatal(tt.name)
		}
		b, ok := glue.Body{MassG: 1, Centre: c, Base: tt.base}.Stand()
		if !ok {
			t.Fatal(tt.name)
		}
		near(t, tt.name, b.TipDeg, tt.want, 2e-3) // 720 sides: the apothem is 1e-5 shorter
	}
}

// 10 kg on a 100 mm square with the centre 200 mm up: lifted over an edge by √(200² + 50²) − 200 = 6.155 mm, 0.6036 J. Off by
// 30 mm to +X, it falls that way over 20 mm.
func TestEnergyAndDirection(t *testing.T) {
	b, _ := glue.Body{MassG: 10000, Centre: geom.Vec{Z: 200}, Base: square(100)}.Stand()
	near(t, "energy", b.EnergyJ, 10*9.80665*0.00615528, 1e-6)
	b, _ = glue.Body{MassG: 10000, Centre: geom.Vec{X: 30, Z: 200}, Base: square(100)}.Stand()
	near(t, "margin", b.Margin, 20, 1e-9)
	near(t, "towards X", b.Towards.X, 1, 1e-9)
	near(t, "angle", b.TipDeg, math.Atan2(20, 200)*180/math.Pi, 1e-9)
	b, _ = glue.Body{MassG: 10000, Centre: geom.Vec{X: 60, Z: 200}, Base: square(100)}.Stand()
	near(t, "margin outside", b.Margin, -10, 1e-9)
	if b.TipDeg >= 0 || b.EnergyJ != 0 {
		t.Errorf("does not stand, but got %+v", b)
	}
}

// Turning the body about the vertical and moving it changes nothing; the direction turns with it.
func TestTipTurned(t *testing.T) {
	base := geom.Ring{{X: 0, Y: 0}, {X: 90, Y: 5}, {X: 70, Y: 60}, {X: 40, Y: 30}, {X: 10, Y: 80}}
	body := glue.Body{MassG: 5000, Centre: geom.Vec{X: 40, Y: 30, Z: 120}, Base: geom.Region{base}}
	want, _ := body.Stand()
	for deg := 10.0; deg < 360; deg += 35 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		turn := func(p geom.Vec2) geom.Vec2 { return geom.Vec2{X: p.X*cos - p.Y*sin, Y: p.X*sin + p.Y*cos} }
		ring := make(geom.Ring, len(base))
		for i, p := range base {
			ring[i] = turn(p).Add(geom.Vec2{X: 300, Y: -70})
		}
		c := turn(geom.Vec2{X: 40, Y: 30})
		got, _ := glue.Body{MassG: 5000, Centre: geom.Vec{X: c.X + 300, Y: c.Y - 70, Z: 120}, Base: geom.Region{ring}}.Stand()
		near(t, "angle", got.TipDeg, want.TipDeg, 1e-9)
		near(t, "energy", got.EnergyJ, want.EnergyJ, 1e-9)
		near(t, "direction", got.Towards.Sub(turn(want.Towards)).Len(), 0, 1e-9)
	}
}

func TestNoStand(t *testing.T) {
	for name, b := range map[string]glue.Body{
		"no base":   {Centre: geom.Vec{Z: 10}},
		"an edge":   {Centre: geom.Vec{Z: 10}, Base: geom.Region{{{X: 0}, {X: 10}, {X: 20}}}},
		"no height": {Base: square(10)},
		"no figure": {Centre: geom.Vec{Z: math.NaN()}, Base: square(10)},
	} {
		if _, ok := b.Stand(); ok {
			t.Errorf("%s: stands", name)
		}
	}
}

func TestCoat(t *testing.T) {
	// 1.1 m² at 11 m² a litre (10 to 12: varnish maker's page), three coats, 12 h between them.
	c := glue.Coat(1.1e6, stock.Finish{Coats: 3, CoverM2L: 11, RecoatH: 12})
	near(t, "litres a coat", c.CoatLitres, 0.1, 1e-12)
	near(t, "litres", c.Litres, 0.3, 1e-12)
	near(t, "hours", c.DryHours, 36, 0)
	if bare := glue.Coat(1.1e6, stock.Finish{}); bare != (glue.Coating{}) {
		t.Errorf("bare wood takes %+v", bare)
	}
}

// Scratch depths of the wide-belt table, trade article 2014.
func TestAllowance(t *testing.T) {
	for _, tt := range []struct {
		scallop, step float64
		grits         []int
		want          float64
	}{
		{0, 0, []int{80, 120, 180}, 0.325},
		{0, 0, []int{120, 150, 180}, 0.175},
		{0.01043, 0.2, []int{120, 150, 180}, 0.38543},
		{0.05, 0, nil, 0.05},
	} {
		got, err := glue.Allowance(tt.scallop, tt.step, tt.grits...)
		if err != nil {
			t.Error(err)
		}
		near(t, "allowance", got, tt.want, 1e-9)
	}
	for _, bad := range [][]int{{90}, {120, 80}, {120, 120}} {
		if _, err := glue.Allowance(0, 0, bad...); err == nil {
			t.Errorf("grits %v are taken", bad)
		}
	}
	if _, err := glue.Allowance(math.NaN(), 0); err == nil {
		t.Error("no number is taken as a scallop")
	}
}
