package app

import (
	"bytes"
	"context"
	"io/fs"
	"reflect"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"grainstack/assets"
	"grainstack/assets/stocktest"
	"grainstack/render/draw"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// A rig is a window on the toolkit's test driver. Posted functions wait in a queue until the test takes them, so that all of
// the window stays on one goroutine.
type rig struct {
	*window
	t     testing.TB
	queue chan func()
	log   bytes.Buffer
}

// newRig opens a window on a piece and waits for its settled figures.
func newRig(t testing.TB, p *job.Piece) *rig {
	t.Helper()
	r := &rig{t: t, queue: make(chan func(), 1000)}
	r.lay(p, func(_ string, f func()) { r.queue <- f })
	r.until("the piece is there", func() bool { return r.bench.Model != nil && r.bench.Model.Piece == p })
	if p.Solid() {
		r.settle()
	} else {
		r.until("figures are withheld", func() bool { return r.bench.Figures != nil && r.sheet.Frame() != nil })
	}
	return r
}

// lay opens the window and tells it to open a piece.
func (r *rig) lay(p *job.Piece, post func(work string, f func())) {
	t := r.t
	t.Helper()
	c := stocktest.Catalogue(t)
	letters, err := draw.LoadLetters(fs.FS(assets.FS))
	if err != nil {
		t.Fatal(err)
	}
	o := Options{Catalogue: c, Assets: fs.FS(assets.FS), Trace: true, Log: &r.log,
		Piece: func(context.Context) (*job.Piece, error) { return p, nil }}
	r.window = newWindow(test.NewTempApp(t), o, letters, post)
	t.Cleanup(r.close)
	r.win.Resize(fyne.NewSize(1280, 800))
	r.begin()
}

// close ends all work and lets go of what the window holds. The toolkit's test driver keeps whatever it has drawn for the whole
// run, and each widget knows its window with the piece, its hollow and its pictures: what is on show is taken from it one by
// one, and what is not finds an empty window, empty tasks and empty pictures.
func (r *rig) close() {
	r.stopAll()
	for _, one := range r.workers() {
		one.Wait()
	}
	r.drain() // what has ended meanwhile is not shown
	if t, ok := r.t.(*testing.T); ok {
		drawn := append(r.win.Canvas().Overlays().List(), r.win.Content(), r.look, r.sheet, r.stick, r.panels, r.glueUp, r.saws, r.compass, r.plan)
		for _, o := range drawn {
			forgetDrawn(t, o)
		}
	}
	r.win.Close()
	for _, pictures := range r.drawers {
		reflect.ValueOf(pictures).Elem().SetZero()
	}
	*r.tasks = tasks{}
	*r.core = core{poster: poster{send: func(string, func()) {}}} // a timer may be under way
	*r.window = window{core: r.core}
}

// forgetDrawn has the toolkit forget, as soon as the test has ended, how it drew an object and all within it.
func forgetDrawn(t *testing.T, o fyne.CanvasObject) {
	var within []fyne.CanvasObject
	switch o := o.(type) {
	case *fyne.Container:
		within = o.Objects
	case fyne.Widget:
		within = test.TempWidgetRenderer(t, o).Objects()
	}
	for _, one := range within {
		forgetDrawn(t, one)
	}
}

// patience is how long a rig waits for what will never be: long enough for a machine that is busy with other work.
const patience = 3 * time.Minute

// until works the queue off until something is so.
func (r *rig) until(what string, so func() bool) {
	r.t.Helper()
	late := time.After(patience)
	for !so() {
		select {
		case f := <-r.queue:
			f()
		case <-time.After(5 * time.Millisecond): // a loop may have come to rest without a word
		case <-late:
			r.t.Fatalf("waited in vain: %s; margin says %q, %q", what, r.margin.words.Text(), r.bench.Figured.Fault)
		}
	}
}

// drain works off what is in the queue.
func (r *rig) drain() {
	for {
		select {
		case f := <-r.queue:
			f()
		default:
			return
		}
	}
}

// settle waits for settled figures of the present settings, with the hollow, and for the pictures.
func (r *rig) settle() {
	r.t.Helper()
	r.until("settled figures", func() bool {
		return !r.bench.Stale() && r.bench.Figures.Settled && r.bench.Figures.CoreKnown &&
			!r.look.Drawing() && !r.look.Busy() && !r.sheet.Busy() && !r.stick.Busy() && len(r.queue) == 0
	})
}

func ring() *job.Piece {
	return job.NewPiece("ring", solidtest.Torus(80, 43, 120, 60), mesh.Raw{})
}

func bowl() *job.Piece {
	m := solidtest.Sphere(50, 4000)
	return job.NewPiece("bowl", &mesh.Mesh{Points: m.Points, Triangles: m.Triangles[:len(m.Triangles)-90]}, mesh.Raw{})
}

// wall sets the wall as its rule does.
func (r *rig) wall(mm float64) {
	r.Do("wall", func(s job.Settings) job.Settings { s.Wall = mm; return s })
}
