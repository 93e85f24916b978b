package join

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/cloud"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stoptest"
)

func cloudOf(t testing.TB, m *mesh.Mesh) *cloud.Cloud {
	t.Helper()
	c, err := cloud.OfMesh(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func mustJoin(t testing.TB, s Settings, scans ...*cloud.Cloud) *Result {
	t.Helper()
	r, err := Join(context.Background(), scans, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	if f := mesh.Inspect(r.Mesh, r.Mesh.Adjacency()); !f.Solid() || f.Shells != 1 {
		t.Fatalf("joined to %+v", f)
	}
	return r
}

// TestUnseenPlacesAreClosedAndTold: of a ball of radius 50 nobody saw the cap of 0.4 radii, 6283 mm² of it (2πrh, any handbook). The
// surface is closed there, as a bulge between the flat cut and twice the cap, and told as one guessed place under the ball.
func TestUnseenPlacesAreClosedAndTold(t *testing.T) {
	ball := solidtest.Sphere(50, 12_000)
	var scans []*cloud.Cloud
	for _, side := range []float64{1, -1} {
		scans = append(scans, cloudOf(t, solidtest.Cut(ball, func(p geom.Vec) bool { return p.Z > -30 && side*p.X > -10 })))
	}
	r := mustJoin(t, Settings{}, scans...)
	if len(r.Unseen) != 1 || r.Unseen[0].At.Z > -30 || math.Hypot(r.Unseen[0].At.X, r.Unseen[0].At.Y) > 1 {
		t.Errorf("unseen: %+v", r.Unseen)
	}
	if a := r.UnseenArea(); a < 5027*0.9 || a > 6283*1.1 { // the disc of radius 40, the cap
		t.Errorf("%.0f mm² are guessed", a)
	}
	low := r.Mesh.Box().Min.Z
	if low > -31 || low < -70 {
		t.Errorf("closed at %.1f", low)
	}
	t.Logf("closed at %.1f of -50, %.0f mm² guessed", low, r.UnseenArea())
}

// TestDetailIsKept: without noise the scans' own points lie within half of their spacing from the joined surface, nearly all within a
// tenth.
func TestDetailIsKept(t *testing.T) {
	m := solidtest.Bumpy(60, 12_000)
	var scans []*cloud.Cloud
	for _, s := range solidtest.Sittings(m, 3, 0, 0.1, 3) {
		scans = append(scans, cloudOf(t, s.Mesh).Placed(s.At))
	}
	r := mustJoin(t, Settings{}, scans...)
	spacing := scans[0].Spacing
	over, mean := farOff(t, m, r.Mesh, spacing/2)
	most, _ := farOff(t, m, r.Mesh, spacing/10)
	t.Logf("%.3f %% over a half, %.3f %% over a tenth, mean %.4f spacings", 100*over, 100*most, mean/spacing)
	if over > 0 || most > 0.01 {
		t.Errorf("%.3f %% of the points lie farther off than half of the spacing, %.3f %% than a tenth", 100*over, 100*most)
	}
}

// TestThinWallsStay: flat lenses, whose two faces lie as near to one another as the points of one.
func TestThinWallsStay(t *testing.T) {
	for _, tt := range []struct{ thick, most float64 }{{1.2, 0.08}, {2.5, 0.02}} { // in spacings; of the volume
		m := solidtest.Ellipsoid(50, 40, tt.thick*1.17/2, 30_000)
		c := cloudOf(t, m)
		if got := tt.thick * 1.17 / c.Spacing; math.Abs(got/tt.thick-1) > 0.02 {
			t.Fatalf("the lens is %.2f spacings thick", got)
		}
		r := mustJoin(t, Settings{}, c)
		if off := r.Mesh.Volume()/m.Volume() - 1; math.Abs(off) > tt.most || r.UnseenArea() > 0.01*r.Area {
			t.Errorf("%.1f spacings thick: the volume is off by %.1f %%, %.1f %% are unseen", tt.thick, 100*off, 100*r.UnseenArea()/r.Area)
		}
	}
}

// TestSeamsAreBlended: two halves of balls whose radii differ by 1: the joined surface goes from the one to the other without a step,
// over about the width asked for.
func TestSeamsAreBlended(t *testing.T) {
	half := func(r, side float64) *cloud.Cloud {
		return cloudOf(t, solidtest.Cut(solidtest.Sphere(r, 12_000), func(p geom.Vec) bool { return side*p.X > -20 }))
	}
	for _, blend := range []float64{4, 16} {
		r := mustJoin(t, Settings{Blend: blend}, half(50, 1), half(51, -1))
		// The mean radius by X, and how fast it changes.
		const bins = 40
		var sum, count [bins]float64
		for _, p := range r.Mesh.Points {
			k := int((float64(p[0]) + 40) / 2)
			if k >= 0 && k < bins {
				sum[k], count[k] = sum[k]+p.Vec().Len(), count[k]+1
			}
		}
		steepest := 0.0
		for k := 1; k < bins; k++ {
			steepest = math.Max(steepest, math.Abs(sum[k]/count[k]-sum[k-1]/count[k-1])/2)
		}
		if first, last := sum[0]/count[0], sum[bins-1]/count[bins-1]; math.Abs(first-51) > 0.05 || math.Abs(last-50) > 0.05 {
			t.Errorf("radii %.3f and %.3f beyond the seam", first, last)
		}
		t.Logf("blended over %g: steepest %.3f", blend, steepest)
		if steepest > 2.5/blend {
			t.Errorf("blended over %g the radius changes by %.3f a mm", blend, steepest)
		}
	}
}

// TestJoinStops soon after it is called off, and says what it was called off for.
func TestJoinStops(t *testing.T) {
	var scans []*cloud.Cloud
	for _, s := range solidtest.Sittings(solidtest.Bumpy(60, 30_000), 2, 0.001, 0, 3) {
		scans = append(scans, cloudOf(t, s.Mesh).Placed(s.At))
	}
	stoptest.Soon(t, 0.15, func(ctx context.Context) error {
		_, err := Join(ctx, scans, Settings{}, nil)
		return err
	})
}

// TestNothingToJoin: no points, or points in one place, are told.
func TestNothingToJoin(t *testing.T) {
	one := &cloud.Cloud{}
	if _, err := Join(context.Background(), []*cloud.Cloud{one, one}, Settings{}, nil); err == nil {
		t.Error("nothing is joined")
	}
}
