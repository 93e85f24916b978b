package job_test

import (
	"context"
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestSawToStand (statics): a bench with one wall 2.8 mm short falls over; with 3 mm sawn off it stands on both and tips at the angle
// whose tangent is 100 mm over the height of its centre. The very cut, made by the saw, gives what was said. With walls that
// differ by less than sanding takes off it stands at once.
func TestSawToStand(t *testing.T) {
	c, ctx := stocktest.Catalogue(t), context.Background()
	s := job.Default(c)
	s.Wall = 0
	body := func(p *job.Piece, s job.Settings) (*job.Figures, *job.Standing, float64, bool) {
		st, err := job.Stand(ctx, p, s.Stand())
		if err != nil {
			t.Fatal(err)
		}
		f, err := job.Instant(ctx, st, s, c)
		if err != nil || !f.Withheld.None() {
			t.Fatal(err, f.Withheld)
		}
		b, err := f.Body(ctx, st)
		if err != nil {
			t.Fatal(err)
		}
		now, ok := b.Stand()
		return f, st, now.TipDeg, ok && now.Margin > 0
	}
	if _, _, tip, stands := body(job.NewPiece("even", solidtest.Bench(0.2), mesh.Raw{}), s); !stands || tip < 30 {
		t.Errorf("on walls that differ by 0.2 mm it stands %v, to %.1f degrees", stands, tip)
	}
	p := job.NewPiece("uneven", solidtest.Bench(2.9), mesh.Raw{}) // with 2.5 mm off they would still differ by more than sanding evens
	f, st, _, stands := body(p, s)
	if stands {
		t.Fatal("on one wall it stands")
	}
	b, err := f.Body(ctx, st)
	if err != nil {
		t.Fatal(err)
	}
	saw, ok, err := f.SawToStand(ctx, st, b)
	if err != nil || !ok || saw.Mm != 3 {
		t.Fatalf("sawn off: %+v, %v, %v", saw, ok, err)
	}
	// The seat has 1 600 000 mm³ at 137 mm above the cut, each wall 702 000 mm³ at 58.5 mm.
	centre := (1.6e6*137 + 2*702000*58.5) / (1.6e6 + 2*702000)
	want := math.Atan2(100, centre) * 180 / math.Pi
	near(t, "tilt that is told", saw.TipDeg, want, 0.2)
	sawn, ok := f.SawnOff(st, saw.Mm)
	if !ok {
		t.Fatal("no cut can be set")
	}
	lower, err := p.Mend(ctx, sawn, nil)
	if err != nil {
		t.Fatal(err)
	}
	g, after, tip, stands := body(lower, sawn)
	if !stands || math.Abs(after.Height()-157) > 1e-3 {
		t.Errorf("sawn, it stands %v and is %.3f mm high", stands, after.Height())
	}
	near(t, "tilt once it is sawn", tip, want, 0.2)
	sawn.Turn = geom.TurnXYZ(20, 0, 0)
	g.For = sawn
	if turned, err := job.Stand(ctx, lower, sawn.Stand()); err != nil {
		t.Fatal(err)
	} else if _, ok := g.SawnOff(turned, 2); ok {
		t.Error("a second cut at a slant to the first is offered")
	}
}
