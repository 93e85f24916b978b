package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
)

// TestWhatOfAScanIsUsed: a scan is cut on a page of its own, which shows what is left; cuts are turned round and taken back, one that
// leaves nothing too; the piece is joined anew with what is left, and undo brings the whole scan back.
func TestWhatOfAScanIsUsed(t *testing.T) {
	files := scanFiles(t, 3)
	r := newRig(t, ring())
	r.openScans(files)
	r.joinedOf(3)
	whole := r.bench.Model.Piece.Joined
	r.cutScan(2)
	p := r.cutting
	shown := func(cuts int) int {
		t.Helper()
		r.until("the scan is shown", func() bool {
			return p.side.bench.Model != nil && len(p.shown) == cuts && len(p.source.Cuts) == cuts && p.side.look.Frame() != nil
		})
		return len(p.side.bench.Model.Piece.Mesh.Triangles)
	}
	all := shown(0)
	middle := p.side.bench.Model.Piece.Mesh.Box().Center()
	at := func(points ...geom.Vec) {
		for i := range points {
			points[i] = points[i].Add(middle)
		}
		p.side.set(points)
		p.show()
	}
	at(geom.Vec{}, geom.Vec{X: 9}, geom.Vec{X: 18})
	test.Tap(p.plane)
	if !strings.Contains(p.said.Text, "in a line") || len(p.source.Cuts) != 0 {
		t.Errorf("three places on a line: %q", p.said.Text)
	}
	at(geom.Vec{}, geom.Vec{X: 9}, geom.Vec{Y: 9})
	test.Tap(p.plane)
	front := shown(1)
	test.Tap(p.other)
	r.until("the other side is shown", func() bool { return len(p.shown) == 1 && p.shown[0].Away })
	if behind := shown(1); front <= 0 || behind <= 0 || front+behind != all {
		t.Errorf("of %d facets the sides of a plane have %d and %d", all, front, behind)
	}
	test.Tap(p.back)
	if shown(0) != all {
		t.Error("the cut is not taken back")
	}
	at(geom.Vec{X: -1e3, Y: -1e3, Z: -1e3}, geom.Vec{X: 1e3, Y: 1e3, Z: 1e3})
	test.Tap(p.box)
	r.until("it is refused", func() bool { return strings.Contains(p.said.Text, "nothing is left") })
	if len(p.source.Cuts) != 0 {
		t.Error("a cut that leaves nothing stays")
	}
	at(geom.Vec{X: 15, Y: -1e3, Z: -1e3}, geom.Vec{X: 1e3, Y: 1e3, Z: 1e3})
	test.Tap(p.box)
	if left := shown(1); left >= all {
		t.Errorf("of %d facets a box leaves %d", all, left)
	}
	p.side.marks = true
	size := p.side.look.Size()
	from, to := fyne.NewPos(size.Width*0.4, size.Height/2), fyne.NewPos(size.Width*0.6, size.Height/2)
	for x := from.X; x < to.X; x += 6 {
		p.side.look.Brushed(fyne.NewPos(x, from.Y), fyne.NewPos(x+6, from.Y))
	}
	p.side.look.Rested()
	r.until("it is marked", func() bool { return p.side.chalk().Has(chalk.DontCare) && !p.side.look.Stroke.Down })
	before := len(p.side.bench.Model.Piece.Mesh.Triangles)
	test.Tap(p.chalk)
	if left := shown(2); left >= before || left < before/2 {
		t.Errorf("of %d facets the chalk leaves %d", before, left)
	}
	test.Tap(p.use)
	r.until("it is joined anew", func() bool { return r.bench.UndoName() == "cut scan-c.stl" })
	j := r.bench.Model.Piece.Joined
	if n, of := len(j.Set.Scans[2].Cloud.Points), len(whole.Set.Scans[2].Cloud.Points); n >= of || len(r.pages) != 0 || r.cutting != nil {
		t.Errorf("of %d points %d are used", of, n)
	}
	r.run("undo")
	r.drain()
	if r.bench.Model.Piece.Joined != whole {
		t.Error("undo does not bring the whole scan back")
	}
}

// TestOneScanIsCut: a piece of one scan is cut on the same page; undo brings the whole scan back, and the job keeps the cut.
func TestOneScanIsCut(t *testing.T) {
	file := scanFiles(t, 1)[0]
	r := newRig(t, ring())
	r.openNow(file)
	r.until("it is on the bench", func() bool { return r.bench.Model != nil && r.bench.Model.Piece.File == file })
	whole := len(r.bench.Model.Piece.Scan.Mesh.Triangles)
	r.cutScan(0)
	p := r.cutting
	r.until("the scan is shown", func() bool { return p.side.bench.Model != nil && p.side.look.Frame() != nil })
	test.Tap(p.use)
	if r.bench.Model.Piece.Joined != nil || r.bench.UndoName() != "" || r.cutting != nil {
		t.Fatal("nothing was cut, and something is done")
	}
	r.cutScan(0)
	p = r.cutting
	r.until("the scan is shown again", func() bool { return p.side.bench.Model != nil })
	middle := p.side.bench.Model.Piece.Mesh.Box().Center()
	p.side.set([]geom.Vec{middle.Add(geom.Vec{X: -1e3, Y: -1e3, Z: -1e3}), middle.Add(geom.Vec{X: 1e3, Y: 1e3, Z: 0})})
	p.show()
	test.Tap(p.box)
	r.until("the cut is shown", func() bool { return len(p.shown) == 1 })
	left := len(p.side.bench.Model.Piece.Mesh.Triangles)
	test.Tap(p.use)
	r.until("the piece is cut", func() bool { return r.bench.Model.Piece.Joined != nil })
	if n := len(r.bench.Model.Piece.Scan.Mesh.Triangles); n != left || n >= whole || len(r.pages) != 0 {
		t.Errorf("of %d facets %d are on the bench, %d were shown", whole, n, left)
	}
	r.run("undo")
	r.until("all of it is back", func() bool { return r.bench.Model.Piece.Joined == nil })
	if n := len(r.bench.Model.Piece.Scan.Mesh.Triangles); n != whole {
		t.Errorf("undone, %d of %d facets are there", n, whole)
	}
}
