package trial_test

import (
	"context"
	"math"
	"reflect"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/trial"
	"grainstack/slicing/unit"
)

// ticketOf is the ticket of a box of 100 × 80 × 96 mm.
func ticketOf(t *testing.T, s job.Settings, deep bool) trial.Ticket {
	t.Helper()
	p := job.NewPiece("box", solidtest.Box(100, 80, 96), mesh.Raw{})
	var tr trial.Trier
	out, err := tr.Ticket(context.Background(), p, s, stocktest.Catalogue(t), nil, deep, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// boxed are settings that leave the box solid, in layers of 16 mm of birch.
func boxed(t *testing.T) job.Settings {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall, s.CapBottom, s.CapTop = 0, 0, 0
	return s.WithLayer(c, 16)
}

// TestDifferencesOfABox: the figures of a solid box and their differences are known in closed form. Density of the board and
// spread of the glue and the finish are the catalogue's.
func TestDifferencesOfABox(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := boxed(t)
	side := s
	side.Turn = geom.TurnXYZ(90, 0, 0) // 96 mm of depth, 80 mm high: the box lies on its 100 × 96 side
	upright, lying := ticketOf(t, s, false), ticketOf(t, side, false)
	board, _ := s.BoardIn(c)
	g, _ := s.GlueIn(c)
	coat, _ := s.FinishIn(c)
	weight := func(joint float64) float64 {
		return 100*80*96*board.Density*1e-6 + g.Dry(joint) + coat.Dry(2*(100*80+80*96+96*100))
	}
	joint0, joint1 := 5*100*80.0, 4*100*96.0
	want := map[trial.Quantity][2]float64{ // the lying box less the one upright
		trial.LayerCount:     {6, 5},
		trial.LayerThickness: {16, 16},
		trial.StackHeight:    {96, 80},
		trial.Weight:         {weight(joint0), weight(joint1)},
		trial.GlueWet:        {g.Wet(joint0), g.Wet(joint1)},
		trial.SmallestJoint:  {8000, 9600},
	}
	seen := 0
	for _, d := range lying.Against(upright) {
		w, ok := want[d.Quantity]
		if !ok {
			continue
		}
		seen++
		if near := 1e-5 * (1 + w[0]); math.Abs(d.From-w[0]) > near || math.Abs(d.To-w[1]) > near || math.Abs(d.By()-(w[1]-w[0])) > 2*near || d.Estimate {
			t.Errorf("%s: from %v to %v, by %v; want %v to %v", d.Quantity, d.From, d.To, d.By(), w[0], w[1])
		}
	}
	if seen != len(want) {
		t.Errorf("%d of %d quantities were compared", seen, len(want))
	}
	for _, d := range upright.Against(upright) {
		if d.By() != 0 || d.Text(unit.Metric) != "" {
			t.Errorf("%s differs from itself by %v, %q", d.Quantity, d.By(), d.Text(unit.Metric))
		}
	}
}

// TestADeepTicket: a box hides nothing from the cutters, tips over about its edge when its centre has gone beyond it, and is
// sawn from as many boards as its panels take.
func TestADeepTicket(t *testing.T) {
	s := boxed(t)
	s.Shop.SheetPrice = 90
	got := ticketOf(t, s, true)
	if !got.Deep || !got.Withheld.None() {
		t.Fatalf("deep %v, withheld %q", got.Deep, got.Withheld)
	}
	for q, want := range map[trial.Quantity]float64{
		trial.TrappedWood: 0,
		trial.TipAngle:    math.Atan(40.0/48) * 180 / math.Pi,
		trial.BoardCount:  1, // a board of 2440 × 1220 mm gives 8 panels of 600 × 600
		trial.BoardCost:   90,
	} {
		a, estimate := got.Best(q)
		if !a.Known || estimate || math.Abs(a.Value-want) > 0.02*(1+want) {
			t.Errorf("%s: %+v, estimate %v; want %v", q, a, estimate, want)
		}
	}
	if a := got.Worked[trial.PanelCount]; a.Value < 1 || a.Value > got.Reckoned[trial.LayerCount].Value {
		t.Errorf("%v panels for 6 layers", a.Value)
	}
	// Against a ticket without the work, both hours are estimates: the same here, so nothing differs.
	for _, d := range got.Against(ticketOf(t, s, false)) {
		if d.By() != 0 {
			t.Errorf("%s: the same settings differ by %v", d.Quantity, d.By())
		}
		if d.Quantity == trial.RouterTime && !d.Estimate {
			t.Error("an estimate of hours passes for more")
		}
	}
	twice := got.Learned(hours.Factor{Times: 2, Sides: 3})
	if twice.Worked[trial.RouterTime].Value != 2*got.Worked[trial.RouterTime].Value || !reflect.DeepEqual(got.Learned(hours.Factor{}), got) {
		t.Error("what was learned of the machine does not show in the hours")
	}
}

// TestATicketThatCantBeReckonedSaysWhy for an open surface and for settings that nobody can work with.
func TestATicketThatCantBeReckonedSaysWhy(t *testing.T) {
	c, ctx := stocktest.Catalogue(t), context.Background()
	s := job.Default(c)
	s.Mend.Off = true
	m := solidtest.Sphere(50, 2000)
	open := job.NewPiece("open", &mesh.Mesh{Points: m.Points, Triangles: m.Triangles[40:]}, mesh.Raw{})
	var tr trial.Trier
	got, err := tr.Ticket(ctx, open, s, c, nil, true, nil, nil)
	if err != nil || got.Withheld.None() || got.Deep || !got.Reckoned[trial.LayerCount].Known || got.Reckoned[trial.Weight].Known {
		t.Errorf("an open surface: %+v, %v", got, err)
	}
	s.Scale = 0
	if got, err := tr.Ticket(ctx, open, s, c, nil, false, nil, nil); err != nil || !strings.Contains(got.Withheld.String(), "scale") {
		t.Errorf("no scale: %q, %v", got.Withheld, err)
	}
}

// TestATrierKeepsItsPieces: the same scan mended in the same way is mended once; known pieces are used as they are.
func TestATrierKeepsItsPieces(t *testing.T) {
	c, ctx := stocktest.Catalogue(t), context.Background()
	p := job.NewPiece("ball", solidtest.Sphere(60, 4000), mesh.Raw{})
	s := job.Default(c)
	var tr trial.Trier
	known := []trial.Tried{{Piece: p, How: s.Mending()}}
	a, err := tr.Piece(ctx, p, s, known, nil)
	if err != nil || a.Piece != p || a.Grid == nil {
		t.Fatalf("the known piece is not used: %v, %v", a.Piece == p, err)
	}
	if b, _ := tr.Piece(ctx, p, s, nil, nil); b.Grid != a.Grid {
		t.Error("the hollow was worked out twice")
	}
	thin := s
	thin.Mend.Thin = 0.4
	b, err := tr.Piece(ctx, p, thin, known, nil)
	if err != nil || b.Piece == p || len(b.Piece.Mesh.Triangles) >= len(p.Mesh.Triangles) {
		t.Fatalf("the thinned piece is the same: %v", err)
	}
	if again, _ := tr.Piece(ctx, p, thin, known, nil); again.Piece != b.Piece {
		t.Error("the scan was thinned twice")
	}
}

func TestSignedFigures(t *testing.T) {
	for _, tt := range []struct {
		q    trial.Quantity
		by   float64
		u    unit.System
		want string
	}{
		{trial.Weight, 420, unit.Metric, "+420 g"}, {trial.Weight, -1420, unit.Metric, "−1.42 kg"}, {trial.LayerCount, -2, unit.Metric, "−2"},
		{trial.RouterTime, 186, unit.Metric, "+3.1 h"}, {trial.RouterTime, 0.4, unit.Metric, ""}, {trial.Weight, -1e-7, unit.Metric, ""},
		{trial.TipAngle, -3.21, unit.Metric, "−3.2°"}, {trial.SmallestJoint, 120, unit.Inch, "+0.19 in²"}, {trial.BoardCost, 90, unit.Metric, "+90.00"},
	} {
		if got := tt.q.Signed(tt.by, tt.u); got != tt.want {
			t.Errorf("%s by %g: %q, want %q", tt.q, tt.by, got, tt.want)
		}
	}
}

// TestDifferencesThatSayNothingAreNotSaid: what prints alike doesn't differ, and what falls over has no angle.
func TestDifferencesThatSayNothingAreNotSaid(t *testing.T) {
	for _, tt := range []struct {
		q        trial.Quantity
		from, to float64
		want     string
	}{
		{trial.Weight, 2941.3, 2942.9, ""}, {trial.Weight, 2941.3, 2961.3, "+20 g"}, {trial.NarrowestRim, 20, 20.02, ""},
		{trial.TipAngle, 45, -26, ""}, {trial.TipAngle, 45, 26, "−19°"}, {trial.LayerCount, 19, 14, "−5"},
	} {
		if got := (trial.Difference{Quantity: tt.q, From: tt.from, To: tt.to}).Text(unit.Metric); got != tt.want {
			t.Errorf("%s from %g to %g: %q, want %q", tt.q, tt.from, tt.to, got, tt.want)
		}
	}
	if got := trial.TipAngle.Text(-1, unit.Metric); got != "falls over" {
		t.Errorf("it tips at %q", got)
	}
}
