package frame

import (
	"image"
	"sync"
)

// kept is how many pictures go round: one on the screen, one waiting, one in the making.
const kept = 3

// A Frame is one finished picture. Whoever holds it may read it until Release is called; nobody writes to it meanwhile.
type Frame struct {
	Image *image.RGBA
	home  *Pool
}

// Release gives the picture back to be drawn over. Call it once, after a newer one has been shown; later calls and calls on
// a nil frame do nothing.
func (f *Frame) Release() {
	if f == nil || f.home == nil {
		return
	}
	home := f.home
	f.home = nil
	home.put(f.Image)
}

// A Pool hands out pictures and takes them back. The zero value is ready; all methods are safe from any goroutine.
type Pool struct {
	mu   sync.Mutex
	free []*image.RGBA
}

// Get returns a picture of the size asked for, a used one where there is one. Its pixels are whatever was drawn before:
// the caller writes all of them. Sizes below one pixel become one. It never waits.
func (p *Pool) Get(size image.Point) *Frame {
	size.X, size.Y = max(size.X, 1), max(size.Y, 1)
	p.mu.Lock()
	defer p.mu.Unlock()
	for len(p.free) > 0 {
		last := len(p.free) - 1
		img := p.free[last]
		p.free = p.free[:last]
		if img.Rect.Size() == size {
			return &Frame{img, p}
		}
	}
	return &Frame{image.NewRGBA(image.Rectangle{Max: size}), p}
}

func (p *Pool) put(img *image.RGBA) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if len(p.free) < kept {
		p.free = append(p.free, img)
	}
}
