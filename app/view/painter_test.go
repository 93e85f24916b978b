package view

import (
	"context"
	"image"
	"testing"

	"grainstack/app/picture"
	"grainstack/app/state"
	"grainstack/assets/stocktest"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// While dragging is slow the pictures are smaller; at rest, and where something is picked, they are whole.
func TestSlowDragsAreDrawnSmaller(t *testing.T) {
	c := stocktest.Catalogue(t)
	m := state.NewModel(jobfile.Job{Piece: job.NewPiece("ring", solidtest.Torus(80, 43, 120, 60), mesh.Raw{})}, job.Default(c))
	p := newPainter()
	a := LookAsk{lookOf: lookOf{Model: m, Settings: m.Settings, stock: c, Sight: picture.Sight{Camera: picture.FirstCamera(), Size: image.Pt(200, 160)}, quick: true}}
	width := func() int {
		f, _, err := p.draw(context.Background(), a)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Release()
		return f.Image.Rect.Dx()
	}
	p.slow = true
	if got := width(); got != 150 || !p.slow {
		t.Errorf("dragged slowly: %d wide, want 150", got)
	}
	a.pick.Serial = 1
	if got := width(); got != 200 {
		t.Errorf("picking: %d wide, want 200", got)
	}
	p.slow, a.quick, a.pick.Serial = true, false, 0
	if got := width(); got != 200 {
		t.Errorf("at rest: %d wide, want 200", got)
	}
}
