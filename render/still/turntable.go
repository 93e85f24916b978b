package still

import (
	"context"
	"fmt"
	"image"
	"math"

	"grainstack/render/look"
)

// MostFrames bounds a turntable.
const MostFrames = 360

// A Turntable is a scene seen from so many directions, evenly round the stack axis from the view's own. The light stays with
// the viewer, as if the piece were turned. It is used by one goroutine at a time.
type Turntable struct {
	scene  Scene
	frames int
	r      *look.Renderer
}

// NewTurntable checks the count and the size and draws nothing yet.
func NewTurntable(s Scene, frames int) (*Turntable, error) {
	if frames < 1 || frames > MostFrames {
		return nil, fmt.Errorf("a turntable has from 1 to %d pictures, not %d", MostFrames, frames)
	}
	if err := checkSize(s.View.Size); err != nil {
		return nil, err
	}
	return &Turntable{s, frames, look.NewRenderer()}, nil
}

// Frames is how many pictures there are.
func (t *Turntable) Frames() int { return t.frames }

// Frame draws the i-th picture, from 0, in package look's settled quality. The caller may keep it.
func (t *Turntable) Frame(ctx context.Context, i int) (*image.RGBA, error) {
	v := t.scene.View
	v.Azimuth -= 2 * math.Pi * float64(i) / float64(t.frames)
	f, err := t.r.Fine(ctx, t.scene.Body, v, t.scene.Dress)
	if err != nil {
		return nil, err
	}
	return f.Image, nil
}
