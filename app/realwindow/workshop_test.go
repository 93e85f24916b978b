package realwindow

import (
	"context"
	"encoding/csv"
	"errors"
	"image"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

const (
	laidOut = `what=workshop rev=(?P<rev>\d+) panels=(?P<panels>\d+) parts=(?P<parts>\d+) .*improved=true`
	onPanel = `what=panel rev=\d+ .*stale=false hand=false`
)

// savedJob is a job of a small solid beside its piece.
func savedJob(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	f, err := os.Create(filepath.Join(dir, "pebble.stl"))
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(mesh.WriteSTL(f, solidtest.Stretch(solidtest.Bumpy(55, 20_000), 1, 0.8, 1.1)), f.Close()); err != nil {
		t.Fatal(err)
	}
	c := stocktest.Catalogue(t)
	p, err := job.OpenPiece(context.Background(), f.Name())
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "pebble.grainstack")
	if err := (jobfile.Job{Piece: p, Settings: job.Default(c)}).Save(path, false); err != nil {
		t.Fatal(err)
	}
	return path
}

// A bench is what the steps of the test know of the window with the job.
type bench struct {
	*screen
	job     string
	first   map[string]string
	parts   map[string]image.Rectangle // on the panel sheet, in the window
	board   image.Rectangle
	sheet   image.Rectangle // the pane
	moved   string          // name of the part that was moved
	x, y    float64         // where it was put, mm
	picture image.Image
}

// TestFromLayoutToFiles lays parts out, drags one onto another and sees it refused, drags it to a free place, undoes and redoes
// that, writes the files, saves, and opens the job again: the panel sheet and the figures have to be the same.
func TestFromLayoutToFiles(t *testing.T) {
	tools(t)
	path := savedJob(t)
	b := &bench{screen: newScreen(t, 1280, 800, path), job: path}
	b.open()
	b.refused()
	b.put()
	b.undone()
	b.files()
	b.save()
	b.leave()
	orderly(t, b.log.lines(0))
	b.again()
}

// open waits for the layout and brings the panel sheet to the front.
func (b *bench) open() {
	b.t.Helper()
	b.await("settled figures", 0, settled)
	b.await("what the cutters reach", 0, reached)
	b.first = b.await("the layout", 0, laidOut)
	if number(b.t, b.first["parts"]) < 5 {
		b.t.Fatalf("the layout has %s parts", b.first["parts"])
	}
	from := b.log.mark()
	for _, key := range []string{"Up", "Up", "Up", "Down", "w", "u", "Right", "Right", "p", "Down", "Down"} { // layers and the other sheets on the way
		b.do("mousemove", "640", "790", "key", key)
		b.still()
	}
	b.await("the saw plan", from, `what=saw .*at=1 stale=false`)
	b.await("a step of the glue-up", from, `what=glue .*stale=false`)
	b.await("the panel sheet", from, onPanel)
	b.sheet = b.place("pane", "panel sheet", from)
	b.look(from)
}

// look reads where the parts lie.
func (b *bench) look(from int) {
	b.t.Helper()
	b.board = b.place("board", "1", from)
	b.parts = map[string]image.Rectangle{}
	re := regexp.MustCompile(`what=part name="([^"]+)"`)
	for _, l := range b.log.lines(from) {
		if m := re.FindStringSubmatch(l); m != nil {
			b.parts[m[1]] = b.place("part", m[1], from)
		}
	}
	if len(b.parts) < 3 {
		b.t.Fatalf("only %d parts lie on the first panel", len(b.parts))
	}
}

// carry drags from one place to another in steps; in a single one it is nowhere on the way.
func (b *bench) carry(from, to image.Point, steps int) {
	b.t.Helper()
	b.do("mousemove", strconv.Itoa(from.X), strconv.Itoa(from.Y), "mousedown", "1")
	for i := 1; i <= steps; i++ {
		at := from.Add(to.Sub(from).Mul(i).Div(steps))
		b.do("mousemove", strconv.Itoa(at.X), strconv.Itoa(at.Y))
	}
}

// refused carries the largest part onto the next: it is red, what is in the way is named, and nothing is put.
func (b *bench) refused() {
	b.t.Helper()
	var onto string
	for name, r := range b.parts {
		if b.moved == "" || r.Dx()*r.Dy() > b.parts[b.moved].Dx()*b.parts[b.moved].Dy() {
			b.moved = name
		}
	}
	for name := range b.parts {
		if name != b.moved {
			onto = name
		}
	}
	b.still()
	before := b.shot()
	from := b.log.mark()
	b.carry(middleOf(b.parts[b.moved]), middleOf(b.parts[onto]), 1) // a free place that is seen on the way would be taken instead
	b.do("mousemove_relative", "1", "0")
	b.await("the part held over another", from, `what=panel .*hand=true clash=[1-9]`)
	b.still()
	if n := reds(b.shot(), b.sheet) - reds(before, b.sheet); n < 60 {
		b.t.Errorf("the collision is drawn with %d red pixels", n)
	}
	b.do("mouseup", "1")
	b.await("that it is refused", from, `what=refused hits=[1-9]`)
	b.await("the sheet without anything in the hand", from, onPanel)
	b.still()
	for _, l := range b.log.lines(from) {
		if strings.Contains(l, "what=put") {
			b.t.Errorf("what was refused is put: %s", l)
		}
	}
}

// reds is how many pixels of an area are in the one red.
func reds(a image.Image, area image.Rectangle) (n int) {
	for y := area.Min.Y; y < area.Max.Y; y++ {
		for x := area.Min.X; x < area.Max.X; x++ {
			if r, g, bl, _ := a.At(x, y).RGBA(); r>>8 > 140 && g>>8 < 90 && bl>>8 < 90 {
				n++
			}
		}
	}
	return n
}

// free is a place for the middle of the moved part where it keeps well away from the others.
func (b *bench) free() image.Point {
	own := b.parts[b.moved]
	const away = 12
	best := image.Point{}
	for y := b.board.Min.Y + own.Dy()/2 + away; y < b.board.Max.Y-own.Dy()/2-away; y += 3 {
		for x := b.board.Min.X + own.Dx()/2 + away; x < b.board.Max.X-own.Dx()/2-away; x += 3 {
			at := own.Add(image.Pt(x, y).Sub(middleOf(own))).Inset(-away)
			clear := !at.Overlaps(own)
			for name, r := range b.parts {
				clear = clear && (name == b.moved || !at.Overlaps(r))
			}
			middle := (b.board.Min.Y + b.board.Max.Y) / 2 // the register dowels stand at the ends of that line
			if clear && (at.Max.Y < middle || at.Min.Y > middle || at.Min.X > b.board.Min.X+20 && at.Max.X < b.board.Max.X-20) {
				best = image.Pt(x, y)
			}
		}
	}
	return best
}

// put carries the part to a free place.
func (b *bench) put() {
	b.t.Helper()
	to := b.free()
	if to == (image.Point{}) {
		b.t.Fatal("there is no free place on the panel")
	}
	from := b.log.mark()
	b.carry(middleOf(b.parts[b.moved]), to, 12)
	b.await("the part held where it may lie", from, `what=panel .*hand=true clash=0`)
	b.do("mouseup", "1")
	got := b.await("that it is put there", from, `what=put name="moved part" x=(?P<x>[-\d.]+) y=(?P<y>[-\d.]+)`)
	b.x, b.y = number(b.t, got["x"]), number(b.t, got["y"])
	b.await("the layout with it", from, laidOut)
	b.await("its sheet", from, onPanel)
}

// undone takes the move back and makes it again.
func (b *bench) undone() {
	b.t.Helper()
	b.still()
	put := b.shot()
	for i, key := range []string{"ctrl+z", "ctrl+y"} {
		from := b.log.mark()
		b.do("key", key)
		b.await("the layout", from, laidOut)
		b.await("its sheet", from, onPanel)
		b.still()
		d := differs(put, b.shot(), b.sheet.Inset(4))
		if i == 0 && d < 0.01 {
			b.t.Errorf("undone, the sheet differs in %.4f of its pixels only", d)
		}
		if i == 1 && d > 0 {
			b.t.Errorf("done again, the sheet differs in %.4f of its pixels", d)
		}
	}
}

// files writes everything into a folder, and looks there for the part that was moved.
func (b *bench) files() {
	b.t.Helper()
	from := b.log.mark()
	b.do("mousemove", "640", "790", "key", "ctrl+m")
	field, write := b.place("field", "folder", from), b.place("button", "Write files", from)
	dir := filepath.Join(filepath.Dir(b.job), "out")
	b.click(field.Min.X+40, middleOf(field).Y)
	b.do("key", "ctrl+a", "type", dir)
	b.still()
	from = b.log.mark()
	b.click(middleOf(write).X, middleOf(write).Y)
	made := b.await("the files", from, `what=made files=(?P<n>\d+) bytes=\d+`)
	n := 0
	filepath.WalkDir(dir, func(_ string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			n++
		}
		return err
	})
	if want := int(number(b.t, made["n"])); n != want+1 { // and their list
		b.t.Errorf("%d files are in the folder, %d were written and listed in one more", n, want)
	}
	b.inList(filepath.Join(dir, "lists", "parts.csv"))
	b.do("key", "Escape")
}

// inList looks whether a list of parts has the moved part where it was put.
func (b *bench) inList(path string) {
	b.t.Helper()
	f, err := os.Open(path)
	if err != nil {
		b.t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		b.t.Fatal(err)
	}
	for _, row := range rows[1:] {
		if "layer "+row[0]+", part "+row[1] == b.moved {
			// The list has the part's middle, the window where the stack's axis was put: in a pebble they lie within a mm.
			if x, y := number(b.t, row[3]), number(b.t, row[4]); math.Hypot(x-b.x, y-b.y) > 1 {
				b.t.Errorf("%s lies at %.2f, %.2f by the list, and was put at %.1f, %.1f", b.moved, x, y, b.x, b.y)
			}
			return
		}
	}
	b.t.Errorf("%s is not in %s", b.moved, path)
}

func (b *bench) save() {
	b.t.Helper()
	b.do("mousemove", "640", "790")
	b.still()
	b.picture = b.shot()
	from := b.log.mark()
	b.do("key", "ctrl+s")
	b.await("that the job is saved", from, `what=saved`)
}

// again opens the job in another window.
func (b *bench) again() {
	b.t.Helper()
	was := b.await("the figures of before", 0, settled)
	b.screen = newScreen(b.t, 1280, 800, b.job)
	now := b.await("settled figures", 0, settled)
	if was["kg"] != now["kg"] || was["layers"] != now["layers"] {
		b.t.Errorf("opened again it has %s layers and %s kg, before %s and %s", now["layers"], now["kg"], was["layers"], was["kg"])
	}
	b.await("what the cutters reach", 0, reached)
	b.await("the layout", 0, laidOut)
	from := b.log.mark()
	b.do("mousemove", "640", "790", "key", "p")
	b.await("the panel sheet", from, onPanel)
	b.still()
	from = b.log.mark()
	layer := regexp.MustCompile(`\d+`).FindString(b.moved)
	for range int(number(b.t, layer)) - 1 {
		b.do("key", "Up") // the part that was moved is picked in the other window
	}
	b.still()
	b.do("mousemove", "640", "790")
	if d := differs(b.picture, b.shot(), b.board.Inset(-12)); d > 0 {
		b.t.Errorf("opened again, the panel sheet differs in %.5f of its pixels", d)
	}
	b.leave()
}
