package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"grainstack/slicing/geom"
	"grainstack/slicing/scans"
)

// TestPlacesAreMatchedByHand: two scans are looked at side by side and clicked on; places that can't tell how they lie are refused in
// a sentence; three that can bring them together.
func TestPlacesAreMatchedByHand(t *testing.T) {
	files, at := scanFiles(t, 2), sittings(2)
	r := newRig(t, ring())
	r.openScans(files)
	r.joinedOf(2)
	found := r.bench.Model.Piece.Joined
	r.placeScan(1)
	p := r.matching
	r.until("both scans are shown", func() bool {
		return p.sides[0].bench.Model != nil && p.sides[0].look.Frame() != nil && p.sides[1].look.Frame() != nil
	})
	for i, s := range p.sides {
		middle := fyne.NewPos(s.look.Size().Width/2, s.look.Size().Height/2)
		s.look.Picture.Clicked(middle)
		r.until("a place is picked", func() bool { return len(s.points()) == 1 })
		if alone := "On the left alone: 1. "; i == 0 && !strings.HasPrefix(p.said.Text, alone) {
			t.Errorf("after a place on the left it says %q", p.said.Text)
		}
		if box := at[i].Mesh.Box(); box.Add(s.points()[0]) != box {
			t.Errorf("%v was picked, which is no place of scan %d", s.points()[0], i+1)
		}
	}
	if !strings.Contains(p.said.Text, "1 place on both: 1. ") || !p.take.Disabled() || p.back.Disabled() {
		t.Errorf("told after one place: %q", p.said.Text)
	}
	test.Tap(p.back)
	test.Tap(p.back)
	places := func(of ...geom.Vec) {
		for i, s := range p.sides {
			var points []geom.Vec
			for _, v := range of {
				points = append(points, at[i].At.Back(v))
			}
			s.set(points)
		}
		p.show()
	}
	places(geom.Vec{X: -40}, geom.Vec{}, geom.Vec{X: 40})
	test.Tap(p.take)
	if !strings.Contains(p.said.Text, "on one line") || r.matching == nil {
		t.Errorf("three places on a line: %q", p.said.Text)
	}
	places(geom.Vec{X: -40, Y: 1}, geom.Vec{Y: 40}, geom.Vec{Z: 40})
	test.Tap(p.take)
	r.until("it is joined anew", func() bool { return r.bench.UndoName() == "match points of scan-b.stl" })
	j := r.bench.Model.Piece.Joined
	if d := j.Set.At[1].Shift.Sub(found.Set.At[1].Shift).Len(); d > 0.002*j.Set.Size || len(j.Plan.Matches) != 3 || len(r.pages) != 0 || r.matching != nil {
		t.Errorf("the scan lies %g off, with %d places", d, len(j.Plan.Matches))
	}
}

// TestWhatIsNotFoundIsOfferedToBeMatched: a scan that lies nowhere can be placed by hand from the page that says so.
func TestWhatIsNotFoundIsOfferedToBeMatched(t *testing.T) {
	files := scanFiles(t, 2)
	r := newRig(t, ring())
	plan := scans.NewPlan(files...)
	r.notFound(scans.ErrApart, plan, func(*scans.Plan) {})
	if len(r.pages) != 1 {
		t.Fatal("nothing is told")
	}
	r.pages[0].Hide()
	r.match(plan, 1, func(*scans.Plan) {})
	r.until("it is read", func() bool { return r.matching.sides[1].bench.Model != nil })
	r.pages[0].Hide()
	if r.matching != nil || len(r.pages) != 0 {
		t.Error("the page stays")
	}
}
