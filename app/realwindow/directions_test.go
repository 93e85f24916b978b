package realwindow

import (
	"errors"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

const (
	bearings = `what=directions bearings=(?P<n>\d+)`
	ticketed = `what=ticket rev=(?P<rev>\d+) .*layers=(?P<layers>\d+) .*settled=true`
	turned   = `what=look rev=(?P<rev>\d+) .*how=%s .*turn=(?P<turn>[-\d.,]+) `
)

var directionsEnd = regexp.MustCompile(bearings)

// asItStands is a line of the log that tells how the piece is turned on a picture of a kind.
func asItStands(how string) string { return fmt.Sprintf(turned, how) }

// leaningRod is a rod that leans in its file: lying it has far fewer layers.
func leaningRod(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "rod.stl")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	rod := solidtest.Turned(solidtest.Frustum(22, 16, 130, 32), geom.TurnXYZ(15, 10, 0))
	if err := errors.Join(mesh.WriteSTL(f, rod), f.Close()); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestAnotherDirection runs the map, sees the piece follow the pointer over it, takes the best direction, and undoes that; a
// second run is called off.
func TestAnotherDirection(t *testing.T) {
	tools(t)
	s := newScreen(t, 1280, 800, leaningRod(t))
	first := s.await("settled figures", 0, ticketed)
	s.await("what the cutters reach", 0, reached)
	s.do("mousemove", "640", "790")
	from := s.log.mark()
	s.do("key", "o")
	look, disc := s.place("pane", "finished piece", from), s.place("pane", "directions", from)
	compare := s.place("button", "Compare", from)
	from = s.log.mark()
	s.click(middleOf(compare).X, middleOf(compare).Y)
	s.await("first directions", from, `what=compass .*bearings=[1-9]\d* busy=true`)
	found := s.await("all directions", from, bearings)
	if number(t, found["n"]) < 300 {
		t.Errorf("%s directions were looked at", found["n"])
	}
	best := s.place("spot", "1", from)
	s.still()
	before := s.shot()
	if got := colours(before, disc); got < 20 {
		t.Errorf("the map holds %d colours", got)
	}

	from = s.log.mark()
	s.do("mousemove", strconv.Itoa(best.Min.X), strconv.Itoa(best.Min.Y))
	shown := s.await("the piece as it would stand", from, asItStands("fine"))
	if shown["turn"] == "0.0,0.0,0.0" || shown["rev"] != first["rev"] {
		t.Errorf("under the pointer the piece is turned by %s, revision %s", shown["turn"], shown["rev"])
	}
	s.still()
	if d := differs(before, s.shot(), look.Inset(4)); d < 0.02 {
		t.Errorf("under the pointer %.4f of the look's pixels changed", d)
	}

	from = s.log.mark()
	s.do("click", "1")
	s.await("the stand taken", from, `what=taken `)
	taken := s.await("its settled figures", from, ticketed)
	if number(t, taken["layers"]) > number(t, first["layers"])-3 {
		t.Errorf("the best direction has %s layers, before there were %s", taken["layers"], first["layers"])
	}

	from = s.log.mark()
	s.do("mousemove", "640", "790", "key", "ctrl+z")
	back := s.await("the figures after undo", from, ticketed)
	// the picture of before may have been on its way
	if again := s.await("the picture after undo", from, strings.Replace(asItStands("fine"), `(?P<rev>\d+)`, back["rev"], 1)); strings.ReplaceAll(again["turn"], "-0.0", "0.0") != "0.0,0.0,0.0" || back["layers"] != first["layers"] {
		t.Errorf("after undo the piece is turned by %s and has %s layers, before %s", again["turn"], back["layers"], first["layers"])
	}
	s.still()
	if d := differs(before, s.shot(), look.Inset(4)); d > 0.002 {
		t.Errorf("after undo %.4f of the look's pixels differ from before", d)
	}
	s.calledOff(disc)
	s.leave()
	orderly(t, s.log.lines(0))
}

// calledOff begins again and leaves it: what has been found stays.
func (s *screen) calledOff(disc image.Rectangle) {
	s.t.Helper()
	from := s.log.mark()
	s.do("key", "e", "key", "o")
	again := s.place("button", "Compare again", from)
	from = s.log.mark()
	s.click(middleOf(again).X, middleOf(again).Y)
	s.await("first directions again", from, `what=compass .*bearings=[1-9]\d* busy=true`)
	s.do("mousemove", "640", "790", "key", "Escape")
	s.await("work called off", from, `what=off`) // where no more was found meanwhile the map is drawn already
	s.still()
	if got := colours(s.shot(), disc); got < 5 {
		s.t.Errorf("after the comparison was called off the map holds %d colours", got)
	}
	for _, l := range s.log.lines(from) {
		if m := directionsEnd.FindString(l); m != "" {
			s.t.Errorf("the comparison went on to its end: %s", l)
		}
	}
}
