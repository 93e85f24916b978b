package compass

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stock"
)

func lookOf(t *testing.T, m *mesh.Mesh, weight func(int) float64) *look {
	t.Helper()
	l, err := newLook(context.Background(), piece(m), weight)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// TestStripesOfASphere: on a sphere the zone between the leans a and b, on both halves, is cos a - cos b of the surface
// (Archimedes' hat-box theorem). A veneer of 1.4 mm reads where 2.2 sin θ ≤ 1.4 ≤ 30 sin θ.
func TestStripesOfASphere(t *testing.T) {
	l := lookOf(t, solidtest.Sphere(80, 60_000), nil)
	zone := func(thick float64) float64 {
		from, to := math.Asin(min(1, thick/widestStripe)), math.Asin(min(1, thick/narrowestStripe))
		return math.Cos(from) - math.Cos(to)
	}
	up := leant().Apply(geom.Vec{Z: 1})
	near(t, "one veneer", l.stripeShare(up, []float64{1.4}, 0), zone(1.4), 0.01)
	near(t, "two veneers", l.stripeShare(up, []float64{0.5, 1.5}, 0), 0.25*zone(0.5)+0.75*zone(1.5), 0.01)
	near(t, "none", l.stripeShare(up, nil, 0), 0, 0)
}

// TestStripesOfACone: all of a cone's side leans alike, by the angle whose tangent is height over radius; the side has
// π r √(r²+h²), the base π r².
func TestStripesOfACone(t *testing.T) {
	const r, h = 60.0, 20.0
	l := lookOf(t, solidtest.Frustum(r, 0, h, 720), nil)
	side, base := math.Pi*r*math.Hypot(r, h), math.Pi*r*r
	lean := r / math.Hypot(r, h) // the cosine
	sin := math.Sqrt(1 - lean*lean)
	up := geom.Vec{Z: 1}
	for _, tt := range []struct{ thick, want float64 }{
		{narrowestStripe * sin * 1.05, 1}, {narrowestStripe * sin * 0.95, 0},
		{widestStripe * sin * 0.95, 1}, {widestStripe * sin * 1.05, 0},
	} {
		near(t, "standing", l.stripeShare(up, []float64{tt.thick}, base), tt.want, 0.001)
		near(t, "base seen", l.stripeShare(up, []float64{tt.thick}, 0), tt.want*side/(side+base), 0.001)
	}
}

// TestRings: stripes go round an upright rod and along a lying one; a ball has no features; at an angle of 30 degrees to the
// axis the two mix as the mean over the rod's round says, worked out by adding up here.
func TestRings(t *testing.T) {
	for _, sides := range []int{24, 180} {
		rod := lookOf(t, solidtest.Frustum(20, 20, 200, sides), nil)
		near(t, "upright rod", rod.ringShare(geom.Vec{Z: 1}), 1, 1e-6)
		near(t, "lying rod", rod.ringShare(geom.Vec{X: 1}), 0, 1e-6)
		up := geom.Vec{X: math.Sin(math.Pi / 6), Z: math.Cos(math.Pi / 6)}
		rings, all := 0.0, 0.0
		for i := range 720 {
			s, c := math.Sincos(2 * math.Pi * float64(i) / 720)
			stripe := geom.Vec{X: c, Y: s}.Cross(up)
			rings += math.Pow(stripe.Dot(geom.Vec{X: -s, Y: c}), 2)
			all += stripe.Dot(stripe)
		}
		near(t, "leaning rod", rod.ringShare(up), rings/all, 0.02)
	}
	ball := lookOf(t, solidtest.Sphere(50, 20_000), nil)
	near(t, "ball", ball.ringShare(geom.Vec{Z: 1}), 0.5, 0.05)
	box := lookOf(t, solidtest.Box(50, 60, 70), nil)
	near(t, "box: edges are creases", box.ringShare(geom.Vec{Z: 1}), 0.5, 0)
	turned := lookOf(t, solidtest.Moved(solidtest.Turned(solidtest.Frustum(20, 20, 200, 90), leant()), geom.Vec{X: 9000}), nil)
	near(t, "turned and shifted rod", turned.ringShare(leant().Apply(geom.Vec{Z: 1})), 1, 1e-3)
}

// TestRingsInHollows: a bent skin seen from inside is bent as much: the bore of a tube alone has rings as well.
func TestRingsInHollows(t *testing.T) {
	bore := lookOf(t, solidtest.Flip(solidtest.Frustum(20, 20, 200, 90)), nil)
	near(t, "upright bore", bore.ringShare(geom.Vec{Z: 1}), 1, 1e-6)
	near(t, "lying bore", bore.ringShare(geom.Vec{Y: 1}), 0, 1e-6)
}

// TestMarksWeigh: what is marked as not to be minded is left out, what is seen counts four times.
func TestMarksWeigh(t *testing.T) {
	m := solidtest.Frustum(60, 0, 20, 360)
	marks := make([]chalk.Kind, len(m.Triangles))
	side, base := 0.0, 0.0
	for i := range marks {
		a, b, c := m.Corners(i)
		n := b.Sub(a).Cross(c.Sub(a))
		if n.Z < 0 {
			base += n.Len() / 2
			marks[i] = chalk.DontCare
		} else {
			side += n.Len() / 2
		}
	}
	thick := []float64{narrowestStripe * 0.5}
	up := geom.Vec{Z: 1}
	near(t, "base left out", lookOf(t, m, weightOf(marks)).stripeShare(up, thick, 0), 1, 1e-6)
	for i := range marks {
		if marks[i] == chalk.DontCare {
			marks[i] = chalk.SeenSide
		}
	}
	near(t, "base seen above all", lookOf(t, m, weightOf(marks)).stripeShare(up, thick, 0), side/(side+4*base), 1e-3)
	if weightOf([]chalk.Kind{chalk.Unmarked, chalk.KeepWhole}) != nil {
		t.Error("what is kept whole changes how the look is judged")
	}
}

// TestStripeThicknesses: where the grain runs on across a joint the two outer veneers show as one.
func TestStripeThicknesses(t *testing.T) {
	left := []stock.Veneer{{Thickness: 0.6, Grain: stock.Along}, {Thickness: 1.4, Grain: stock.Across}, {Thickness: 0.7, Grain: stock.Along}}
	if got := stripes(left, true); len(got) != 3 {
		t.Errorf("crossed at the joints: %v", got)
	}
	if got := stripes(left, false); len(got) != 2 || math.Abs(got[0]-1.3) > 1e-12 {
		t.Errorf("running on at the joints: %v", got)
	}
}
