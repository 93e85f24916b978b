package job_test

import (
	"context"
	"encoding/json"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/chalk"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/mesh"
	"grainstack/slicing/report"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/trial"
	"grainstack/slicing/wayout"
)

// ball80 is a ball of radius 80, of facets of about a millimetre and a half.
func ball80() *mesh.Mesh { return solidtest.Sphere(80, 60_000) }

// band marks a place on a ball of radius 80 about the origin, from a height to another above its foot.
func band(t testing.TB, m *chalk.Marks, low, high float64) *chalk.Marks {
	t.Helper()
	z, r := (low+high)/2-80, (high-low)/2
	at := geom.Vec{Y: -math.Sqrt(80*80 - z*z), Z: z}
	out, err := m.With(chalk.Stroke{Kind: chalk.KeepWhole, Radius: r, Sight: geom.Vec{Y: 1}, Path: []geom.Vec{at}})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// layered are settings with layers of 16 mm of a solid piece.
func layered(t testing.TB, m *chalk.Marks, first float64) job.Settings {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	s.Wall, s.Chalk = 0, m
	s = s.WithLayer(c, 16)
	s.FirstJoint = first
	return s
}

func settled(t testing.TB, m *mesh.Mesh, s job.Settings) (*job.Figures, *job.Standing) {
	t.Helper()
	st := standing(t, m, s)
	f, err := job.Settle(context.Background(), st, s, stocktest.Catalogue(t))
	if err != nil || !f.Withheld.None() {
		t.Fatalf("%v, withheld %q", err, f.Withheld)
	}
	return f, st
}

// TestAJointThroughWhatShallStayWhole is named, with a first joint that clears it; with that one there is nothing to say.
func TestAJointThroughWhatShallStayWhole(t *testing.T) {
	marks := band(t, nil, 74, 86) // the joint at 80 = 5 · 16 goes through it
	f, st := settled(t, ball80(), layered(t, marks, 0))
	if len(f.Kept) != 1 || len(f.Kept[0].Crossings) != 1 || f.Kept[0].Crossings[0].Layer != 6 {
		t.Fatalf("kept %+v", f.Kept)
	}
	k := f.Kept[0]
	if math.Abs(k.Low-74) > 1.5 || math.Abs(k.High-86) > 1.5 || k.Low < 74 || k.High > 86 {
		t.Errorf("the place is from %v to %v, want within 74 to 86", k.Low, k.High)
	}
	if at := k.Crossings[0].At; math.Abs(at.Z-80) > 1.5 || at.Y > -75 {
		t.Errorf("the joint meets it at %v", at)
	}
	if one := f.Cautions[slices.IndexFunc(f.Cautions, func(o finding.Finding) bool { return o.Kind == finding.Crossed })]; one.Layer() != 6 || !one.Worst().Placed {
		t.Errorf("the caution is %+v", one)
	}
	if text := caution(f, "stay whole"); !strings.Contains(text, "between layers 5 and 6") {
		t.Errorf("the caution says %q", text)
	}
	best, now := job.BestFirstJoint(st, f.For, f.Kept, f.Thickness)
	if now.Crossings != 1 || best.Crossings != 0 || best != f.BetterJoint {
		t.Fatalf("now %+v, best %+v, figures say %+v", now, best, f.BetterJoint)
	}
	g, _ := settled(t, ball80(), f.For.WithFirstJoint(best.At, stocktest.Catalogue(t)))
	if len(g.Kept) != 1 || len(g.Kept[0].Crossings) != 0 || g.BetterJoint.Layers != 0 {
		t.Errorf("with the proposed joint: %+v, better %+v", g.Kept, g.BetterJoint)
	}
	live, err := job.Instant(context.Background(), st, g.For, stocktest.Catalogue(t))
	if err != nil {
		t.Fatal(err)
	}
	if live = live.KeptFrom(f, st); len(live.Kept) != 1 || len(live.Kept[0].Crossings) != 0 || live.Kept[0].Low != k.Low {
		t.Errorf("while the rule is dragged there: %+v", live.Kept)
	}
	if text := caution(g, "stay whole"); text != "" {
		t.Errorf("it is still said: %s", text)
	}
}

// caution is the first that contains words.
func caution(f *job.Figures, words string) string {
	for _, c := range f.Cautions {
		if text := (finding.Words{}).Text(c); strings.Contains(text, words) {
			return text
		}
	}
	return ""
}

// TestBestFirstJoint on a prism and on a cone, where all areas are known: the answers are worked out by hand.
func TestBestFirstJoint(t *testing.T) {
	c := stocktest.Catalogue(t)
	prism, cone := solidtest.Box(100, 100, 160), solidtest.Frustum(60, 20, 160, 360)
	for _, tt := range []struct {
		name      string
		of        *mesh.Mesh
		kept      []job.Kept
		present   float64
		at        float64
		crossings int
		layers    int
		smallest  float64
		sure      bool // the height is the only one; else the crossings count alone
	}{
		// all joints of a prism are alike: the fewest layers, 160 = 10 · 16, and that is the present stack
		{"prism as it is", prism, nil, 16, 16, 0, 10, 100 * 100, true},
		// joints at a + 16k keep out of 70 to 90 nowhere (20 > 16): one goes through at the least
		{"too high for a layer", prism, []job.Kept{{Low: 70, High: 90}}, 16, 16, 1, 10, 100 * 100, true},
		// a joint at 80 and none else: a from 6 + to 10 - clears 74 to 86, as 74 - 64 = 10 and 86 - 80 = 6; eleven layers each,
		// the first of 6 to 10 and the last of 10 to 6; 10 is the nearest to 16
		{"one place", prism, []job.Kept{{Low: 74, High: 86}}, 16, 10, 0, 11, 100 * 100, true},
		{"one place, from below", prism, []job.Kept{{Low: 74, High: 86}}, 5, 6, 0, 11, 100 * 100, true},
		// the second place allows a from 0 to 8.5 only
		{"two places", prism, []job.Kept{{Low: 74, High: 86}, {Low: 24.5, High: 32}}, 16, 8.5, 0, 11, 100 * 100, true},
		// they exclude each other: 74 to 86 wants 6 to 10, 22 to 27 (a + 16 and a + 32) wants 11 to 22 - 16 = 6 … 6 is in both
		{"at the edge of both", prism, []job.Kept{{Low: 74, High: 86}, {Low: 22, High: 27}}, 16, 6, 0, 11, 100 * 100, true},
		{"two that exclude each other", prism, []job.Kept{{Low: 74, High: 86}, {Low: 21.5, High: 26.5}}, 16, 16, 1, 10, 100 * 100, true},
		// on the cone the highest joint is the smallest: it should lie as low as may be, the last layer a whole one. Its radius at
		// height z is 60 - z/4.
		{"cone", cone, nil, 5, 16, 0, 10, circle(60 - 144.0/4), true},
		// of 6 to 10 the lowest top joint is 6 + 9 · 16 = 150 at 6
		{"cone with a place", cone, []job.Kept{{Low: 74, High: 86}}, 16, 6, 0, 11, circle(60 - 150.0/4), true},
	} {
		s := layered(t, nil, tt.present)
		if tt.present == 16 {
			s.FirstJoint = 0
		}
		best, now := job.BestFirstJoint(standing(t, tt.of, s), s, tt.kept, s.LayerThickness(c))
		if math.Abs(best.At-tt.at) > 1e-9 || best.Crossings != tt.crossings || best.Layers != tt.layers || math.Abs(best.SmallestJoint/tt.smallest-1) > 2e-3 {
			t.Errorf("%s: %+v, want a first joint at %v, %d crossings, %d layers, smallest %v", tt.name, best, tt.at, tt.crossings, tt.layers, tt.smallest)
		}
		if best.Crossings > now.Crossings || math.Abs(now.At-tt.present) > 1e-9 {
			t.Errorf("%s: now %+v is better than the best", tt.name, now)
		}
	}
}

func circle(r float64) float64 { return math.Pi * r * r }

// What nobody can clear is said so, and no first joint is offered that would do no better.
func TestAPlaceHigherThanALayer(t *testing.T) {
	f, _ := settled(t, ball80(), layered(t, band(t, nil, 62, 98), 0))
	if len(f.Kept) != 1 || len(f.Kept[0].Crossings) != 3 { // 64, 80, 96
		t.Fatalf("kept %+v", f.Kept)
	}
	if b := f.BetterJoint; b.Crossings != 2 || b.Layers == 0 {
		t.Errorf("better: %+v, want one with two crossings", b)
	}
	if got := caution(f, "stay whole"); !strings.Contains(got, "3 joints, between layers 4 and 7") || !strings.Contains(got, "leaves 2 joints") {
		t.Errorf("it says: %s", got)
	}
	g, _ := settled(t, ball80(), f.For.WithFirstJoint(f.BetterJoint.At, stocktest.Catalogue(t)))
	if got := caution(g, "stay whole"); g.BetterJoint.Layers != 0 || !strings.Contains(got, "No first joint clears it") {
		t.Errorf("then it says: %s", got)
	}
}

// TestMarksAreKeptWithTheJob: a job that is opened again holds equal marks, its trials the very same, and its report names the
// crossing.
func TestMarksAreKeptWithTheJob(t *testing.T) {
	c, ctx := stocktest.Catalogue(t), context.Background()
	at := filepath.Join(t.TempDir(), "hare.grainstack")
	s := job.Default(c)
	demo := job.Demo()
	box := demo.Mesh.Box()
	marks, err := (*chalk.Marks)(nil).With(chalk.Stroke{Kind: chalk.KeepWhole, Radius: 14, Path: []geom.Vec{nearestPoint(demo.Mesh, box.Center().Add(geom.Vec{Y: -1000}))}})
	if err != nil {
		t.Fatal(err)
	}
	s.Chalk = marks
	other := s
	other.Wall = 33
	plain := s
	plain.Chalk = nil
	trials := []trial.Trial{{Name: "thick", Settings: other}, {Name: "unmarked", Settings: plain}}
	if err := (jobfile.Job{Piece: demo, Settings: s, Trials: trials}.Save(at, false)); err != nil {
		t.Fatal(err)
	}
	j, err := jobfile.Open(ctx, at, "", c, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !j.Settings.Chalk.Equal(marks) || j.Settings.Chalk == nil {
		t.Error("the marks came back as others")
	}
	back := j.Settings
	back.Chalk = marks
	if back != s {
		t.Errorf("settings came back as\n%+v\nand were\n%+v", back, s)
	}
	back = j.Trials[0].Settings
	back.Wall = s.Wall
	if back != j.Settings || j.Trials[1].Settings.Chalk != nil {
		t.Error("a trial with equal marks counts as another")
	}
	if got := job.Choices(j.Settings, j.Trials[1].Settings, c, 0); len(got) != 1 || got[0].Name != "marks in chalk" {
		t.Errorf("the trial without marks differs in %v", got)
	}
	st, err := job.Stand(ctx, j.Piece, j.Settings.Stand())
	if err != nil {
		t.Fatal(err)
	}
	f, err := job.Settle(ctx, st, j.Settings, c)
	if err != nil {
		t.Fatal(err)
	}
	r, err := report.New(ctx, st, f, 0)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Kept) != 1 || len(r.Kept[0].JointsBelow) == 0 || r.Kept[0].HighMm-r.Kept[0].LowMm > 28*j.Settings.Scale {
		t.Errorf("the report says %+v", r.Kept)
	}
	text, _ := json.Marshal(r)
	if !strings.Contains(string(text), `"kept_whole":[{"low_mm":`) {
		t.Error("kept_whole is not in the report")
	}
}

// nearestPoint is the mesh's point that is nearest to a place.
func nearestPoint(m *mesh.Mesh, at geom.Vec) geom.Vec {
	best := m.Points[0].Vec()
	for _, p := range m.Points {
		if p.Vec().Sub(at).Len() < best.Sub(at).Len() {
			best = p.Vec()
		}
	}
	return best
}

// TestWayOutOfCrossings: among the ways out is the first joint that clears what shall stay whole.
func TestWayOutOfCrossings(t *testing.T) {
	c := stocktest.Catalogue(t)
	f, st := settled(t, ball80(), layered(t, band(t, nil, 74, 86), 0))
	r, err := job.Reach(context.Background(), st, f, 0, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	ways, err := wayout.Find(context.Background(), st, f, r, c)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range ways {
		if w.Whole {
			if w.Settings != f.For.WithFirstJoint(f.BetterJoint.At, c) || !strings.Contains(w.Text.String(), "nothing goes through") {
				t.Errorf("the way out is %+v", w)
			}
			return
		}
	}
	t.Errorf("no way out among %d", len(ways))
}
