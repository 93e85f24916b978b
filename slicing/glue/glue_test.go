package glue_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/glue"
	"grainstack/slicing/stock"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %g, want %g ± %g", what, got, want, within)
	}
}

// pva has the catalogue's figures: 220 g/m² in all, half on each face (BioResources, Réh and others), 0.85 MPa soft,
// 1.4 MPa hard wood.
var pva = stock.Glue{SpreadGM2: 110, Faces: 2, Solids: 0.5, OpenMin: 8, ClampMin: 45, SoftMPa: 0.85, HardMPa: 1.4}

func TestJoin(t *testing.T) {
	// 100 × 100 mm: 0.01 m² × 220 g/m² = 2.2 g; 1.4 MPa × 10 000 mm² = 14 kN: 7 clamps of 2 kN.
	for _, tt := range []struct {
		name    string
		area    float64
		faces   int
		density float64
		wet     float64
		newtons float64
		clamps  int
	}{
		{"birch, both faces", 10000, 2, 685, 2.2, 14000, 7},
		{"birch, one face", 10000, 1, 685, 1.1, 14000, 7},
		{"poplar", 10000, 2, 500, 2.2, 8500, 5},
		{"halfway", 10000, 2, 592.5, 2.2, 11250, 6},
		{"balsa is no softer than soft", 10000, 2, 100, 2.2, 8500, 5},
		{"tiny, still two clamps", 100, 2, 685, 0.022, 140, 2},
		{"no contact", 0, 2, 685, 0, 0, 0},
	} {
		g := pva
		g.Faces = tt.faces
		j := glue.Join([]glue.Contact{{Below: 1, Above: 2, Area: tt.area, Density: tt.density}}, g, glue.Clamp{ForceN: 2000})[0]
		near(t, tt.name+": glue", j.WetG, tt.wet, 1e-9)
		near(t, tt.name+": dry glue", j.DryG, tt.wet/2, 1e-9)
		near(t, tt.name+": force", j.ForceN, tt.newtons, 1e-6)
		if j.Clamps != tt.clamps {
			t.Errorf("%s: got %d clamps, want %d", tt.name, j.Clamps, tt.clamps)
		}
	}
}

// The glue maker's range, 100 to 150 psi for softwood and 175 to 250 psi for hardwood, is 0.69 to 1.03 and 1.21 to 1.72 MPa.
func TestPressureInMakersRange(t *testing.T) {
	const psi = 0.006894757
	if p := glue.Pressure(pva, 450); p < 100*psi || p > 150*psi {
		t.Errorf("softwood: %g MPa", p)
	}
	if p := glue.Pressure(pva, 690); p < 175*psi || p > 250*psi {
		t.Errorf("hardwood: %g MPa", p)
	}
}

// NIOSH 94-110: at the best place (25 cm, 75 cm, 25 cm, no twist, good grip) the limit is the load constant, 23 kg.
func TestLiftLimit(t *testing.T) {
	best := glue.Lift{HandsCm: 25, HeightCm: 75, TravelCm: 25, Grip: 1}
	change := func(f func(*glue.Lift)) glue.Lift { l := best; f(&l); return l }
	for _, tt := range []struct {
		name string
		lift glue.Lift
		want float64
	}{
		{"best", best, 23000},
		{"hands at twice the distance", change(func(l *glue.Lift) { l.HandsCm = 50 }), 11500},
		{"closer than 25 cm is no better", change(func(l *glue.Lift) { l.HandsCm = 10 }), 23000},
		{"from the floor", change(func(l *glue.Lift) { l.HeightCm = 0 }), 23000 * 0.775},
		{"up by 100 cm", change(func(l *glue.Lift) { l.TravelCm = 100 }), 23000 * 0.865},
		{"twisted by 45°", change(func(l *glue.Lift) { l.TwistDeg = 45 }), 23000 * 0.856},
		{"poor grip", change(func(l *glue.Lift) { l.Grip = 0 }), 20700},
		{"out of reach", change(func(l *glue.Lift) { l.HandsCm = 64 }), 0},
		{"overhead", change(func(l *glue.Lift) { l.HeightCm = 176 }), 0},
	} {
		near(t, tt.name, tt.lift.Limit(), tt.want, 1e-6)
	}
}

// tower is n like layers 16 mm thick, 300 × 200 mm, 600 g each.
func tower(n int) ([]glue.Layer, []glue.Joint) {
	layers := make([]glue.Layer, n)
	contacts := make([]glue.Contact, n-1)
	for i := range layers {
		b := 16 * float64(i)
		layers[i] = glue.Layer{Number: i + 1, Bottom: b, Top: b + 16, MassG: 600, Centre: geom.Vec{Z: b + 8}, Size: geom.Vec2{X: 300, Y: 200}, Parts: 1}
		if i > 0 {
			contacts[i-1] = glue.Contact{Below: i, Above: i + 1, Area: 20000, Density: 685, Pairs: []glue.Pair{{Below: 1, Above: 1, Area: 20000}}}
		}
	}
	return layers, glue.Join(contacts, pva, glue.Clamp{ForceN: 4000})
}

func TestOrderDepth(t *testing.T) {
	for _, tt := range []struct{ layers, stages int }{{1, 0}, {2, 1}, {3, 2}, {4, 2}, {5, 3}, {15, 4}, {16, 4}, {17, 5}, {40, 6}, {240, 8}} {
		layers, joints := tower(tt.layers)
		p := glue.Order(layers, joints, glue.Rules{Glue: pva})
		if len(p.Stages) != tt.stages || p.Pressings != tt.layers-1 {
			t.Errorf("%d layers: got %d stages and %d pressings, want %d and %d", tt.layers, len(p.Stages), p.Pressings, tt.stages, tt.layers-1)
		}
	}
	layers, joints := tower(40)
	groups := ""
	for _, s := range glue.Order(layers, joints, glue.Rules{Glue: pva}).Stages {
		groups += fmt.Sprint(len(s.Pressings)+len(s.Waiting), " ")
	}
	if groups != "20 10 5 3 2 1 " {
		t.Errorf("40 layers go down to %s, want 20 10 5 3 2 1", groups)
	}
}

// Whatever the joints, every joint is pressed once, between groups that exist by then, and nothing is lost on the way.
func TestOrderIsComplete(t *testing.T) {
	for n := 2; n <= 33; n++ {
		layers, joints := tower(n)
		for i := range joints {
			joints[i].Area = float64(1000 + (i*7919)%5000)
		}
		p := glue.Order(layers, joints, glue.Rules{Glue: pva})
		have := map[[2]int]bool{}
		for i := 1; i <= n; i++ {
			have[[2]int{i, i}] = true
		}
		number := 0
		for _, s := range p.Stages {
			for _, q := range s.Pressings {
				number++
				lower, upper := [2]int{q.Lower.First, q.Lower.Last}, [2]int{q.Upper.First, q.Upper.Last}
				if !have[lower] || !have[upper] || q.Lower.Last+1 != q.Upper.First || q.Joint.Below != q.Lower.Last || q.Number != number {
					t.Fatalf("%d layers: pressing %d of %v and %v", n, q.Number, lower, upper)
				}
				delete(have, lower)
				delete(have, upper)
				have[[2]int{q.Result.First, q.Result.Last}] = true
			}
		}
		if len(have) != 1 || !have[[2]int{1, n}] {
			t.Fatalf("%d layers: ends with %v", n, have)
		}
		last := p.Stages[len(p.Stages)-1].Pressings[0].Result
		near(t, "mass", last.MassG, 600*float64(n)+p.DryG, 1e-6)
		near(t, "centre", last.Centre.Z, 8*float64(n), 0.02*float64(n))
		near(t, "height", last.Height(), 16*float64(n), 1e-9)
	}
}

// Of an odd number the one waits whose waiting leaves the largest joints for later: tried against all choices.
func TestWaitingAgainstAllChoices(t *testing.T) {
	for seed := range 50 {
		layers, joints := tower(9)
		for i := range joints {
			joints[i].Area = float64(1000 + (seed*31+i*i*977+i*541)%4000)
		}
		s := glue.Order(layers, joints, glue.Rules{Glue: pva}).Stages[0]
		got := 0.0
		for _, q := range s.Pressings {
			got += q.Joint.Area
		}
		least := math.Inf(1)
		for w := 0; w < 9; w += 2 {
			sum := 0.0
			for i := 0; i < 9; i += 2 {
				if i == w {
					i--
					continue
				}
				sum += joints[i].Area
			}
			least = min(least, sum)
		}
		near(t, fmt.Sprint("seed ", seed), got, least, 1e-9)
	}
}

func TestFindings(t *testing.T) {
	layers, joints := tower(6)
	layers[2].Parts = 2 // the second hangs from layer 4
	joints[2].Pairs = append(joints[2].Pairs, glue.Pair{Below: 2, Above: 1, Area: 900})
	layers[4].Parts = 2 // the second touches nothing
	joints[4].Area, joints[4].Pairs[0].Area = 250, 250
	joints[0].Rim = 4.2
	layers[5].MassG = 60000
	r := glue.Rules{Glue: pva, Clamp: glue.Clamp{ForceN: 4000, Opening: 70, Count: 5}}
	all := ""
	for _, f := range glue.Order(layers, joints, r).Findings {
		all += fmt.Sprintf("[%d %d] %s\n", f.Layer(), f.Worst().Part, finding.Words{}.Sentence(f))
	}
	for _, want := range []string{
		"[3 2] Layer 3, part 2 has nothing beneath it. Glue it to layer 4 first",
		"[5 2] Layer 5, part 2 touches neither",
		"meet on 2.5 cm² only, less than the 4 cm² wanted",
		"the rim is 4.2 mm wide",
		"mm tall and the clamps open to 70 mm",
		"it takes 7 clamps and there are 5",
		"weighs 60.", "NIOSH",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("no finding says %q:\n%s", want, all)
		}
	}
	layers, joints = tower(4)
	if f := glue.Order(layers, joints, glue.Rules{Glue: pva, Clamp: glue.Clamp{ForceN: 4000, Opening: 700}}).Findings; len(f) != 0 {
		t.Errorf("a plain tower has findings: %v", f)
	}
}

// The layer with a hanging part is pressed to the one above in the first stage.
func TestHangingPartGoesFirst(t *testing.T) {
	layers, joints := tower(5)
	layers[1].Parts = 2
	joints[1].Pairs = append(joints[1].Pairs, glue.Pair{Below: 2, Above: 1, Area: 900})
	for _, q := range glue.Order(layers, joints, glue.Rules{Glue: pva}).Stages[0].Pressings {
		if q.Joint.Below == 2 {
			return
		}
	}
	t.Error("layers 2 and 3 are not pressed first")
}

func TestOpenTime(t *testing.T) {
	// 0.1 m², two faces at 0.1 m² a minute: 2 min; 1.4 MPa × 100 000 mm² / 4 kN = 35 clamps at 0.4 min: 14 min.
	layers, _ := tower(2)
	joints := glue.Join([]glue.Contact{{Below: 1, Above: 2, Area: 1e5, Density: 685}}, pva, glue.Clamp{ForceN: 4000})
	p := glue.Order(layers, joints, glue.Rules{Glue: pva})
	near(t, "minutes to close", p.Stages[0].Pressings[0].CloseMin, 16, 1e-9)
	near(t, "minutes in all", p.Minutes, 16+45, 1e-9)
	if len(p.Findings) != 1 || !strings.Contains(finding.Words{}.Sentence(p.Findings[0]), "take about 16 min, the glue stays open for 8 min") {
		t.Errorf("got %v", p.Findings)
	}
}

func TestRoundsFollowTheClamps(t *testing.T) {
	layers, joints := tower(8) // 7 clamps a joint
	for _, tt := range []struct{ clamps, rounds int }{{0, 1}, {28, 1}, {27, 2}, {14, 2}, {7, 4}, {3, 4}} {
		s := glue.Order(layers, joints, glue.Rules{Glue: pva, Clamp: glue.Clamp{ForceN: 4000, Count: tt.clamps}}).Stages[0]
		if s.Rounds != tt.rounds {
			t.Errorf("%d clamps: got %d rounds, want %d", tt.clamps, s.Rounds, tt.rounds)
		}
	}
}

func TestOrderOfNothing(t *testing.T) {
	layers, joints := tower(3)
	for _, p := range []glue.Plan{glue.Order(nil, nil, glue.Rules{}), glue.Order(layers, joints[:1], glue.Rules{})} {
		if len(p.Stages) != 0 {
			t.Errorf("got %v", p)
		}
	}
}

func ExampleOrder() {
	layers, joints := tower(5)
	for _, s := range glue.Order(layers, joints, glue.Rules{Glue: pva}).Stages {
		fmt.Printf("stage %d:", s.Number)
		for _, q := range s.Pressings {
			fmt.Printf(" %d-%d on %d-%d (%.1f kg)", q.Upper.First, q.Upper.Last, q.Lower.First, q.Lower.Last, q.Result.MassG/1000)
		}
		fmt.Println()
	}
	// Output:
	// stage 1: 2-2 on 1-1 (1.2 kg) 4-4 on 3-3 (1.2 kg)
	// stage 2: 3-4 on 1-2 (2.4 kg)
	// stage 3: 5-5 on 1-4 (3.0 kg)
}

func BenchmarkOrder(b *testing.B) {
	layers, joints := tower(240)
	for b.Loop() {
		glue.Order(layers, joints, glue.Rules{Glue: pva})
	}
}
