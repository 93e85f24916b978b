package compass

import (
	"fmt"
	"strconv"
	"strings"
)

// A Measure is one of the things that speak for or against a bearing.
type Measure int

// The measures.
const (
	Layers      Measure = iota // number
	Trapped                    // mm³ of air round the piece that no cutter sees
	TrappedCore                // mm³ of hollow that no cutter sees
	Residue                    // mm³ that the ball leaves standing
	Hours                      // minutes at the router
	Panels                     // number
	Weight                     // kg
	Joint                      // mm², the smallest joint
	Tip                        // degrees of tilt at which the piece falls over
	Stripes                    // share of the look with stripes of a readable width
	Rings                      // share of the features that stripes ring
	Along                      // the same share, for those who want stripes to run along
	Whole                      // joints through regions to be kept whole
	Measures                   // how many there are
)

// A trait is what is known of a measure. grain is the step in which it is told when bearings are compared: a difference that
// nobody minds, so that noise beats nothing; 0 for counts.
type trait struct {
	key, words string
	more       bool // more of it is better
	weight     float64
	grain      float64
	of         func(*Bearing) float64
}

// traits are in the order of the measures. Weights and grains are a start (common practice, no source).
var traits = [Measures]trait{
	Layers:      {"layers", "layers", false, 1, 0, func(b *Bearing) float64 { return float64(b.Layers) }},
	Trapped:     {"trapped", "trapped", false, 2, 500, func(b *Bearing) float64 { return b.Trapped }},
	TrappedCore: {"core", "trapped in the core", false, 0.5, 2000, func(b *Bearing) float64 { return b.TrappedCore }},
	Residue:     {"residue", "left by the ball", false, 0.5, 200, func(b *Bearing) float64 { return b.Residue }},
	Hours:       {"hours", "router hours", false, 1, 10, func(b *Bearing) float64 { return b.RouterMin }},
	Panels:      {"panels", "panels", false, 1, 0, func(b *Bearing) float64 { return float64(b.Panels) }},
	Weight:      {"weight", "weight", false, 0, 0.05, func(b *Bearing) float64 { return b.WeightKg }},
	Joint:       {"joint", "smallest joint", true, 0.5, 200, func(b *Bearing) float64 { return b.jointWorth() }},
	Tip:         {"tip", "tilt it stands", true, 0.5, 2, func(b *Bearing) float64 { return max(b.TipDeg, 0) }},
	Stripes:     {"stripes", "readable stripes", true, 1, 0.02, func(b *Bearing) float64 { return b.StripeShare }},
	Rings:       {"rings", "stripes that ring", true, 0, 0.02, func(b *Bearing) float64 { return b.RingShare }},
	Along:       {"along", "stripes that run along", true, 0, 0.02, func(b *Bearing) float64 { return 1 - b.RingShare }},
	Whole:       {"whole", "joints through what is kept whole", false, 4, 0, func(b *Bearing) float64 { return float64(b.WholeCut) }},
}

// Key is the measure's word in commands.
func (m Measure) Key() string { return traits[m].key }

// Words name the measure for a maker.
func (m Measure) Words() string { return traits[m].words }

// More reports whether more of it is better.
func (m Measure) More() bool { return traits[m].more }

// Of is the bearing's figure, in the measure's unit. A stack of one layer has no joint and counts as one as large as the widest section.
func (m Measure) Of(b *Bearing) float64 { return traits[m].of(b) }

// Weights say how much each measure counts; only their ratios matter. The value is comparable.
type Weights [Measures]float64

// UsualWeights are what the map starts with.
func UsualWeights() (w Weights) {
	for m := range traits {
		w[m] = traits[m].weight
	}
	return w
}

// mostWeight bounds a weight, so that sums of weighted figures stay finite.
const mostWeight = 1e6

// With are the weights changed by words such as "layers=1,trapped=2".
func (w Weights) With(words string) (Weights, error) {
	for part := range strings.SplitSeq(words, ",") {
		key, value, ok := strings.Cut(strings.TrimSpace(part), "=")
		v, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
		if !ok || err != nil || !(v >= 0 && v <= mostWeight) {
			return w, fmt.Errorf("a weight is a measure and a number from 0 to %.0f, as in layers=1, not %q", mostWeight, part)
		}
		m, ok := MeasureNamed(strings.TrimSpace(key))
		if !ok {
			return w, fmt.Errorf("there is no measure %q: the measures are %s", key, Keys())
		}
		w[m] = v
	}
	return w, nil
}

// MeasureNamed is the measure with a key.
func MeasureNamed(key string) (Measure, bool) {
	for m := range traits {
		if traits[m].key == key {
			return Measure(m), true
		}
	}
	return 0, false
}

// Keys are the words of all measures, with commas between.
func Keys() string {
	all := make([]string, Measures)
	for m := range traits {
		all[m] = traits[m].key
	}
	return strings.Join(all, ", ")
}
