package hours_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"grainstack/slicing/hours"
	"grainstack/slicing/stock"
)

// The order on one panel (common practice, no published source): drill, rough one side, turn, rough the other, change the
// cutter, finish the other, turn, finish the one.
func TestPlan(t *testing.T) {
	_, s := first(t)
	parts := []hours.PartWork{
		{Layer: 3, Part: 1, Thickness: 16, Skim: 0.9, Sawn: true,
			Up:   hours.SideWork{Depth: 11.2, Levels: 5, Time: hours.SideTime{RoughMin: 20, FinishMin: 70}},
			Down: hours.SideWork{Depth: 11.2, Levels: 5, Time: hours.SideTime{RoughMin: 15, FinishMin: 60}}},
		{Layer: 3, Part: 2, Thickness: 16, Skim: 0.9,
			Up:   hours.SideWork{Depth: 6, Levels: 3, Time: hours.SideTime{RoughMin: 5, FinishMin: 10}},
			Down: hours.SideWork{Depth: 12, Levels: 5, Time: hours.SideTime{RoughMin: 6, FinishMin: 11}}},
	}
	plan := hours.Plan(parts, s)
	var words []string
	for _, st := range plan {
		w := st.Op.String()
		if st.Layer > 0 {
			w += " " + string(rune('0'+st.Layer)) + "." + string(rune('0'+st.Part)) + " " + st.Side.String()
		}
		words = append(words, w)
	}
	want := "clamp, drill, skim 3.1 top side, rough 3.1 top side, saw the core 3.1 top side, skim 3.2 top side, rough 3.2 top side, " +
		"turn the panel, skim 3.1 underside, rough 3.1 underside, skim 3.2 underside, rough 3.2 underside, change the cutter, " +
		"finish 3.1 underside, finish 3.2 underside, turn the panel, finish 3.1 top side, finish 3.2 top side"
	if got := strings.Join(words, ", "); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	router, hands := hours.Minutes(plan)
	if router != 197 || hands != s.HandsOn(1) {
		t.Errorf("router %g min, hands %g min, want 197 and %g", router, hands, s.HandsOn(1))
	}
	for _, st := range plan {
		if st.Op == hours.Finish && !(st.Cusp > 0 && st.Cutter == s.Finish.Key && st.Safe == 5 && st.Boundary == s.Margin()) {
			t.Errorf("finish: %+v", st)
		}
		if st.Op == hours.Rough && st.Layer == 3 && st.Part == 1 && st.Levels != 4 {
			t.Errorf("rough: %+v", st)
		}
	}
	if hours.Plan(nil, s) != nil {
		t.Error("nothing has a plan")
	}
}

func TestEvenings(t *testing.T) {
	for _, tt := range []struct {
		work    []float64
		evening float64
		want    int
	}{
		{nil, 180, 0}, {[]float64{60, 60, 60}, 180, 1}, {[]float64{60, 60, 61}, 180, 2}, {[]float64{100, 100, 100}, 180, 3},
		{[]float64{400}, 180, 3}, {[]float64{400, 140}, 180, 3}, {[]float64{400, 141}, 180, 4}, {[]float64{50}, 0, 0},
		{[]float64{math.NaN(), math.Inf(1), -4, 20}, 60, 1},
	} {
		if got := hours.Evenings(tt.work, tt.evening); got != tt.want {
			t.Errorf("%v in evenings of %g min: got %d, want %d", tt.work, tt.evening, got, tt.want)
		}
	}
}

// Chip loads in inches of a published chart for 1/4 in, as mm to a hundredth: plywood .006 to .009, softwood .006 to .008,
// hardwood .005 to .007, fibreboard .012 to .015; a quarter less at twice the depth, half at three times.
func TestChipRange(t *testing.T) {
	for _, tt := range []struct {
		m               hours.Material
		diameter, depth float64
		least, most     float64 // inches for 1/4 in
	}{
		{hours.Plywood, 6.35, 3, .006, .009}, {hours.Softwood, 6.35, 6.35, .006, .008}, {hours.Hardwood, 6.35, 6, .005, .007},
		{hours.Fibreboard, 6.35, 1, .012, .015}, {hours.Plywood, 6.35, 12.7, .0045, .00675}, {hours.Plywood, 6.35, 19.05, .003, .0045},
		{hours.Plywood, 6.35, 40, .003, .0045}, {hours.Plywood, 12.7, 3, .012, .018},
	} {
		least, most := hours.ChipRange(tt.m, tt.diameter, tt.depth)
		if scale := 25.4; math.Abs(least-tt.least*scale) > 0.006 || math.Abs(most-tt.most*scale) > 0.006 {
			t.Errorf("%v, %g mm, %g mm deep: got %.3f to %.3f mm, want %.3f to %.3f", tt.m, tt.diameter, tt.depth, least, most, tt.least*scale, tt.most*scale)
		}
	}
}

func TestCheckChip(t *testing.T) {
	m := stock.Machine{FeedMmMin: 4000, MinRPM: 8000, MaxRPM: 24000}
	c := stock.Cutter{Name: "end mill", Diameter: 6.35, Flutes: 2, Stepdown: 3, FeedMmMin: 3000}
	for _, tt := range []struct {
		rpm        float64
		rubs, over bool
		says       string
	}{
		{18000, true, false, "takes 0.08 mm, plywood wants 0.15 to 0.23 mm: it rubs and gets hot. Turn it at 10000 rpm or less."},
		{9000, false, false, ""}, {6000, false, false, ""}, // the machine turns no slower than 8000
	} {
		c.RPM = tt.rpm
		got := hours.CheckChip(c, m, hours.Plywood)
		if got.Rubs() != tt.rubs || got.Overloads() != tt.over || !strings.Contains(got.Text.String(), tt.says) || tt.says == "" && !got.Text.None() {
			t.Errorf("%g rpm: got %+v", tt.rpm, got)
		}
	}
	c.RPM, c.FeedMmMin = 8000, 4000
	if got := hours.CheckChip(c, m, hours.Plywood); !got.Overloads() || !strings.Contains(got.Text.String(), "it is overloaded. Turn it at 8700 rpm or more.") {
		t.Errorf("got %+v", got)
	}
	// What is advised helps.
	c.RPM = 8700
	if got := hours.CheckChip(c, m, hours.Plywood); !got.Text.None() {
		t.Errorf("after the advice: %+v", got)
	}
}

// The factor is the median; one side gone wrong does not move it far, other machines and empty entries not at all.
func TestLearn(t *testing.T) {
	rec := func(layer int, took float64) hours.Record {
		return hours.Record{Machine: "middle", Layer: layer, Reckoned: 100, Took: took}
	}
	records := []hours.Record{rec(1, 110), rec(2, 120), rec(3, 130), rec(4, 125), {Machine: "small", Layer: 1, Reckoned: 10, Took: 90},
		{Machine: "middle", Layer: 9}, {Machine: "middle", Layer: 9, Reckoned: 5, Took: math.NaN()}, {Machine: "middle", Layer: 9, Took: 5}}
	got := hours.Learn(records, "middle")
	if want := (hours.Factor{Times: 1.225, Low: 1.175, High: 1.2625, Sides: 4}); math.Abs(got.Times-want.Times)+math.Abs(got.Low-want.Low)+math.Abs(got.High-want.High) > 1e-12 || got.Sides != 4 {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if odd := hours.Learn(append(records, rec(5, 900)), "middle"); math.Abs(odd.Times-1.25) > 1e-12 {
		t.Errorf("with an odd side: %+v", odd)
	}
	if again := hours.Learn(append(records, rec(1, 122)), "middle"); again.Sides != 4 || math.Abs(again.Times-1.235) > 1e-12 {
		t.Errorf("side 1 entered again: %+v", again)
	}
	side := hours.SideTime{RoughMin: 10, FinishMin: 20, RoughMetres: 3}
	if t2 := got.Of(side); math.Abs(t2.RoughMin-12.25) > 1e-12 || math.Abs(t2.FinishMin-24.5) > 1e-12 || t2.RoughMetres != 3 {
		t.Errorf("got %+v", t2)
	}
	none := hours.Learn(records, "large")
	if none.Known() || none.Of(side) != side || !strings.HasPrefix(none.Text(), "Nothing learned") {
		t.Errorf("got %+v: %s", none, none.Text())
	}
	if want := "Learned from 4 sides: they take 1.23 times as long as reckoned, half of them 1.18 to 1.26 times."; got.Text() != want {
		t.Errorf("got %q", got.Text())
	}
}

// Records go through a file unchanged.
func TestRecordFile(t *testing.T) {
	want := hours.Record{Machine: "middle", Layer: 3, Down: true, Reckoned: 81.25, Took: 96}
	b, err := json.Marshal(want)
	if err != nil {
		t.Fatal(err)
	}
	var got hours.Record
	if err := json.Unmarshal(b, &got); err != nil || got != want {
		t.Errorf("%s: got %+v, %v", b, got, err)
	}
}

func TestRatio(t *testing.T) {
	est := hours.SideTime{RoughMin: 40, FinishMin: 100, RoughMetres: 50}
	sim := hours.SideTime{RoughMin: 50, FinishMin: 110, RoughMetres: 60}
	r := hours.Tie(est, sim)
	got := r.Of(hours.SideTime{RoughMin: 20, FinishMin: 200})
	if math.Abs(got.RoughMin-25) > 1e-12 || math.Abs(got.FinishMin-220) > 1e-12 {
		t.Errorf("got %+v", got)
	}
	if off, ok := hours.Off(est, sim); !ok || math.Abs(off+0.125) > 1e-12 {
		t.Errorf("off by %g, %v", off, ok)
	}
	if _, ok := hours.Off(est, hours.SideTime{}); ok {
		t.Error("nothing was simulated")
	}
	if none := hours.Tie(est, hours.SideTime{RoughMin: math.NaN()}); none != (hours.Ratio{}) || none.Of(est) != est {
		t.Errorf("got %+v", none)
	}
}
