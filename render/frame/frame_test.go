package frame

import (
	"image"
	"sync"
	"testing"
)

func TestFramesAreTight(t *testing.T) {
	var p Pool
	for _, size := range []image.Point{{1, 1}, {7, 3}, {0, -4}, {900, 700}} {
		img := p.Get(size).Image
		want := image.Pt(max(size.X, 1), max(size.Y, 1))
		if img.Rect.Size() != want || img.Rect.Min != (image.Point{}) || img.Stride != 4*want.X || len(img.Pix) != 4*want.X*want.Y {
			t.Errorf("size %v: got rectangle %v, stride %d, %d bytes", size, img.Rect, img.Stride, len(img.Pix))
		}
	}
}

func TestPoolReusesOnlyWhatWasReleased(t *testing.T) {
	var p Pool
	size := image.Pt(8, 8)
	a, b := p.Get(size), p.Get(size)
	if a.Image == b.Image {
		t.Fatal("two holders got the same picture")
	}
	first := a.Image
	a.Release()
	a.Release()
	if c := p.Get(size); c.Image != first {
		t.Error("a released picture was not used again")
	}
	if d := p.Get(size); d.Image == first || d.Image == b.Image {
		t.Error("a second release handed one picture to two holders")
	}
}

func TestPoolForgetsOtherSizes(t *testing.T) {
	var p Pool
	p.Get(image.Pt(4, 4)).Release()
	if got := p.Get(image.Pt(5, 4)).Image.Rect.Size(); got != image.Pt(5, 4) {
		t.Errorf("got a picture of %v, want 5 x 4", got)
	}
	var none *Frame
	none.Release()
}

func TestPoolFromManyGoroutines(t *testing.T) {
	var p Pool
	var all sync.WaitGroup
	for g := range 4 {
		all.Go(func() {
			for range 200 {
				f := p.Get(image.Pt(3, 3))
				f.Image.Pix[0] = byte(g)
				if f.Image.Pix[0] != byte(g) {
					t.Error("another goroutine drew into this picture")
				}
				f.Release()
			}
		})
	}
	all.Wait()
	if len(p.free) > kept {
		t.Errorf("%d pictures kept, want at most %d", len(p.free), kept)
	}
}
