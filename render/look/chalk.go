package look

import (
	"image/color"
	"math"

	"grainstack/render/tone"
	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
)

// A Chalk is what the maker has marked on the piece: a kind for each of the body's triangles, and the colour of each kind. Without
// kinds, or for another body, it marks nothing.
type Chalk struct {
	Kinds   []chalk.Kind
	Colours [4]color.RGBA // by kind; that of chalk.Unmarked is not used
}

// chalkCover is how much of the wood is hidden under chalk: stripes and form stay to be seen.
const chalkCover = 0.7

// over is a pixel's light with the chalk on it.
func (k *Chalk) over(red, green, blue float32, s *sample) (r, g, b float32) {
	if s.kind != surface || int(s.facet) >= len(k.Kinds) {
		return red, green, blue
	}
	kind := k.Kinds[s.facet]
	if kind == chalk.Unmarked || int(kind) >= len(k.Colours) {
		return red, green, blue
	}
	c := k.Colours[kind]
	mark := tone.FromBytes(c.R, c.G, c.B)
	lit := 0.25 + 1.5*(red+green+blue)/3 // the chalk lies in the same light
	out := tone.Light{red, green, blue}.Lerp(tone.Light{mark[0] * lit, mark[1] * lit, mark[2] * lit}, chalkCover)
	return out[0], out[1], out[2]
}

// Ahead is the direction in the stand's frame that the camera looks along.
func (c Camera) Ahead() geom.Vec {
	se, ce := math.Sincos(c.Elevation)
	sa, ca := math.Sincos(c.Azimuth)
	return geom.Vec{X: -ce * ca, Y: -ce * sa, Z: -se}
}

// PixelsPerMM is the scale of the last picture.
func (r *Renderer) PixelsPerMM() float64 { return r.lens.scale }
