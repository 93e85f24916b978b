package unit

import (
	"math"
	"testing"
)

func TestKindsReadWhatTheyWrite(t *testing.T) {
	for _, k := range []Kind{Lengths, Angles, Counts, Factors, Percents, Speeds, Turns, Prices, Forces, Minutes, Spreads, Areas, Volumes} {
		for _, s := range []System{Metric, Inch} {
			for _, v := range []float64{0, 1, 17, 600, 12000} {
				got, err := k.Read(k.Write(v, s), s)
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
		if got, err := Lengths.Read(tt.text, Metric); err != nil || math.Abs(got-tt.mm) > 1e-9 {
			t.Errorf("%q: %v, %v", tt.text, got, err)
		}
	}
	if got, err := Lengths.Read("1", Inch); err != nil || got != 25.4 {
		t.Errorf("one, in inches: %v, %v", got, err)
	}
	if _, err := Counts.Read("2.5", Metric); err == nil {
		t.Error("two layers and a half were taken")
	}
}
