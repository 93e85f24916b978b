package realwindow

import (
	"image"
	"strconv"
	"testing"
)

// TestALayerOfAnotherBoard: the other mouse button on the story stick opens the menu of a layer; by key it is turned, and by
// mouse it gets another board, which changes stick, look and weight; undo brings all back.
func TestALayerOfAnotherBoard(t *testing.T) {
	tools(t)
	s := newScreen(t, 1024, 640)
	s.await("the demo piece with its hollow", 0, settled)
	s.await("what the cutters reach", 0, reached)
	s.do("mousemove", "500", "630")
	from := s.log.mark()
	s.do("key", "4")
	look, stick := s.place("pane", "finished piece", from), s.place("pane", "story stick", from)
	// The wood alone: red numbers and dots beside it come and go with what the cutters reach.
	wood := image.Rect(stick.Min.X+26, stick.Min.Y+24, stick.Min.X+58, stick.Max.Y-8)
	s.still()
	x, y := stick.Min.X+stick.Dx()/3, stick.Min.Y+stick.Dy()*2/3
	from = s.log.mark()
	s.click(x, y)
	s.await("the picked layer", from, leafed)
	s.do("mousemove", "500", "630")
	s.still()
	before := s.shot()
	first := s.await("its figures", 0, settled)

	ask := func() { s.do("mousemove", strconv.Itoa(x), strconv.Itoa(y), "click", "3", "sleep", "0.4") }
	from = s.log.mark()
	ask()
	menu := s.shot()
	if d := differs(before, menu, stick.Union(look)); d < 0.05 {
		t.Errorf("the other button opens no menu: %.4f of the pixels changed", d)
	}
	s.do("key", "Up", "key", "Up", "key", "Return") // from below: as the others, which can't be chosen; turned
	s.await("the turned layer", from, settled)
	s.do("mousemove", "500", "630")
	s.still()
	turned := s.shot()
	if d := differs(before, turned, wood); d < 0.005 {
		t.Errorf("turned, only %.4f of the stick's pixels changed", d)
	}

	from = s.log.mark()
	ask()
	for range 11 { // from above: the title, then the boards as the catalogue has them
		s.do("key", "Down")
	}
	s.do("key", "Return")
	now := s.await("the layer of another board", from, settled)
	if now["kg"] == first["kg"] {
		t.Errorf("another board weighs %s kg, too", now["kg"])
	}
	s.do("mousemove", "500", "630")
	s.still()
	if d := differs(turned, s.shot(), look); d < 0.005 {
		t.Errorf("of another board, only %.4f of the look's pixels changed", d)
	}

	from = s.log.mark()
	s.do("key", "ctrl+z", "sleep", "0.5", "key", "ctrl+z")
	s.await("the figures after undo", from, `what=ticket .*weight_kg=`+first["kg"]+` .*settled=true`)
	s.still()
	if d := differs(before, s.shot(), wood); d > 0.001 {
		t.Errorf("after undo %.4f of the stick's pixels differ", d)
	}
	s.leave()
	orderly(t, s.log.lines(0))
}
