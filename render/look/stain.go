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

// A mark is hatched with pale strokes, hatchWide of every hatchEvery pixels: on dark wood its red alone is told from the
// brown by no eye that sees no red.
const (
	hatchEvery = 8
	hatchWide  = 2
)

// pale is the tone of the hatching, on light and dark paper alike.
var pale = tone.FromBytes(0xfb, 0xf8, 0xf1)

// stained is a pixel's light with its mark; on a stroke of the hatching that is pale.
func (d *Dress) stained(c tone.Light, s *sample, stroke bool) tone.Light {
	if s.kind != surface {
		return c
	}
	k := d.Stain.At(geom.Vec{X: float64(s.x), Y: float64(s.y), Z: float64(s.h)}, float64(s.n[2])/packed)
	if !(k > 0) {
		return c
	}
	mark := pale
	if !stroke {
		mark = tone.FromBytes(d.Paper.Accent.R, d.Paper.Accent.G, d.Paper.Accent.B)
	}
	// The mark takes on the light and the figure of the wood, so that form stays to be seen.
	bright := (c[0] + c[1] + c[2]) / 3
	lit := tone.Light{mark[0] * (0.35 + 1.3*bright), mark[1] * (0.35 + 1.3*bright), mark[2] * (0.35 + 1.3*bright)}
	return c.Lerp(lit, float32(min(k, 1)))
}
