package edit

import (
	"image"
	"math"
	"testing"

	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
)

// found are places a mm apart, one for each pixel of a way.
func found(w Way) (all []Touch) {
	for _, p := range w.Path {
		all = append(all, Touch{geom.Vec{X: float64(p.At.X), Y: float64(p.At.Y)}, true, p.Begins})
	}
	return all
}

// TestAStrokeIsWholeOnceEveryPlaceIsKnown, however late the answers come, and an answer that comes twice adds nothing.
func TestAStrokeIsWholeOnceEveryPlaceIsKnown(t *testing.T) {
	var s Stroke
	s.Begin(chalk.Stroke{Kind: chalk.KeepWhole, Radius: 2}, image.Pt(0, 0))
	s.Sweep(image.Pt(0, 0), image.Pt(10, 0), 1)
	early := s.Way()
	s.Sweep(image.Pt(10, 0), image.Pt(20, 0), 1)
	late := s.Way()
	s.Up = true
	if _, _, ok := s.Whole(); ok {
		t.Error("it is whole before anything is known")
	}
	s.Found(early, found(early))
	s.Found(early, found(early))
	if _, _, ok := s.Whole(); ok {
		t.Error("it is whole when half of it is known")
	}
	s.Found(late, found(late))
	kind, all, ok := s.Whole()
	if !ok || kind != chalk.KeepWhole || len(all) != 1 {
		t.Fatalf("whole %v, %v in %d strokes", ok, kind, len(all))
	}
	path := all[0].Path
	if end := path[len(path)-1]; path[0].X != 0 || math.Abs(end.X-20) > nearPlaces*2 || len(path) != 21 {
		t.Errorf("it goes from %v to %v over %d places", path[0], end, len(path))
	}
	if s.Down {
		t.Error("it is still being drawn")
	}
}

// TestAStrokeBreaksOffBesideThePiece, and one that begins there turns the view.
func TestAStrokeBreaksOffBesideThePiece(t *testing.T) {
	var s Stroke
	s.Begin(chalk.Stroke{Radius: 1}, image.Pt(0, 0))
	s.Sweep(image.Pt(0, 0), image.Pt(9, 0), 1)
	w := s.Way()
	over := found(w)
	for i := 4; i < 7; i++ {
		over[i].Found = false
	}
	s.Found(w, over)
	s.Up = true
	if _, all, ok := s.Whole(); !ok || len(all) != 2 || len(all[0].Path) != 4 || len(all[1].Path) != 3 {
		t.Errorf("whole %v in %d strokes", ok, len(all))
	}
	s.Begin(chalk.Stroke{Radius: 1}, image.Pt(0, 0))
	w = s.Way()
	s.Found(w, []Touch{{}})
	if !s.Turns || s.Down {
		t.Errorf("begun beside the piece: turns %v, draws %v", s.Turns, s.Down)
	}
}

// TestALongStrokeGoesOnInAnother: no stroke has more places than fit, and none is lost between them.
func TestALongStrokeGoesOnInAnother(t *testing.T) {
	var s Stroke
	s.Begin(chalk.Stroke{Radius: 1}, image.Pt(0, 0))
	s.Sweep(image.Pt(0, 0), image.Pt(150, 0), 1)
	done := Grown(s.Way(), found(s.Way())).Done
	at := -1.0
	for i, one := range done {
		if len(one.Path) > longStroke || i > 0 && one.Path[0] != done[i-1].Path[len(done[i-1].Path)-1] {
			t.Errorf("stroke %d has %d places and begins at %v", i, len(one.Path), one.Path[0])
		}
		at = one.Path[len(one.Path)-1].X
	}
	if len(done) != 3 || at != 150 {
		t.Errorf("%d strokes end at %v", len(done), at)
	}
}

// TestAnAnswerIsOfItsOwnStroke: what comes for a stroke that is gone says nothing of the next, however long either is.
func TestAnAnswerIsOfItsOwnStroke(t *testing.T) {
	var s Stroke
	s.Begin(chalk.Stroke{Radius: 1}, image.Pt(0, 0))
	s.Sweep(image.Pt(0, 0), image.Pt(30, 0), 1)
	late := s.Way()
	s.Drop()
	s.Begin(chalk.Stroke{Radius: 1}, image.Pt(0, 50))
	s.Found(late, found(late)) // longer than what there is of the second: a slice would run out
	own := s.Way()
	if len(own.Done) != 0 || len(own.Path) != 1 {
		t.Fatalf("the second stroke has taken the first one's places: %+v", own)
	}
	s.Up = true
	s.Found(own, found(own))
	if _, all, ok := s.Whole(); !ok || len(all) != 1 || all[0].Path[0].Y != 50 {
		t.Errorf("whole %v: %+v", ok, all)
	}
}

// TestAQuickHandWaitsForNothing: strokes that are begun before the one before is known are all there, each where it was drawn,
// none of them turns the view, and one that was begun beside the piece takes nothing from the others.
func TestAQuickHandWaitsForNothing(t *testing.T) {
	var s Stroke
	for i := range 4 {
		s.Begin(chalk.Stroke{Kind: chalk.KeepWhole, Radius: 1}, image.Pt(0, 100*i))
		s.Sweep(image.Pt(0, 100*i), image.Pt(5, 100*i), 1)
		s.Up = true
	}
	w := s.Way()
	all := found(w)
	for i := 6; i < 12; i++ {
		all[i].Found = false // the second was drawn beside the piece
	}
	s.Found(w, all)
	_, done, ok := s.Whole()
	if !ok || s.Turns || len(done) != 3 {
		t.Fatalf("whole %v, turns %v, %d strokes", ok, s.Turns, len(done))
	}
	for i, y := range []float64{0, 200, 300} {
		for _, p := range done[i].Path {
			if p.Y != y {
				t.Errorf("stroke %d has a place at %v", i, p)
			}
		}
	}
}
