package rs274

import (
	"errors"
	"math"
	"strings"
	"testing"

	"grainstack/slicing/geom"
)

const head = "G17 G21 G90 G94\nG0 Z5\nM3 S12000\n"

func read(t *testing.T, text string) *Run {
	t.Helper()
	r, err := Read([]byte(text), geom.Vec{})
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return r
}

// NIST RS274/NGC version 3 (NISTIR 6556), section 3.3: spaces and tabs may stand anywhere on a line outside comments without
// changing it, and letters may be small; its example is that "g0x +0. 12 34y 7" says what "g0 x+0.1234 y7" does.
func TestLineOfTheStandard(t *testing.T) {
	for _, line := range []string{"g0x +0. 12 34y 7", "g0 x+0.1234 y7", "N12 G0 X.1234 Y7.0 (a comment)", "\tG0(between)X0.12340Y+7"} {
		m := read(t, head+line+"\nM5\nM2\n").Moves
		if got, want := m[1].To, (geom.Vec{X: 0.1234, Y: 7, Z: 5}); got != want || m[1].Feed != 0 {
			t.Errorf("%q goes to %v, want %v", line, got, want)
		}
	}
}

// NISTIR 6556, sections 3.3.2.1 (a number: a sign, digits, a point, digits, at least one digit; no exponent), 3.3.1 (line
// numbers: at most five digits, no sign), 3.3.3 and appendix E (comments: no parentheses within, must end), 3.3.4 (a line has one
// word of each modal group and one of each other letter), table 4 (the groups), 3.5.1 and 3.5.2 (G0 and G1 without
// any place; G1 without a feed from memory), 3.1 (a program ends with M2 or M30). Those marked are stricter than the standard.
func TestRefused(t *testing.T) {
	for name, lines := range map[string]string{
		"a sign without digits":           "G0 X-",
		"a point without digits":          "G0 X.",
		"no number":                       "G0 X Y1",
		"two points":                      "G0 X1.2.3",
		"an exponent":                     "G0 X1E3",
		"not a number":                    "G0 XNAN",
		"infinite":                        "G0 XINF",
		"a number cut off (stricter)":     "G0 X12.",
		"two signs":                       "G0 X--1",
		"sign within":                     "G0 X1-2",
		"more digits than any (stricter)": "G0 X0.1234567890123",
		"a line number of six digits":     "N000009 G0 X1",
		"a line number with a sign":       "N-1 G0 X1",
		"a line number at the end":        "G0 X1 N3",
		"a comment without an end":        "G0 X1 (more",
		"a comment in a comment":          "G0 X1 (a (b))",
		"the end of no comment":           "G0 X1 )",
		"a sign of another script":        "G0 X1 (5 µm)",
		"two motions":                     "G0 G1 X1 F100",
		"two of a letter":                 "G0 X1 X2",
		"two stops":                       "M0 M2",
		"two ways of the spindle":         "M3 M5",
		"both units":                      "G20 G21",
		"G1 without a feed":               "G1 X1",
		"a feed of nothing":               "G1 X1 F0",
		"a negative feed":                 "G1 X1 F-100",
		"a negative speed":                "S-100",
		"a motion to nowhere":             "G1 F100",
		"a place after G80":               "G80\nX1",
		"units that change (stricter)":    "G20",
		"relative places":                 "G91",
		"inverse time":                    "G93",
		"another plane":                   "G18",
		"a cycle":                         "G81 X1 Z-3 R2 F100",
		"a tool":                          "T1 M6",
		"an offset of length":             "G43 H1",
		"an offset of places":             "G92 X0",
		"machine's places":                "G53 G0 Z0",
		"home":                            "G28 Z0",
		"a probe":                         "G38.2 Z-10 F50",
		"half a word":                     "G0.5 X1",
		"a turning axis":                  "G0 A90",
		"a parameter":                     "#1=3",
		"an expression":                   "G0 X[1+2]",
		"a line to leave out":             "/G0 X1",
		"a percent sign":                  "%",
		"another comment (stricter)":      "G0 X1 ; more",
		"spindle backwards":               "M4",
		"a subprogram":                    "M98 P1",
		"nowhere":                         "G0 X999999",
		"a byte of nothing":               "G0 X1\x00",
		"a long line":                     "G0 X1 (" + strings.Repeat("-", 256) + ")",
	} {
		_, err := Read([]byte(head+lines+"\nM5\nM2\n"), geom.Vec{})
		var at *LineError
		if !errors.As(err, &at) {
			t.Errorf("%s: %q is not refused: %v", name, lines, err)
		} else if want := 4 + strings.Count(lines, "\n"); at.Line != want || at.Fault == "" {
			t.Errorf("%s: %q: told for line %d, want %d: %v", name, lines, at.Line, want, err)
		}
	}
}

// What goes for a whole program: it ends, says what it means before it moves, and lifts the cutter first.
func TestWholeProgramRefused(t *testing.T) {
	for name, text := range map[string]string{
		"nothing":                    "",
		"no end":                     head + "G0 X1\nM5\n",
		"more after the end":         head + "M5\nM2\nG0 X1\n",
		"the spindle goes on":        head + "G0 X1\nM2\n",
		"no units":                   "G17 G90 G94\nG0 Z5\nM2\n",
		"no plane":                   "G21 G90 G94\nG0 Z5\nM2\n",
		"no word for places":         "G17 G21 G94\nG0 Z5\nM2\n",
		"no word for feeds":          "G17 G21 G90\nG0 Z5\nM2\n",
		"no motion":                  "G17 G21 G90 G94\nZ5\nM2\n",
		"aside before it is lifted":  "G17 G21 G90 G94\nG0 X1 Z5\nM2\n",
		"cutting before it's lifted": "G17 G21 G90 G94\nG1 Z5 F100\nM2\n",
	} {
		if _, err := Read([]byte(text), geom.Vec{}); err == nil {
			t.Errorf("%s: %q is not refused", name, text)
		}
	}
}

func TestWhatItDoes(t *testing.T) {
	want := []Move{
		{5, geom.Vec{X: 7, Y: 7, Z: 5.08}, geom.Vec{X: 7, Y: 7, Z: 5.08}, 0, false},
		{9, geom.Vec{X: 7, Y: 7, Z: 5.08}, geom.Vec{X: 25.4, Y: 50.8, Z: 5.08}, 0, true},
		{10, geom.Vec{X: 25.4, Y: 50.8, Z: 5.08}, geom.Vec{X: 25.4, Y: 50.8, Z: -2.54}, 508, true},
		{11, geom.Vec{X: 25.4, Y: 50.8, Z: -2.54}, geom.Vec{X: 76.2, Y: 50.8, Z: -2.54}, 508, true},
		{12, geom.Vec{X: 76.2, Y: 50.8, Z: -2.54}, geom.Vec{X: 76.2, Y: 0, Z: -2.54}, 1016, true},
		{13, geom.Vec{X: 76.2, Y: 0, Z: -2.54}, geom.Vec{X: 76.2, Y: 0, Z: 5.08}, 0, true},
	}
	r, err := Read([]byte("(head)\nG17 G20 G90 G94\nG40 G49 G80 G54\n\nG0 Z.2\nM0\nS10000 M3\nM8\nG0 X1 Y2\nG1 Z-.1 F20\nX3\nY0 F40\nG0 Z.2\nM5 M9\nM30\n"), geom.Vec{X: 7, Y: 7})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Moves) != len(want) {
		t.Fatalf("%d moves, want %d", len(r.Moves), len(want))
	}
	near := func(a, b geom.Vec) bool { return a.Sub(b).Len() < 1e-9 }
	for i, m := range r.Moves {
		w := want[i]
		if m.Line != w.Line || !near(m.From, w.From) || !near(m.To, w.To) || math.Abs(m.Feed-w.Feed) > 1e-9 || m.Turning != w.Turning {
			t.Errorf("move %d is %+v, want %+v", i, m, w)
		}
	}
	if r.Pauses != 1 || r.Starts != 1 || r.RPM != 10000 || r.Slowest != 10000 || r.Lines != 15 {
		t.Errorf("%d pauses, %d starts, %g rpm, at the slowest %g, %d lines", r.Pauses, r.Starts, r.RPM, r.Slowest, r.Lines)
	}
}

// FuzzRead: whatever the text, reading ends without a fall, and what it accepts is finite, joins up, and has no more moves than
// the text has lines.
func FuzzRead(f *testing.F) {
	f.Add([]byte(head + "G0 X1 Y2\nG1 Z-1 F300\nX+0. 12 34\nM5\nM2\n"))
	f.Add([]byte("G17G20G90G94\nG0Z1(a)\nN5X1.5\nM30"))
	f.Add([]byte(head + "G0 X10 Y0\nG1 Z-1 F300\nG2 X10 Y0 Z-2 I-5 J0\nG3 X0 Y0 I-5\nX10 Y0 I5\nM5\nM2\n"))
	f.Add([]byte("G0 X1e9\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		r, err := Read(text, geom.Vec{})
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error without words")
			}
			return
		}
		lines := map[int]bool{}
		for _, m := range r.Moves {
			lines[m.Line] = true
		}
		if len(lines) > strings.Count(string(text), "\n")+1 || len(r.Moves) > len(lines)+mostChords {
			t.Fatalf("%d moves of %d lines of %d", len(r.Moves), len(lines), strings.Count(string(text), "\n")+1)
		}
		for i, m := range r.Moves {
			if !(m.To.Len() < 1e6) || !(m.Feed >= 0) || i > 0 && m.From != r.Moves[i-1].To {
				t.Fatalf("move %d: %+v", i, m)
			}
		}
	})
}
