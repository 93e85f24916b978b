package card

import (
	"context"
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// torn is a ball with a hole and a bit of debris, as read and as mended.
func torn(t *testing.T, s job.Settings) (raw, mended *job.Piece) {
	t.Helper()
	ball := solidtest.Sphere(50, 4000)
	open := &mesh.Mesh{Points: ball.Points, Triangles: ball.Triangles[:len(ball.Triangles)-12]}
	raw = job.NewPiece("ball", solidtest.Join(open, solidtest.Moved(solidtest.Sphere(2, 100), geom.Vec{X: 70})), mesh.Raw{})
	mended, err := raw.Mend(context.Background(), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return raw, mended
}

func TestMendingSaysWhatWasDone(t *testing.T) {
	d := newDesk(t)
	d.state.Settings.Mend = mend.Settings{}
	d.state.Mend.Fault = ""
	raw, mended := torn(t, d.state.Settings)
	if got := mendingLine(d.state); got != "clean, nothing to do" {
		t.Errorf("a clean piece: %q", got)
	}
	f, err := mend.Survey(context.Background(), raw.Mesh, raw.Adjacency, true)
	if err != nil {
		t.Fatal(err)
	}
	d.state.Piece, d.state.Mend.Survey = mended, &f
	if got := found(d.state); !strings.Contains(got, "1 hole, 1 loose bit.") || !strings.Contains(got, "2 shells") {
		t.Errorf("found: %q", got)
	}
	if got := mendingLine(d.state); !strings.Contains(got, "1 hole filled") || !strings.Contains(got, "1 loose bit left out") {
		t.Errorf("done: %q", got)
	}
	if got := done(d.state); !strings.Contains(got, "has not moved") {
		t.Errorf("done: %q", got)
	}
	d.state.Mend.Busy = true
	if got := mendingLine(d.state); got != "being mended …" {
		t.Errorf("while it is being mended: %q", got)
	}
	d.state.Mend.Busy, d.state.Mend.Fault = false, "Called off."
	if mendingLine(d.state) != "Called off." || done(d.state) != "Called off." {
		t.Error("a mending that was called off is not told")
	}
}

// Two balls that run through one another are cut where they do, and the card says so, folded and open.
func TestMendingSaysWhatWasCut(t *testing.T) {
	d := newDesk(t)
	d.state.Settings.Mend, d.state.Mend.Fault = mend.Settings{}, ""
	ball := solidtest.Sphere(50, 4000)
	raw := job.NewPiece("balls", solidtest.Join(ball, solidtest.Moved(ball, geom.Vec{X: 60, Y: 1})), mesh.Raw{})
	p, err := raw.Mend(context.Background(), d.state.Settings, nil)
	if err != nil {
		t.Fatal(err)
	}
	d.state.Piece = p
	for _, want := range []string{"was cut there, along one line.", "facets were touched, everything else stays as it was.", "has not moved"} {
		if got := done(d.state); !strings.Contains(got, want) {
			t.Errorf("%q lacks %q", got, want)
		}
	}
	if got := mendingLine(d.state); got != "1 line cut where it ran through itself" {
		t.Errorf("folded: %q", got)
	}
}

// Lengths follow the scale, and the words say at which scale they were written.
func TestMendingFollowsTheScale(t *testing.T) {
	d := newDesk(t)
	p := *d.state.Piece
	p.Mesh = solidtest.Box(1, 1, 1)
	p.Mended = job.Mended{Actions: []string{"Built anew."}, Rebuilt: true, MmPerUnit: 1, ResolutionMm: 0.5, DistanceMaxMm: 0.3, DistanceMeanMm: 0.1}
	d.state.Piece, d.state.Mend.Fault, d.state.Settings.Scale = &p, "", 10
	got := done(d.state)
	for _, want := range []string{"at most 3 mm", "1 mm on average", "Grid: 5 mm", "at the scale × 1."} {
		if !strings.Contains(got, want) {
			t.Errorf("%q lacks %q", got, want)
		}
	}
}

func TestPlacesLeadThere(t *testing.T) {
	d := newDesk(t)
	f := &mend.Findings{}
	for i := range 5 {
		f.List = append(f.List, mend.Finding{Kind: mend.Hole, Size: float64(50 - i)})
	}
	f.List = append(f.List, mend.Finding{Kind: mend.Spike, Size: 2})
	f.Counts[mend.Hole], f.Counts[mend.Spike] = 5, 1
	d.state.Mend.Survey = f
	d.show()
	var list *places
	for _, r := range d.cards[1].rows {
		if p, ok := r.(*places); ok {
			list = p
		}
	}
	if len(list.shown) != eachKind+1 || len(list.box.Objects) != eachKind+2 {
		t.Fatalf("%d sentences in %d lines", len(list.shown), len(list.box.Objects))
	}
	test.Tap(list.shown[eachKind])
	if len(d.went) != 1 || d.went[0] != 6 {
		t.Errorf("went to %v, want 6", d.went)
	}
	was := list.shown[0].Text()
	d.state.Settings.Scale = 2
	d.show()
	if got := list.shown[0].Text(); got == was || !strings.Contains(got, "100 mm") {
		t.Errorf("at twice the scale the hole is %q, before %q", got, was)
	}
	for _, tt := range []struct{ at, by, want int }{{0, 1, 1}, {0, -1, 6}, {6, 1, 1}, {1, -1, 6}, {3, 1, 4}} {
		d.state.Mend.Finding = tt.at
		if got := step(d.state, tt.by); got != tt.want {
			t.Errorf("from %d by %d: %d, want %d", tt.at, tt.by, got, tt.want)
		}
	}
}

// The saw's height is that above the scan's lowest point, whatever the scale and the turn.
func TestSawHeight(t *testing.T) {
	d := newDesk(t)
	base := &sawn{}
	s := d.state
	s.Settings.Mend.Saw = mend.Plane{}
	if got := base.height(s); got != 0 {
		t.Errorf("no saw: %v", got)
	}
	s.Settings = base.turn(s, true)
	if got := base.height(s); math.Abs(got-firstSaw) > 1e-3 {
		t.Errorf("taken up: %v", got)
	}
	s.Settings.Scale = 2
	if got := base.height(s); math.Abs(got-2*firstSaw) > 1e-3 {
		t.Errorf("at twice the scale: %v", got)
	}
	s.Settings.Turn = geom.TurnXYZ(90, 0, 0)
	s.Settings = base.to(s, 33)
	if got := base.height(s); math.Abs(got-33) > 1e-3 {
		t.Errorf("turned: %v", got)
	}
	s.Settings = base.turn(s, false)
	s.Settings = base.turn(s, true)
	if got := base.height(s); math.Abs(got-33) > 1e-3 {
		t.Errorf("off and on again: %v", got)
	}
}

func TestDebrisShare(t *testing.T) {
	for _, tt := range []struct{ percent, kept float64 }{{0, -1}, {0.1, 0.001}, {5, 0.05}} {
		debris := job.SettingOf("debris")
		s := debris.With(job.Settings{}, tt.percent)
		if s.Mend.DebrisShare != tt.kept || math.Abs(debris.Figure(s, nil)-tt.percent) > 1e-9 {
			t.Errorf("%v %%: kept as %v, shown as %v", tt.percent, s.Mend.DebrisShare, debris.Figure(s, nil))
		}
	}
}
