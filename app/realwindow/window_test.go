package realwindow

import (
	"image"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

const (
	settled = `what=ticket rev=(?P<rev>\d+) .*layers=(?P<layers>\d+) .*wall_mm=(?P<wall>[\d.]+) weight_kg=(?P<kg>[\d.]+) .*core_known=true settled=true`
	drawn   = `what=look rev=\d+ .*how=fine .*turn=(?P<turn>\S+) azimuth=(?P<azimuth>\S+)`
	leafed  = `what=sheet .*settled=true layer=(?P<layer>\d+)`
)

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// A visit is what the steps of the test know of the window.
type visit struct {
	*screen
	look, sheet, stick, wall image.Rectangle
	first                    map[string]string // the figures of the demo piece at the start
	front                    string            // the view at the start
}

// TestAnHourAtTheBench opens the demo piece, moves rules with the mouse, turns view and piece, picks layers, undoes, and
// leaves; figures and pictures have to follow, each where it should and nowhere else.
func TestAnHourAtTheBench(t *testing.T) {
	tools(t)
	v := arrive(t)
	v.thickenTheWall()
	v.undo()
	v.turnTheView()
	v.pickLayers()
	v.turnThePiece()
	v.leave()
	orderly(t, v.log.lines(0))
}

// arrive opens the window and looks whether every pane is drawn.
func arrive(t *testing.T) *visit {
	t.Helper()
	v := &visit{screen: newScreen(t, 1280, 800)}
	v.first = v.await("the demo piece with its hollow", 0, settled)
	v.front = v.await("its picture", 0, drawn)["azimuth"]
	v.await("what the cutters reach", 0, reached)
	v.still()
	v.do("mousemove", "640", "790")
	from := v.log.mark()
	v.do("key", "5")
	v.look, v.sheet = v.place("pane", "finished piece", from), v.place("pane", "layer sheet", from)
	v.stick, v.wall = v.place("pane", "story stick", from), v.place("rule", "wall", from)
	v.still()
	begun := v.shot()
	for _, p := range []struct {
		name string
		area image.Rectangle
		want int
	}{{"finished piece", v.look, 2000}, {"layer sheet", v.sheet, 10}, {"story stick", v.stick, 10}} {
		if got := colours(begun, p.area); got < p.want {
			t.Errorf("the pane of the %s holds %d colours, want %d and more", p.name, got, p.want)
		}
	}
	return v
}

// still gives the window time to paint what was logged.
func (s *screen) still() { time.Sleep(500 * time.Millisecond) }

// firstWords is how far down the words of the first start reach, which go with the first change, in pixels.
const firstWords = 64

// thickenTheWall drags the wall: weight and sheet follow live, the outside does not change.
func (v *visit) thickenTheWall() {
	v.t.Helper()
	from := v.log.mark()
	v.do("key", "Up", "key", "Up", "key", "Up", "key", "Up", "key", "Up")
	v.await("layer 6", from, `what=sheet .*layer=6`)
	v.await("its edges on the settled picture", from, `what=look .*how=fine .*layer=6`)
	v.still()
	before := v.shot()
	from = v.log.mark()
	v.drag(v.wall.Min.X+5+(v.wall.Dx()-9)/3, (v.wall.Min.Y+v.wall.Max.Y)/2, 2, 0, 16)
	thick := v.await("the figures of the thicker wall", from, settled)
	if number(v.t, thick["wall"]) <= 21 || number(v.t, thick["kg"]) <= number(v.t, v.first["kg"]) {
		v.t.Errorf("dragged the wall from %s mm, %s kg to %s mm, %s kg", v.first["wall"], v.first["kg"], thick["wall"], thick["kg"])
	}
	v.await("the sheet of the thicker wall", from, `what=sheet rev=`+thick["rev"]+` .*settled=true`)
	v.still()
	after := v.shot()
	if d := differs(before, after, v.sheet); d < 0.002 {
		v.t.Errorf("the core on the sheet did not change: %.4f of its pixels", d)
	}
	outside := v.look.Inset(4)
	outside.Min.Y += firstWords
	if d := differs(before, after, outside); d > 0.001 {
		v.t.Errorf("the outside changed with the wall: %.4f of its pixels", d)
	}
	v.await("what the cutters reach with it", from, reached)
	v.still()
	live := 0
	for _, l := range v.log.lines(from) {
		if strings.Contains(l, "what=ticket") && strings.Contains(l, "settled=false") {
			live++
		}
	}
	if live < 4 {
		v.t.Errorf("the ticket followed %d times while the wall was dragged, want at least 4", live)
	}
}

// undo takes the whole drag back at once.
func (v *visit) undo() {
	v.t.Helper()
	from := v.log.mark()
	v.do("key", "ctrl+z")
	if back := v.await("the figures after undo", from, settled); back["kg"] != v.first["kg"] || back["wall"] != v.first["wall"] {
		v.t.Errorf("after undo %s mm, %s kg; want %s mm, %s kg", back["wall"], back["kg"], v.first["wall"], v.first["kg"])
	}
	v.await("what the cutters reach, which is written on the sheet as well", from, reached)
	v.still()
}

// turnTheView drags the view: the look changes, the sheet does not.
func (v *visit) turnTheView() {
	v.t.Helper()
	v.still()
	before := v.shot()
	from := v.log.mark()
	v.drag(v.look.Min.X+60, v.look.Min.Y+60, 8, 1, 20)
	if got := v.await("the turned view", from, drawn)["azimuth"]; got == v.front {
		v.t.Error("dragging did not turn the view")
	}
	v.still()
	after := v.shot()
	if d := differs(before, after, v.look); d < 0.05 {
		v.t.Errorf("the view turned, but only %.4f of its pixels changed", d)
	}
	if d := differs(before, after, v.sheet.Inset(4)); d > 0.001 {
		v.t.Errorf("the sheet changed with the view: %.4f of its pixels", d)
	}
}

// pickLayers picks a layer on the stick and another on the piece.
func (v *visit) pickLayers() {
	v.t.Helper()
	from := v.log.mark()
	v.click(v.stick.Min.X+v.stick.Dx()/2, v.stick.Min.Y+v.stick.Dy()/2)
	picked := v.await("the layer picked on the stick", from, leafed)["layer"]
	if n := number(v.t, picked); n < 7 || n > 13 {
		v.t.Errorf("a click half-way up the stick picked layer %s", picked)
	}
	from = v.log.mark()
	v.click(v.look.Min.X+v.look.Dx()/2, v.look.Min.Y+v.look.Dy()*7/10)
	if got := v.await("the layer picked on the piece", from, leafed)["layer"]; got == picked {
		v.t.Errorf("a click on the piece picked layer %s again", got)
	}
}

// turnThePiece turns the piece itself by the Stand card's rule: figures and picture follow.
func (v *visit) turnThePiece() {
	v.t.Helper()
	from := v.log.mark()
	v.do("mousemove", "640", "790", "key", "3")
	forward := v.place("rule", "forward", from)
	from = v.log.mark()
	v.drag(forward.Min.X+forward.Dx()/2, (forward.Min.Y+forward.Max.Y)/2, 3, 0, 8)
	turned := v.await("the turned piece", from, settled)
	if turned["layers"] == v.first["layers"] && turned["kg"] == v.first["kg"] {
		v.t.Error("the piece was turned, but its figures are the same")
	}
	if got := v.await("its picture", from, strings.Replace(drawn, `rev=\d+`, `rev=`+turned["rev"], 1))["turn"]; strings.HasPrefix(got, "0.0,") {
		v.t.Errorf("the picture is of turn %s", got)
	}
}

// leave closes the window with its key, and leaves what is not saved; the program has to end well.
func (s *screen) leave() {
	s.t.Helper()
	from := s.log.mark()
	s.do("key", "ctrl+q")
	for end := time.Now().Add(patience); time.Now().Before(end) && len(s.gone) == 0; time.Sleep(20 * time.Millisecond) {
		if strings.Contains(strings.Join(s.log.lines(from), " "), "what=question") { // what was chosen is not saved
			s.still()
			s.do("key", "Right", "key", "Return")
			break
		}
	}
	select {
	case err := <-s.gone:
		if err != nil {
			s.t.Errorf("the program ended badly: %v", err)
		}
	case <-time.After(patience):
		s.t.Error("the program did not end")
	}
}

// orderly looks through the whole log: no complaint of the toolkit, and no picture older than one that was shown before it.
func orderly(t *testing.T, lines []string) {
	t.Helper()
	re := regexp.MustCompile(`what=(\w+) rev=(\d+) .*latency_ms=`)
	newest := map[string]int{}
	frames := 0
	for _, l := range lines {
		if strings.Contains(l, "Error in Fyne call thread") || strings.Contains(l, "panic") {
			t.Errorf("the log says: %s", l)
		}
		m := re.FindStringSubmatch(l)
		if m == nil {
			continue
		}
		frames++
		rev, _ := strconv.Atoi(m[2])
		if rev < newest[m[1]] {
			t.Errorf("a stale %s was shown: revision %d after %d: %s", m[1], rev, newest[m[1]], l)
		}
		newest[m[1]] = rev
	}
	if frames < 40 {
		t.Errorf("only %d frames were logged", frames)
	}
}
