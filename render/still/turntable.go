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

// Turn draws the scene from frames directions, evenly round the stack axis from the view's own, and gives them one by one, in
// order, to keep, which may hold on to the picture. The light stays with the viewer, as if the piece stood on a turntable.
func Turn(ctx context.Context, s Scene, frames int, keep func(i int, img *image.RGBA) error) error {
	if frames < 1 || frames > MostFrames {
		return fmt.Errorf("a turntable has from 1 to %d pictures, not %d", MostFrames, frames)
	}
	r := look.NewRenderer()
	for i := range frames {
		v := s.View
		v.Azimuth -= 2 * math.Pi * float64(i) / float64(frames)
		f, err := r.Fine(ctx, s.Body, v, s.Dress)
		if err != nil {
			return err
		}
		if err := keep(i, f.Image); err != nil {
			return err
		}
	}
	return nil
}
