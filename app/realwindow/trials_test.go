package realwindow

import (
	"image"
	"strconv"
	"testing"
)

const (
	trialsKept = `what=trials n=(?P<n>\d+) tickets=(?P<tickets>\d+) deep=(?P<deep>\d+) drawn=(?P<drawn>\d+) names="(?P<names>.*)"`
	sideBySide = `what=beside rev=\d+ .*how=fine stacks=(?P<stacks>\S+)`
	anyFigures = `what=ticket rev=(?P<rev>\d+) .*layers=(?P<layers>\d+) layer_mm=(?P<mm>[\d.]+) wall_mm=(?P<wall>[\d.]+) weight_kg=(?P<kg>[\d.]+) joint_cm2=(?P<joint>[\d.]+) .*core_known=true settled=true`
)

// TestThreeTrialsComparedAndOneTakenBack keeps the demo as it came, with a thicker wall in thinner layers, and on its side; sets
// them side by side, turns one view, takes the first back and undoes it: settings and figures are as before.
func TestThreeTrialsComparedAndOneTakenBack(t *testing.T) {
	tools(t)
	s := newScreen(t, 1280, 800)
	first := s.await("the demo piece with its hollow", 0, anyFigures)
	s.do("mousemove", "640", "790")
	s.still()
	from := s.log.mark()
	s.do("key", "ctrl+k")
	s.await("the first trial", from, `what=trials n=1 .*names="Trial 1"`)

	from = s.log.mark()
	s.do("key", "5")
	s.typeInto("wall", "32", from)
	s.await("a thicker wall", from, `what=ticket .*wall_mm=32\.000 .*settled=true`)
	s.do("key", "ctrl+k")
	s.await("the second trial", from, `what=trials n=2 .*names="Trial 1\|Trial 2"`)

	from = s.log.mark()
	s.do("key", "Escape")
	look := s.place("pane", "finished piece", 0)
	s.click(look.Min.X+20, look.Min.Y+20)
	s.do("key", "x")
	side := s.await("the piece on its side", from, anyFigures)
	if side["layers"] == first["layers"] {
		t.Errorf("on its side it has %s layers as well", side["layers"])
	}
	s.do("key", "ctrl+k")
	s.await("three trials with tickets and pictures", from, `what=trials n=3 tickets=3 deep=\d drawn=3 names="Trial 1\|Trial 2\|Trial 3"`)
	s.still()

	s.compare()
	s.takeBack(first, side)
	s.leave()
	orderly(t, s.log.lines(0))
}

// typeInto types a value into the field of a card's rule.
func (s *screen) typeInto(rule, value string, from int) {
	s.t.Helper()
	at := s.place("rule", rule, from)
	s.click(at.Max.X+30, (at.Min.Y+at.Max.Y)/2)
	s.do("key", "ctrl+a", "type", value)
	s.do("key", "Return")
}

// compare sets the trials side by side and turns the view over one of them: all turn.
func (s *screen) compare() {
	s.t.Helper()
	from := s.log.mark()
	s.do("key", "ctrl+t")
	if got := s.await("trials side by side", from, sideBySide)["stacks"]; got != "Trial_1|Trial_2|Trial_3_·_on_the_bench" {
		s.t.Errorf("side by side stand %s", got)
	}
	sheet := s.place("pane", "side by side", from)
	s.still()
	before := s.shot()
	from = s.log.mark()
	s.drag(sheet.Min.X+200, sheet.Min.Y+120, 10, 2, 10)
	s.await("all of them turned", from, sideBySide)
	s.still()
	after := s.shot()
	third := (sheet.Dx() - 100) / 3
	for i := range 3 {
		x := sheet.Min.X + 100 + i*third
		if d := differs(before, after, image.Rect(x, sheet.Min.Y+40, x+third, sheet.Min.Y+200)); d < 0.03 {
			s.t.Errorf("one view was turned, but stack %d changed in %.4f of its pixels", i+1, d)
		}
	}
	from = s.log.mark()
	s.do("key", "Escape")
	s.await("the bench", from, `what=comparison open=false`)
	s.still()
}

// takeBack chooses the first trial, takes it back and undoes that.
func (s *screen) takeBack(first, side map[string]string) {
	s.t.Helper()
	from := s.log.mark()
	s.do("key", "period") // from the chosen third round to the first
	s.do("key", "ctrl+r")
	s.same("the first trial taken back", s.await("its figures", from, anyFigures), first)
	from = s.log.mark()
	s.do("key", "ctrl+z")
	s.same("undone", s.await("the figures after undo", from, anyFigures), side)
	if got := s.await("the trials", 0, trialsKept); got["n"] != strconv.Itoa(3) {
		s.t.Errorf("%s trials are left", got["n"])
	}
}

// same compares figures.
func (s *screen) same(what string, got, want map[string]string) {
	s.t.Helper()
	for _, k := range []string{"layers", "mm", "wall", "kg", "joint"} {
		if got[k] != want[k] {
			s.t.Errorf("%s: %s is %s, want %s", what, k, got[k], want[k])
		}
	}
}
