package scans

import (
	"fmt"
	"math/rand"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

// TestMatchesLeadFromScanToScan: a scan without matches on the first gets its place by way of one that has some; what leads nowhere is
// told.
func TestMatchesLeadFromScanToScan(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	vec := func() geom.Vec { return geom.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()} }
	at := []geom.Placement{geom.NoPlacement()}
	all := []Scan{{Name: "a"}, {Name: "b"}, {Name: "c"}, {Name: "d"}}
	for range all[1:] {
		at = append(at, geom.Placement{Turn: geom.TurnAbout(vec(), 2), Scale: 0.5 + rnd.Float64(), Shift: vec()})
	}
	var matches []Match
	for _, pair := range [][2]int{{2, 1}, {1, 0}} { // c on b, b on a; nothing on d
		for range 4 {
			p := vec()
			matches = append(matches, Match{pair[0], pair[1], at[pair[0]].Back(p), at[pair[1]].Back(p)})
		}
	}
	starts, err := starting(all, make([]*geom.Placement, len(all)), matches)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range starts[:3] {
		if d := p.Apply(geom.Vec{X: 1, Y: 2, Z: 3}).Sub(at[i].Apply(geom.Vec{X: 1, Y: 2, Z: 3})).Len(); d > 1e-9 {
			t.Errorf("scan %d is put %g off", i, d)
		}
	}
	if starts[3] != nil {
		t.Errorf("a scan without matches is put at %v", starts[3])
	}
	if _, err := starting(all, make([]*geom.Placement, len(all)), matches[:4]); err == nil || !strings.Contains(err.Error(), "c and b have matching points") {
		t.Errorf("matches that don't lead to the first: %v", err)
	}
}

// TestReadMatches: lines, comments and blank lines; what is no match is told with its line.
func TestReadMatches(t *testing.T) {
	path := filepath.Join(t.TempDir(), "points.txt")
	read := func(text string) ([]Match, error) {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return ReadMatches(path, 2)
	}
	got, err := read("# by hand\n\n1 1 2 3  2 4 -5 6e1 # nose\r\n")
	if want := (Match{0, 1, geom.Vec{X: 1, Y: 2, Z: 3}, geom.Vec{X: 4, Y: -5, Z: 60}}); err != nil || len(got) != 1 || got[0] != want {
		t.Errorf("%v, %v", got, err)
	}
	for text, says := range map[string]string{
		"":                          "has no matching points",
		"\n1 1 2 3 2 4 5\n":         "line 2: two times",
		"1 1 2 3 1 4 5 6":           "both points are on scan 1",
		"1 1 2 3 3 4 5 6":           `"3" is no number of a scan, 1 to 2`,
		"1 1 nan 3 2 4 5 6":         `"nan" is no coordinate`,
		"1 1 1e300 3 2 4 5 6":       "is no coordinate",
		strings.Repeat("# ", 1<<20): "can't be such a file",
	} {
		if _, err := read(text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%.40q: %v", text, err)
		}
	}
}

// TestFaceOfPoints: bare points can be looked at: a facet for each, facing as the surface does.
func TestFaceOfPoints(t *testing.T) {
	ball := solidtest.Sphere(10, 2000)
	var b strings.Builder
	fmt.Fprintf(&b, "ply\nformat ascii 1.0\nelement vertex %d\nproperty float x\nproperty float y\nproperty float z\nend_header\n", len(ball.Points))
	for _, p := range ball.Points {
		fmt.Fprintln(&b, p[0], p[1], p[2])
	}
	path := filepath.Join(t.TempDir(), "points.ply")
	if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	m, _, err := Source{File: path}.Face(t.Context())
	if err != nil || len(m.Triangles) != len(ball.Points) {
		t.Fatalf("%v", err)
	}
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		n, out := b.Sub(a).Cross(c.Sub(a)).Unit(), a.Add(b).Add(c).Unit()
		if n.Dot(out) < 0.9 {
			t.Fatalf("a facet at %v faces %v", out, n)
		}
	}
	if _, _, err := (Source{File: path + " gone"}).Face(t.Context()); err == nil {
		t.Error("a file that is not there has a face")
	}
}

// TestSought: the scan that is to be placed by hand is the first that nothing is known of, or else the last that has matching points.
func TestSought(t *testing.T) {
	p := NewPlan("a", "b", "c")
	if i, ok := p.Sought(); i != 1 || !ok {
		t.Errorf("of scans nothing is known of: %d, %v", i, ok)
	}
	if i, ok := p.Matched(1, Match{A: 0, B: 1}).Sought(); i != 2 || !ok {
		t.Errorf("the second has matches: %d, %v", i, ok)
	}
	at := geom.NoPlacement()
	known := *p
	known.Sources = []Source{{}, {At: &at}, {At: &at}}
	if _, ok := known.Sought(); ok {
		t.Error("all are known, and one is sought")
	}
	if i, ok := known.Matched(2, Match{A: 0, B: 2}).Sought(); i != 2 || !ok {
		t.Errorf("one that fits badly by its matches: %d, %v", i, ok)
	}
}
