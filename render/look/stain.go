package look

import (
	"grainstack/render/tone"
	"grainstack/slicing/geom"
)

// A Stain marks places of the piece's own surface with the accent's colour. It is asked once for every pixel, from several
// goroutines at once.
type Stain interface {
	// At is how strongly a place of the stand (mm, not lifted) is marked, 0 to 1; up is the upright part of the surface's unit
	// normal, from -1 facing down to 1 facing up.
	At(p geom.Vec, up float64) float64
}

// stained is a pixel's light with its mark.
func (d *Dress) stained(c tone.Light, s *sample) tone.Light {
	if s.kind != surface {
		return c
	}
	k := d.Stain.At(geom.Vec{X: float64(s.x), Y: float64(s.y), Z: float64(s.h)}, float64(s.n[2])/packed)
	if !(k > 0) {
		return c
	}
	a := d.Paper.Accent
	mark := tone.FromBytes(a.R, a.G, a.B)
	// The mark takes on the light and the figure of the wood, so that form stays to be seen.
	bright := (c[0] + c[1] + c[2]) / 3
	lit := tone.Light{mark[0] * (0.35 + 1.3*bright), mark[1] * (0.35 + 1.3*bright), mark[2] * (0.35 + 1.3*bright)}
	return c.Lerp(lit, float32(min(k, 1)))
}
