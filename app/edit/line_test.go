package edit

import (
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

// TestALineIsTakenByItsEndOrWhole, and moves by as much as the hand.
func TestALineIsTakenByItsEndOrWhole(t *testing.T) {
	s := job.Split{A: geom.Vec2{X: -40}, B: geom.Vec2{X: 40}}
	by := geom.Vec2{X: 3, Y: -8}
	for _, tt := range []struct {
		at   geom.Vec2
		ends [2]bool
		held bool
	}{
		{geom.Vec2{X: -40, Y: 1}, [2]bool{true, false}, true},
		{geom.Vec2{X: 41}, [2]bool{false, true}, true},
		{geom.Vec2{X: 5, Y: 2}, [2]bool{true, true}, true},
		{geom.Vec2{X: 5, Y: 20}, [2]bool{}, false},
	} {
		l, ok := TakeLine([]job.Split{s}, tt.at, 2)
		if ok != tt.held || l.ends != tt.ends {
			t.Errorf("at %v: held %v by %v", tt.at, ok, l.ends)
		}
		if !ok {
			continue
		}
		l.Carry(tt.at.Add(by))
		want := s
		if tt.ends[0] {
			want.A = want.A.Add(by)
		}
		if tt.ends[1] {
			want.B = want.B.Add(by)
		}
		if l.Split != want || !l.Apart() {
			t.Errorf("at %v: carried to %v, want %v", tt.at, l.Split, want)
		}
		if drawn := l.Seams([]job.Split{s}); len(drawn) != 1 || drawn[0] != [2]geom.Vec2{want.A, want.B} {
			t.Errorf("at %v: drawn as %v", tt.at, drawn)
		}
	}
	if _, ok := TakeLine([]job.Split{s}, s.A, 0); ok {
		t.Error("a line was taken on a sheet that is not drawn")
	}
}
