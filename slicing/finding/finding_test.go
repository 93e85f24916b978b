package finding_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// place is a place of a size in a layer, at the front left of a piece of 300 mm.
func place(layer int, size float64) finding.Place {
	at := geom.Vec{X: -100, Y: -100, Z: 20*float64(layer) - 10}
	return finding.Place{Layer: layer, At: at, Placed: true, Where: finding.Whereabouts(at, geom.Vec{X: 300, Y: 300, Z: 300}), Size: size, Reach: 4}
}

// TestWorstFirst: whatever the order in which they come, what topples stands first and what nobody sees last; like ones are one,
// their worst place first.
func TestWorstFirst(t *testing.T) {
	all := finding.Gather(
		[]finding.Finding{finding.Of(finding.InnerUndercut, place(2, 9000)), finding.Of(finding.Undercut, place(3, 400))},
		[]finding.Finding{finding.Of(finding.ThinWood, place(4, 2.5)), finding.Of(finding.Undercut, place(9, 2400))},
		[]finding.Finding{finding.Of(finding.ThinWood, place(8, 1.1)), finding.InLayers(finding.FallsOver, 1).With(12), finding.Of(finding.Drops, finding.Place{Layer: 5, Part: 2})},
	)
	var kinds []finding.Kind
	for _, f := range all {
		kinds = append(kinds, f.Kind)
	}
	want := []finding.Kind{finding.FallsOver, finding.Drops, finding.Undercut, finding.ThinWood, finding.InnerUndercut}
	if !slices.Equal(kinds, want) {
		t.Fatalf("in the order %v, want %v", kinds, want)
	}
	if u := all[2]; len(u.Places) != 2 || u.Places[0].Size != 2400 || u.Layer() != 9 {
		t.Errorf("undercuts: %+v", u.Places)
	}
	if w := all[3]; w.Places[0].Size != 1.1 {
		t.Errorf("the thinnest wood does not come first: %+v", w.Places)
	}
	for i := 1; i < len(all); i++ {
		if all[i].Kind.Class() < all[i-1].Kind.Class() {
			t.Errorf("%v is worse than %v before it", all[i].Kind.Class(), all[i-1].Kind.Class())
		}
	}
}

// TestSmallOnesAreTold: of 14 undercuts the small ones are told together, with their sum; nothing is told as none.
func TestSmallOnesAreTold(t *testing.T) {
	places := []finding.Place{place(1, 3000), place(2, 2000), place(3, 900)}
	for i := range 11 {
		places = append(places, place(4+i, 55))
	}
	f := finding.Of(finding.Undercut, places...)
	told, rest := f.Told()
	if len(told) != 3 || len(rest) != 11 {
		t.Fatalf("%d are told one by one, %d together", len(told), len(rest))
	}
	for u, want := range map[unit.System][]string{
		unit.Metric: {"14 undercuts in layers 1 to 14: 6.5 cm³", "Layer 1, at the front left, 10 mm up: 3 cm³", "11 smaller ones, 0.6 cm³ in all"},
		// 6505 mm³ are 0.397 in³, 605 mm³ 0.037 in³, 10 mm 0.394 in (1 in is 25.4 mm).
		unit.Inch: {"0.4 in³", "0.394 in up", "11 smaller ones, 0.037 in³ in all"},
	} {
		text := finding.Words{Units: u}.Text(f)
		for _, w := range want {
			if !strings.Contains(text, w) {
				t.Errorf("%q does not say %q", text, w)
			}
		}
	}
	if text := (finding.Words{}).Text(finding.Of(finding.Undercut, place(1, 51))); !strings.Contains(text, "51 mm³") {
		t.Errorf("a small one: %s", text)
	}
	if one := finding.Of(finding.Undercut, place(1, 300), place(2, 3)); func() int { told, _ := one.Told(); return len(told) }() != 2 {
		t.Error("a single small one is folded away")
	}
}

// metric is a figure in metric units; a cutter's or a board's own name may hold one.
var metric = regexp.MustCompile(`\d (mm|cm|kg|g)\b`)

// TestEveryKindHasItsSentence: for one place and for several, in both units, each kind says something of its own that ends as
// sentences do. In inches no metric figure stands, and on paper nothing is to be looked for in the program.
func TestEveryKindHasItsSentence(t *testing.T) {
	said := map[string]finding.Kind{}
	for k := finding.NoFoot; k <= finding.CoarseColumns; k++ {
		for n := 1; n <= 3; n++ {
			f := finding.Finding{Kind: k, Figures: [3]float64{4.5, 12, 30}, Name: "plain"}
			for i := range n {
				p := place(i+2, 250)
				p.Part, p.More, p.Name = 1, [2]float64{3, 40}, "layer 2, part 1"
				f.Places = append(f.Places, p)
			}
			for _, w := range []finding.Words{{}, {Units: unit.Inch}, {Paper: true}, {Units: unit.Inch, Paper: true}} {
				text := w.Text(f)
				if len(text) < 20 || !strings.HasSuffix(text, ".") && k != finding.Withheld || strings.Contains(text, "%!") || strings.Contains(text, "  ") {
					if k != finding.Withheld {
						t.Errorf("%v at %d places: %q", k, n, text)
					}
				}
				if w.Units == unit.Inch && metric.MatchString(text) {
					t.Errorf("%v in inches: %q", k, text)
				}
				if w.Paper && strings.Contains(text, "Look for") {
					t.Errorf("%v on paper: %q", k, text)
				}
				if strings.Contains(text, " 0 cm³") || strings.Contains(text, "0.0 cm³") {
					t.Errorf("%v tells nothing as something: %q", k, text)
				}
				if n == 1 && w == (finding.Words{}) {
					if o, known := said[text]; known {
						t.Errorf("%v and %v say the same: %q", o, k, text)
					}
					said[text] = k
				}
			}
		}
	}
}

// TestWhereabouts: thirds of the piece, seen from the front.
func TestWhereabouts(t *testing.T) {
	size := geom.Vec{X: 300, Y: 120, Z: 50}
	for _, tt := range []struct {
		at   geom.Vec
		want string
	}{
		{geom.Vec{}, "in the middle"}, {geom.Vec{X: -51}, "on the left"}, {geom.Vec{Y: 21}, "at the back"}, {geom.Vec{X: 51, Y: -21}, "at the front right"},
	} {
		if got := finding.Whereabouts(tt.at, size).String(); got != tt.want {
			t.Errorf("%v lies %s, want %s", tt.at, got, tt.want)
		}
	}
}
