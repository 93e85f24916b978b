package app

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestAPieceIsLetGo: once another piece is on the bench, nothing in the program holds the one before, with its hollow and all
// that was made for pictures of it.
func TestAPieceIsLetGo(t *testing.T) {
	r := newRig(t, job.NewPiece("box", solidtest.Box(60, 50, 40), mesh.Raw{}))
	dir := t.TempDir()
	put := func(name string, m *mesh.Mesh) {
		path := filepath.Join(dir, name+".stl")
		f, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := errors.Join(mesh.WriteSTL(f, m), f.Close()); err != nil {
			t.Fatal(err)
		}
		r.openNow(path)
		r.until("the "+name+" is there", func() bool { return r.bench.Model.Piece.Name == name })
		r.settle()
		r.until("all that follows is there", func() bool { return !r.busy() })
	}
	put("first", solidtest.Ellipsoid(30, 25, 20, 500))
	for _, key := range []fyne.KeyName{fyne.KeyP, fyne.KeyU, fyne.KeyW, fyne.KeyE} { // the shop's sheets, and the layer's again
		r.key(key)
		r.until("the sheet is there", func() bool { return !r.busy() })
		r.win.Canvas().Capture() // paints it
	}
	r.run("keep trial")
	r.until("it is weighed", func() bool { return !r.busy() })
	gone := make(chan struct{})
	runtime.AddCleanup(r.bench.Model.Piece, func(c chan struct{}) { close(c) }, gone)
	put("second", solidtest.Sphere(30, 500))
	r.until("the first piece is let go", func() bool {
		runtime.GC()
		select {
		case <-gone:
			return true
		case <-time.After(20 * time.Millisecond):
			return false
		}
	})
}

// busy reports whether any loop works or an answer waits.
func (r *rig) busy() bool {
	for _, one := range r.workers() {
		if one.Busy() {
			return true
		}
	}
	return len(r.queue) > 0
}
