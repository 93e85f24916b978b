package realwindow

import (
	"errors"
	"image"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// brokenScan writes a bumpy bust-like scan with all that scans have: an open base, a hole in the side, two bits of debris, and
// a second shell that is pushed into the first.
func brokenScan(t *testing.T) string {
	t.Helper()
	body := solidtest.Stretch(solidtest.Bumpy(50, 60_000), 1, 0.9, 1.3)
	hole := geom.Vec{X: 48, Y: -20, Z: 20}
	open := &mesh.Mesh{Points: body.Points}
	for i, tri := range body.Triangles {
		a, b, c := body.Corners(i)
		mid := a.Add(b).Add(c).Scale(1.0 / 3)
		if mid.Z > -52 && mid.Sub(hole).Len() > 12 {
			open.Triangles = append(open.Triangles, tri)
		}
	}
	knob := solidtest.Moved(solidtest.Sphere(22, 4000), geom.Vec{X: 10, Y: -38, Z: 30})
	m := solidtest.Join(open, knob,
		solidtest.Moved(solidtest.Sphere(1.5, 300), geom.Vec{X: 80, Z: 20}),
		solidtest.Moved(solidtest.Sphere(2, 300), geom.Vec{X: -75, Y: 30}))
	path := filepath.Join(t.TempDir(), "bust.stl")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(mesh.WriteSTL(f, m), f.Close()); err != nil {
		t.Fatal(err)
	}
	return path
}

const piece = `what=piece rev=(?P<rev>\d+) facets=(?P<facets>\d+) solid=(?P<solid>\w+) volume_cm3=(?P<cm3>[\d.]+) actions=(?P<actions>\d+) .*sawn=(?P<sawn>\w+)`

// A repair is what the steps of the test know of the window with the scan.
type repair struct {
	*screen
	look, stick         image.Rectangle
	first, sawn, scaled map[string]string // figures
	firstPiece          map[string]string
}

// TestFromABrokenScanToASolid opens a broken scan, follows a finding, saws the base off, sets the scale by two points, and
// undoes and redoes it all; the figures have to follow.
func TestFromABrokenScanToASolid(t *testing.T) {
	tools(t)
	r := &repair{screen: newScreen(t, 1280, 800, brokenScan(t))}
	r.mended()
	r.follow()
	r.saw()
	r.measure()
	r.backAndForth()
	r.leave()
	orderly(t, r.log.lines(0))
}

// mended waits until the scan is a solid and all is known of it.
func (r *repair) mended() {
	r.t.Helper()
	r.await("the scan as it was read", 0, `what=look .*`)
	r.firstPiece = r.await("the mended piece", 0, piece)
	if r.firstPiece["solid"] != "true" || number(r.t, r.firstPiece["actions"]) < 3 {
		r.t.Errorf("the scan came to %v", r.firstPiece)
	}
	r.first = r.await("its figures", 0, settled)
	r.await("its findings", 0, `what=survey findings=(?P<n>\d+) crossings=true`)
	r.do("mousemove", "640", "790")
	from := r.log.mark()
	r.do("key", "2")
	r.look, r.stick = r.place("pane", "finished piece", from), r.place("pane", "story stick", from)
	r.still()
}

// press clicks a button of a card.
func (r *repair) press(name string, from int) {
	r.t.Helper()
	at := r.place("button", name, from)
	r.click(at.Min.X+8, (at.Min.Y+at.Max.Y)/2)
}

// follow goes to the hole in the side: the view turns and comes near.
func (r *repair) follow() {
	r.t.Helper()
	before := r.shot()
	from := r.log.mark()
	r.press("A hole; its edge runs \\d+ mm.", 0)
	r.await("the finding seen near", from, `what=look .*how=fine .*zoom=2\.600`)
	r.still()
	if d := differs(before, r.shot(), r.look); d < 0.2 {
		r.t.Errorf("the view went to the finding, but only %.4f of its pixels changed", d)
	}
	r.do("key", "Home")
}

// saw saws the base off by the card's tick: the piece has less wood and stays a solid.
func (r *repair) saw() {
	r.t.Helper()
	from := r.log.mark()
	r.press("Saw the base off flat", 0)
	got := r.await("the sawn piece", from, piece)
	if got["solid"] != "true" || got["sawn"] != "true" || number(r.t, got["cm3"]) >= number(r.t, r.firstPiece["cm3"]) {
		r.t.Errorf("sawn: %v, before: %v", got, r.firstPiece)
	}
	r.sawn = r.await("its figures", from, settled)
	if r.sawn["kg"] == r.first["kg"] {
		r.t.Errorf("sawn off, it still weighs %s kg", r.sawn["kg"])
	}
}

// measure picks two points of the piece and types how far they are apart: the piece grows.
func (r *repair) measure() {
	r.t.Helper()
	r.click(r.stick.Min.X+r.stick.Dx()/2, r.stick.Min.Y+r.stick.Dy()*3/4)
	r.do("key", "2", "key", "Home", "key", "d")
	r.still()
	x, y := (r.look.Min.X+r.look.Max.X)/2, r.look.Min.Y+r.look.Dy()*6/10
	for _, dx := range []int{-50, 50} {
		from := r.log.mark()
		r.click(x+dx, y)
		r.await("the picked point", from, `what=look .*`)
		r.still()
	}
	from := r.log.mark()
	r.do("key", "1")
	at := r.place("rule", "distance", from)
	r.click(at.Max.X+30, (at.Min.Y+at.Max.Y)/2)
	from = r.log.mark()
	r.do("key", "ctrl+a", "type", "70")
	r.do("key", "Return")
	r.scaled = r.await("the figures at the true size", from, settled)
	if number(r.t, r.scaled["layers"]) < 1.5*number(r.t, r.sawn["layers"]) {
		r.t.Errorf("twice as large or more, it has %s layers, before %s", r.scaled["layers"], r.sawn["layers"])
	}
}

// backAndForth undoes everything and does it again.
func (r *repair) backAndForth() {
	r.t.Helper()
	r.click(r.stick.Min.X+r.stick.Dx()/2, r.stick.Min.Y+r.stick.Dy()*3/4)
	for i, step := range []struct {
		key  string
		want map[string]string
	}{{"ctrl+z", r.sawn}, {"ctrl+z", r.first}, {"ctrl+y", r.sawn}, {"ctrl+y", r.scaled}} {
		from := r.log.mark()
		r.do("key", step.key)
		got := r.await("the figures of step "+strconv.Itoa(i), from, settled)
		if got["kg"] != step.want["kg"] || got["layers"] != step.want["layers"] {
			r.t.Errorf("step %d, %s: %s kg in %s layers, want %s kg in %s", i, step.key, got["kg"], got["layers"], step.want["kg"], step.want["layers"])
		}
	}
}
