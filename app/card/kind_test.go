package card

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

func solidTurn() geom.Turn { return geom.TurnXYZ(10, 20, 30) }

func TestKindsReadWhatTheyWrite(t *testing.T) {
	for _, k := range []Kind{Length, Angle, Count, Factor, Speed, Turns} {
		for _, s := range []unit.System{unit.Metric, unit.Inch} {
			for _, v := range []float64{0, 1, 17, 600, 12000} {
				got, err := k.read(k.write(v, s), s)
				if err != nil || math.Abs(got-v) > 1.3 {
					t.Errorf("kind %d, %v: %v is read as %v, %v", k, s, v, got, err)
				}
			}
		}
	}
}

func TestLengthsAreReadInAnyUnit(t *testing.T) {
	for _, tt := range []struct {
		text string
		mm   float64
	}{{"18", 18}, {"1.8 cm", 18}, {"11/16 in", 17.4625}, {"17,7 mm", 17.7}} {
		if got, err := Length.read(tt.text, unit.Metric); err != nil || math.Abs(got-tt.mm) > 1e-9 {
			t.Errorf("%q: %v, %v", tt.text, got, err)
		}
	}
	if got, err := Length.read("1", unit.Inch); err != nil || got != 25.4 {
		t.Errorf("one, in inches: %v, %v", got, err)
	}
	if _, err := Count.read("2.5", unit.Metric); err == nil {
		t.Error("two layers and a half were taken")
	}
}

func TestThousands(t *testing.T) {
	for n, want := range map[int]string{0: "0", 999: "999", 1000: "1\u2009000", 612000: "612\u2009000", 1234567: "1\u2009234\u2009567"} {
		if got := Thousands(n); got != want {
			t.Errorf("%d: %q", n, got)
		}
	}
}
