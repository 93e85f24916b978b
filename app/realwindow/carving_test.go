package realwindow

import (
	"math"
	"regexp"
	"strings"
	"testing"
)

const (
	reached = `what=reach trapped_cm3=(?P<cm3>[\d.]+) .*cautions=(?P<cautions>\d+)`
	named   = `what=named cautions=(?P<cautions>\d+)`
)

// An undercut is one that the program names, with its place in the piece's own frame.
type undercut struct {
	at  [3]float64
	mm3 float64
}

var undercutLine = regexp.MustCompile(`what=undercut .*own=([-\d.]+),([-\d.]+),([-\d.]+) mm3=([\d.]+)`)
var cautionLine = regexp.MustCompile(`what=caution layer=\d+ own=([-\d.]+),([-\d.]+),([-\d.]+) text="(Undercut .*)"$`)

// undercuts are what the log names from a mark on: the places, and the sentences.
func (s *screen) undercuts(from int) (places []undercut, sentences []string) {
	for _, line := range s.log.lines(from) {
		if m := undercutLine.FindStringSubmatch(line); m != nil {
			places = append(places, undercut{[3]float64{number(s.t, m[1]), number(s.t, m[2]), number(s.t, m[3])}, number(s.t, m[4])})
		}
		if m := cautionLine.FindStringSubmatch(line); m != nil {
			sentences = append(sentences, m[4])
		}
	}
	return places, sentences
}

// named is where the undercut of a sentence lies.
func (s *screen) named(from int, sentence string) undercut {
	s.t.Helper()
	for _, line := range s.log.lines(from) {
		if m := cautionLine.FindStringSubmatch(line); m != nil && m[4] == sentence {
			return undercut{at: [3]float64{number(s.t, m[1]), number(s.t, m[2]), number(s.t, m[3])}}
		}
	}
	s.t.Fatalf("nothing says %q", sentence)
	return undercut{}
}

func (u undercut) from(o undercut) float64 {
	return math.Sqrt(math.Pow(u.at[0]-o.at[0], 2) + math.Pow(u.at[1]-o.at[1], 2) + math.Pow(u.at[2]-o.at[2], 2))
}

func holds(sentences []string, one string) bool {
	for _, s := range sentences {
		if s == one {
			return true
		}
	}
	return false
}

// TestAnUndercutAndAWayOut: the demo's undercut is named, its mark is seen on the piece and on the layer sheet, a way out is
// taken, the finding is gone, and undo brings it back.
func TestAnUndercutAndAWayOut(t *testing.T) {
	tools(t)
	s := newScreen(t, 1280, 800)
	s.await("what is named", 0, named)
	places, sentences := s.undercuts(0)
	if len(places) == 0 || len(sentences) == 0 {
		t.Fatalf("the demo's undercuts are not named: %v, %q", places, sentences)
	}
	first := s.await("the cutters' reach", 0, reached)
	s.do("mousemove", "640", "790")
	from := s.log.mark()
	s.do("key", "6")
	look, sheet, stick := s.place("pane", "finished piece", from), s.place("pane", "layer sheet", from), s.place("pane", "story stick", from)
	s.click(stick.Min.X+stick.Dx()/2, stick.Max.Y-stick.Dy()/10) // a layer with undercuts, near the floor
	s.do("mousemove", "640", "790")
	s.still()
	before := s.shot()
	at := s.place("button", "ring the places that need a look", from)
	from = s.log.mark()
	s.click(at.Min.X+12, (at.Min.Y+at.Max.Y)/2)
	s.await("the marked places", from, `what=look .*how=fine`)
	s.still()
	marked := s.shot()
	if d := differs(before, marked, look); d < 0.0005 {
		t.Errorf("the places are marked, but only %.5f of the look's pixels changed", d)
	}
	if d := differs(before, marked, sheet); d < 0.002 {
		t.Errorf("the places are marked, but only %.5f of the layer sheet's pixels changed", d)
	}
	s.click(stick.Min.X+stick.Dx()/2, stick.Min.Y+stick.Dy()*3/4) // the keys are to go to the window again
	s.do("mousemove", "640", "790")
	from = s.log.mark()
	s.do("key", "6", "key", "9")
	at = s.place("button", "Look for ways out", from)
	from = s.log.mark()
	s.click(at.Min.X+40, (at.Min.Y+at.Max.Y)/2)
	s.await("ways out", from, `what=ways ways=[1-9]`)
	way, x, y := s.topmostWay(from)
	out := s.firstFreed(sentences, way)
	from = s.log.mark()
	s.click(x+20, y+14)
	s.await("what is named then", from, named)
	after, left := s.undercuts(from)
	if holds(left, out) {
		t.Errorf("%s: it is still there: %s", way, out)
	}
	gone := s.named(0, out)
	for _, one := range after {
		if d := one.from(gone); d < 40 {
			t.Errorf("%s: %.0f mm from there %.0f mm³ are still out of reach", way, d, one.mm3)
		}
	}
	if now := s.await("the reach then", from, reached); number(t, now["cm3"]) > number(t, first["cm3"]) {
		t.Errorf("%s cm³ are out of reach, before %s", now["cm3"], first["cm3"])
	}
	from = s.log.mark()
	s.do("mousemove", "640", "790", "key", "ctrl+z")
	s.await("what is named after undo", from, named)
	if _, back := s.undercuts(from); !holds(back, out) {
		t.Errorf("after undo the finding is not back: %s, only %q", out, back)
	}
	s.leave()
	orderly(t, s.log.lines(0))
}

var wayLine = regexp.MustCompile(`what=button name="(→ [^"]*gone: the undercut[^"]*)" at=(\d+),(\d+)`)

// topmostWay is the first way out in the card that frees a named undercut, and where it is.
func (s *screen) topmostWay(from int) (text string, x, y int) {
	s.t.Helper()
	s.await("a way out of a named undercut", from, wayLine.String())
	s.still()
	for _, line := range s.log.lines(from) {
		if m := wayLine.FindStringSubmatch(line); m != nil {
			if at := int(number(s.t, m[3])); text == "" || at < y {
				text, x, y = m[1], int(number(s.t, m[2])), at
			}
		}
	}
	return text, x, y
}

// firstFreed is the first sentence whose place a way out calls gone.
func (s *screen) firstFreed(sentences []string, way string) string {
	s.t.Helper()
	_, gone, _ := strings.Cut(way, "gone: ")
	for _, one := range sentences {
		if place, _, _ := strings.Cut(strings.TrimPrefix(one, "Undercut "), ", in layer"); strings.Contains(gone, place) {
			return one
		}
	}
	s.t.Fatalf("%s frees none of %q", way, sentences)
	return ""
}
