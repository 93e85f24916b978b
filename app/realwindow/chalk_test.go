package realwindow

import (
	"image"
	"strings"
	"testing"
)

// chalked is what settled figures say of the marks.
const chalked = `what=chalk rev=\d+ strokes=(?P<strokes>\d+) kept=(?P<kept>\d+) crossings=(?P<crossings>\d+) better_mm=(?P<better>[\d.]+) first_mm=(?P<first>[\d.]+)`

// TestChalk marks a place on the demo piece that shall stay whole, takes the first joint that is offered, and undoes both.
func TestChalk(t *testing.T) {
	tools(t)
	s := newScreen(t, 1280, 800)
	s.await("the demo piece with its hollow", 0, settled)
	s.await("its picture", 0, drawn)
	s.do("mousemove", "640", "790")
	from := s.log.mark()
	s.do("key", "F4")
	look, stick := s.place("pane", "finished piece", from), s.place("pane", "story stick", from)
	rule := s.place("rule", "brush", from)
	s.click(rule.Min.X+5+(rule.Dx()-9)*2/79, (rule.Min.Y+rule.Max.Y)/2) // a radius of 4 mm: what it marks is lower than a layer
	s.still()
	before := s.shot()
	from = s.log.mark()
	middle := image.Pt(look.Min.X+look.Dx()/2, look.Min.Y+look.Dy()*6/10)
	s.drag(middle.X-20, middle.Y, 4, 0, 10)
	crossed := s.await("a joint through what shall stay whole", from, strings.Replace(chalked, `(?P<better>[\d.]+)`, `(?P<better>[1-9][\d.]*)`, 1))
	if crossed["strokes"] != "1" || crossed["kept"] != "1" || crossed["crossings"] != "1" {
		t.Errorf("after one stroke: %v", crossed)
	}
	s.await("the picture with the mark", from, `what=look .*how=fine`)
	s.still()
	after := s.shot()
	near := image.Rect(middle.X-20, middle.Y-3, middle.X+20, middle.Y+4)
	if d := differs(before, after, near); d < 0.9 {
		t.Errorf("only %.2f of the pixels under the brush changed", d)
	}
	if d := differs(before, after, image.Rect(look.Min.X+4, look.Min.Y+firstWords, look.Max.X-4, middle.Y-40)); d > 0.001 {
		t.Errorf("%.4f of the pixels far from the brush changed", d)
	}
	if d := differs(before, after, stick); d == 0 {
		t.Error("the story stick doesn't show it")
	}
	offer := s.place("button", "First joint "+crossed["better"][:len(crossed["better"])-2]+`\S* mm clears it`, from)
	from = s.log.mark()
	s.click((offer.Min.X+offer.Max.X)/2, (offer.Min.Y+offer.Max.Y)/2)
	if clear := s.await("the stack with the offered joint", from, chalked); clear["crossings"] != "0" || clear["first"] != crossed["better"] {
		t.Errorf("with the offered joint: %v", clear)
	}
	from = s.log.mark()
	s.do("mousemove", "640", "790", "key", "ctrl+z")
	if back := s.await("the joint undone", from, chalked); back["crossings"] != "1" || back["first"] != "0.0" {
		t.Errorf("undone: %v", back)
	}
	from = s.log.mark()
	s.do("key", "ctrl+z")
	s.await("the stroke undone", from, settled)
	s.await("the picture without the mark", from, `what=look .*how=fine`)
	s.still()
	if d := differs(before, s.shot(), near); d > 0.01 {
		t.Errorf("undone, %.4f of the pixels under the brush are others than before", d)
	}
	s.leave()
	for _, l := range s.log.lines(0) {
		if strings.Contains(l, "Error in Fyne call thread") || strings.Contains(l, "panic") {
			t.Errorf("the log says: %s", l)
		}
	}
}
