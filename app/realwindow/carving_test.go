package realwindow

import "testing"

const reached = `what=reach trapped_cm3=(?P<cm3>[\d.]+) .*cautions=(?P<cautions>\d+)`

// TestAnUndercutAndAWayOut: the demo's undercut is named, its mark is seen on the piece, a way out is taken, less is out of
// reach, and undo brings it back.
func TestAnUndercutAndAWayOut(t *testing.T) {
	tools(t)
	s := newScreen(t, 1280, 800)
	first := s.await("the cutters' reach", 0, reached)
	if number(t, first["cm3"]) < 1 || number(t, first["cautions"]) < 1 {
		t.Errorf("the demo has %s cm³ out of reach in %s sentences", first["cm3"], first["cautions"])
	}
	s.do("mousemove", "640", "790")
	from := s.log.mark()
	s.do("key", "6")
	look, stick := s.place("pane", "finished piece", from), s.place("pane", "story stick", from)
	s.still()
	before := s.shot()
	at := s.place("button", "ring the places that need a look", from)
	from = s.log.mark()
	s.click(at.Min.X+12, (at.Min.Y+at.Max.Y)/2)
	s.await("the ringed places", from, `what=look .*how=fine`)
	s.still()
	if d := differs(before, s.shot(), look); d < 0.0005 {
		t.Errorf("the places are ringed, but only %.5f of the look's pixels changed", d)
	}
	s.click(stick.Min.X+stick.Dx()/2, stick.Min.Y+stick.Dy()*3/4)
	s.do("mousemove", "640", "790")
	from = s.log.mark()
	s.do("key", "6", "key", "9")
	at = s.place("button", "Look for ways out", from)
	from = s.log.mark()
	s.click(at.Min.X+40, (at.Min.Y+at.Max.Y)/2)
	s.await("ways out", from, `what=ways ways=[1-9]`)
	at = s.place("button", "→ Tilt .*", from)
	from = s.log.mark()
	s.click(at.Min.X+20, at.Min.Y+14)
	after := s.await("the reach of the tilted piece", from, reached)
	if number(t, after["cm3"]) > 0.8*number(t, first["cm3"]) {
		t.Errorf("tilted, %s cm³ are out of reach, before %s", after["cm3"], first["cm3"])
	}
	from = s.log.mark()
	s.do("mousemove", "640", "790", "key", "ctrl+z")
	if back := s.await("the reach after undo", from, reached); back["cm3"] != first["cm3"] {
		t.Errorf("after undo %s cm³ are out of reach, before %s", back["cm3"], first["cm3"])
	}
	s.leave()
	orderly(t, s.log.lines(0))
}
