package rs274

import (
	"errors"
	"math"
	"strings"
	"testing"

	"grainstack/slicing/geom"
)

// The worked rules of NISTIR 6556, section 3.5.3.2, with an arc by its middle: from X7 Y7 the line
// "G17 G2 x 10 y 16 i 3 j 4 z 9" goes clockwise, seen from above, round X10 Y11 with a radius of 5 to X10 Y16; where Z was 9 it is
// a circle's, else a helix.
func TestArcOfTheStandard(t *testing.T) {
	for _, z := range []float64{9, 3} {
		text := "G17 G21 G90 G94\nG0 Z9\nG0 X7 Y7\nM3 S12000\nG1 Z" + map[float64]string{9: "9", 3: "3"}[z] + " F500\nG17 G2 x 10 y 16 i 3 j 4 z 9\nM5\nM2\n"
		moves := read(t, text).Moves
		way, turned := 0.0, 0.0
		for _, m := range moves {
			if m.Line != 6 {
				continue
			}
			a, b := m.From.Sub(geom.Vec{X: 10, Y: 11}), m.To.Sub(geom.Vec{X: 10, Y: 11})
			if r := math.Hypot(b.X, b.Y); math.Abs(r-5) > 1e-9 {
				t.Errorf("a place is %g from the middle", r)
			}
			if half := a.Add(b).Scale(0.5); 5-math.Hypot(half.X, half.Y) > chordOff {
				t.Errorf("a chord is %g off the arc", 5-math.Hypot(half.X, half.Y))
			}
			turned += math.Atan2(a.X*b.Y-a.Y*b.X, a.X*b.X+a.Y*b.Y)
			way += math.Hypot(m.To.X-m.From.X, m.To.Y-m.From.Y)
			if m.Feed != 500 {
				t.Errorf("at %g", m.Feed)
			}
		}
		// from the bearing of X7 Y7 (down and left of the middle) clockwise, by way of the left, up to the top
		want := -(math.Atan2(-4, -3) + 2*math.Pi - math.Pi/2)
		if math.Abs(turned-want) > 1e-9 || math.Abs(way+5*turned) > 0.01 {
			t.Errorf("it turns by %g over %g mm, want %g", turned, way, want)
		}
		if last := moves[len(moves)-1].To; last != (geom.Vec{X: 10, Y: 16, Z: 9}) {
			t.Errorf("it ends at %v", last)
		}
	}
}

// An arc rises evenly, ends where it is told to, and goes all round where it ends where it begins (NISTIR 6556,
// section 3.5.3.2), the other way with G3.
func TestTurns(t *testing.T) {
	const start = "G17 G21 G90 G94\nG0 Z9\nG0 X5 Y0\nM3 S12000\nG1 Z0 F500\n"
	for text, want := range map[string]float64{
		"G2 X5 Y0 I-5 J0 Z-4":   -2 * math.Pi,
		"G3 X5 I-5 Z-4":         2 * math.Pi,
		"G3 X0 Y5 I-5 J0 Z-4":   math.Pi / 2,
		"G2 X0 Y5 I-5 J0 Z-4":   -3 * math.Pi / 2,
		"G3 X-5 Y0 I-5 J0 Z-4":  math.Pi,
		"G2 X-5 Y0 I-5 J0 Z-4":  -math.Pi,
		"G3 X0 Y-5 I-5 J0 Z-4":  3 * math.Pi / 2,
		"G2 X0 Y-5 I-5 J.0 Z-4": -math.Pi / 2,
	} {
		turned := 0.0
		for _, m := range read(t, start+text+"\nM5\nM2\n").Moves {
			if m.Line != 6 {
				continue
			}
			turned += math.Atan2(m.From.X*m.To.Y-m.From.Y*m.To.X, m.From.X*m.To.X+m.From.Y*m.To.Y)
			if z := -4 * turned / want; math.Abs(m.To.Z-z) > 1e-6 {
				t.Errorf("%s: it is at %g after %g, want %g", text, m.To.Z, turned, z)
			}
		}
		if math.Abs(turned-want) > 1e-9 {
			t.Errorf("%s: it turns by %g, want %g", text, turned, want)
		}
	}
	// it goes on as it went (modal)
	if m := read(t, start+"G3 X-5 Y0 I-5\nX5 Y0 I5\nM5\nM2\n").Moves; m[len(m)-1].Line != 7 || m[len(m)-1].To != (geom.Vec{X: 5}) || len(m) < 20 {
		t.Errorf("the second half is %v", m[len(m)-1])
	}
}

// What the standard refuses of arcs (NISTIR 6556, section 3.5.3.2): neither X nor Y, neither I nor J, radii at the ends
// that differ by more than 0.002 mm or 0.0002 inches. What is stricter is marked.
func TestArcRefused(t *testing.T) {
	const mm, inch = "G17 G21 G90 G94\nG0 Z9\nG0 X5 Y0\nM3 S12000\n", "G17 G20 G90 G94\nG0 Z.4\nG0 X5 Y0\nM3 S12000\n"
	for name, c := range map[string]struct {
		head, line string
		refused    bool
	}{
		"neither X nor Y":               {mm, "G2 Z-1 I-5 J0 F100", true},
		"neither I nor J":               {mm, "G2 X0 Y5 F100", true},
		"radii by 0.003 mm apart":       {mm, "G3 X0 Y5.003 I-5 J0 F100", true},
		"radii by 0.002 mm apart":       {mm, "G3 X0 Y5.002 I-5 J0 F100", false},
		"radii by 0.0003 inches apart":  {inch, "G3 X0 Y5.0003 I-5 J0 F4", true},
		"radii by 0.0002 inches apart":  {inch, "G3 X0 Y5.0002 I-5 J0 F4", false},
		"a middle that is where it is":  {mm, "G2 X0 Y5 I0 J0 F100", true},
		"a wrong middle":                {mm, "G2 X0 Y5 I5 J0 F100", true},
		"without a feed":                {mm, "G2 X0 Y5 I-5 J0", true},
		"a middle of a straight move":   {mm, "G1 X0 I-5 J0 F100", true},
		"a middle without a move":       {mm, "I-5", true},
		"by its radius (stricter)":      {mm, "G2 X0 Y5 R5 F100", true},
		"in another plane":              {mm, "G18 G2 X0 Z5 I-5 K0 F100", true},
		"K in this plane":               {mm, "G2 X0 Y5 I-5 K0 F100", true},
		"units and a feed at once":      {mm, "G21 F100\nG2 X0 Y5 I-5 J0", true},
		"two of a kind":                 {mm, "G2 G3 X0 Y5 I-5 J0 F100", true},
		"wider than is sure (stricter)": {mm, "G2 X5 Y0 I-5000 J0 F100", true},
		"a middle by two figures":       {mm, "G2 X0 Y5 I-5 I-5 F100", true},
		"a middle that was cut off":     {mm, "G2 X0 Y5 I-5. J0 F100", true},
		"as it should be":               {mm, "G2 X0 Y5 I-5 J0 F100", false},
		"more turns than a file may":    {mm, "F100" + strings.Repeat("\nG2 X5 Y0 I-900", 6000), true},
	} {
		_, err := Read([]byte(c.head+c.line+"\nM5\nM2\n"), geom.Vec{})
		var at *LineError
		if c.refused != errors.As(err, &at) || err != nil && !c.refused {
			t.Errorf("%s: %.60q: %v", name, c.line, err)
		}
	}
}

// The maker's own lines are passed over where they are not understood, and carried out where they are; after one that is passed
// over the cutter has to be lifted first, since nobody knows where it stands.
func TestOwnLines(t *testing.T) {
	own := []string{"G28.1 (mine)", "M8", "G0 X3"}
	const start, end = "G17 G21 G90 G94\n", "G0 Z5\nM3 S9000\nG1 X1 F100\nG0 X3\nM5\nM2\n"
	r, err := Read([]byte(start+"G28.1 (mine)\nM8\n"+end), geom.Vec{}, own...)
	if err != nil || r.Passed != 1 || r.Moves[len(r.Moves)-1].To.X != 3 {
		t.Errorf("%v: %+v", err, r)
	}
	for _, text := range []string{start + "G28.2\n" + end, start + "G0 Z5\nG28.1 (mine)\nG0 X3\n" + end} {
		if _, err := Read([]byte(text), geom.Vec{}, own...); err == nil {
			t.Errorf("%q is read", text)
		}
	}
	if !Knows("M8") || Knows("G28.1 (mine)") || Knows("") == false {
		t.Error("what a line is by itself is not known")
	}
}
