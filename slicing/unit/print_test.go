package unit_test

import (
	"fmt"
	"math"
	"testing"

	"grainstack/slicing/unit"
)

func TestPrint(t *testing.T) {
	for _, tt := range []struct{ got, want string }{
		{unit.Length(16, unit.Metric), "16 mm"},
		{unit.Length(17.72, unit.Metric), "17.7 mm"},
		{unit.Length(0.904, unit.Metric), "0.9 mm"},
		{unit.Length(1.15, unit.Metric), "1.15 mm"},
		{unit.Length(2440, unit.Metric), "2440 mm"},
		{unit.Length(-0.001, unit.Metric), "0 mm"},
		{unit.Length(-171.7, unit.Metric), "−171.7 mm"},
		{unit.Mm(-25.4).In(unit.Inch), "−1 in"},
		{unit.Sides{X: -3, Y: -4.5}.In(unit.Metric), "−3 × −4.5 mm"},
		{unit.Angle(-12.54), "−12.5°"},
		{unit.Angles.Text(-12.5, unit.Metric), "−12.5°"},
		{unit.Signed(-0.4, 0) + " " + unit.Signed(0.4, 0) + " " + unit.Signed(2.25, 1) + " " + unit.Signed(-3, 1), "0 0 +2.2 −3"},
		{unit.Length(16, unit.Inch), "0.63 in"},
		{unit.Length(15.9, unit.Inch), "0.626 in"},
		{unit.Length(304.8, unit.Inch), "12 in"},
		{unit.Length(math.NaN(), unit.Metric), "– mm"},
		{unit.Mass(850.4, unit.Metric), "850 g"},
		{unit.Mass(7421, unit.Metric), "7.42 kg"},
		{unit.Mass(12432, unit.Metric), "12.4 kg"},
		{unit.Mass(999.9, unit.Metric), "1000 g"},
		{unit.Mass(0.04, unit.Metric), "under 0.1 g"},
		{unit.Mass(0.7, unit.Inch), "under 0.1 oz"},
		{unit.Mass(0, unit.Inch), "0 oz"},
		{unit.Mass(453.59237, unit.Inch), "1 lb"},
		{unit.Mass(7421, unit.Inch), "16.4 lb"},
		{unit.Mass(141.75, unit.Inch), "5 oz"},
		{unit.Volume(184_200, unit.Metric), "184 cm³"},
		{unit.Volume(11_310_000, unit.Metric), "11.3 L"},
		{unit.Volume(16387.064, unit.Inch), "1 in³"},
		{unit.Volume(62.4, unit.Metric), "62 mm³"},
		{unit.Volume(0.2, unit.Metric), "under 1 mm³"},
		{unit.Volume(605, unit.Inch), "0.037 in³"},
		{unit.Volume(5, unit.Inch), "under 0.001 in³"},
		{unit.Volume(0, unit.Metric), "0 cm³"},
		{unit.Area(31.7, unit.Metric), "32 mm²"},
		{unit.Area(0.3, unit.Metric), "under 1 mm²"},
		{unit.Area(31.7, unit.Inch), "0.049 in²"},
		{unit.Area(94_248, unit.Metric), "942 cm²"},
		{unit.Area(1_350_000, unit.Metric), "1.35 m²"},
		{unit.Area(94_248, unit.Inch), "146 in²"},
		{unit.Area(1_350_000, unit.Inch), "14.5 ft²"},
		{unit.Angle(12.54), "12.5°"},
		{unit.Duration(0), "0 min"},
		{unit.Duration(0.4), "under 1 min"},
		{unit.Duration(12.2), "12 min"},
		{unit.Duration(59.4), "59 min"},
		{unit.Duration(59.6), "1 h"},
		{unit.Duration(2490), "41.5 h"},
		{unit.Duration(math.Inf(1)), "– h"},
	} {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
}

// Every fraction of 1/32 in up to a foot is read exactly.
func TestFractionRead(t *testing.T) {
	for n := 1; n <= 12*32; n++ {
		text := fmt.Sprintf("%d %d/32 in", n/32, n%32)
		mm, err := unit.ParseLength(text, unit.MM)
		if want := float64(n) / 32 * 25.4; err != nil || math.Abs(mm-want) > 1e-9 {
			t.Fatalf("%q: read %g mm, want %g, %v", text, mm, want, err)
		}
	}
}

func ExampleParseLength() {
	for _, text := range []string{"11/16 in", "17,7 mm", "1,220", "18 sheets"} {
		mm, err := unit.ParseLength(text, unit.MM)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(unit.Length(mm, unit.Metric), "=", unit.Length(mm, unit.Inch))
	}
	// Output:
	// 17.5 mm = 0.688 in
	// 17.7 mm = 0.697 in
	// 1,220 may be 1.220 or 1220: write it with a point or without the comma
	// "sheets" is not a unit of length: write mm, cm, m, in or ft
}

// TestLiquidAndFeed: a US gallon is 231 in³ and 128 ounces, by definition; an inch is 25.4 mm.
func TestLiquidAndFeed(t *testing.T) {
	for _, tt := range []struct{ got, want string }{
		{unit.Liquid(0.0814, unit.Metric), "81 ml"}, {unit.Liquid(1.346, unit.Metric), "1.35 l"}, {unit.Liquid(3.785411784, unit.Inch), "128 US fl oz"}, {unit.Liquid(0, unit.Metric), "0 ml"},
		{unit.Feed(2200, unit.Metric), "2200 mm/min"}, {unit.Feed(2540, unit.Inch), "100 in/min"},
	} {
		if tt.got != tt.want {
			t.Errorf("%s, want %s", tt.got, tt.want)
		}
	}
}
