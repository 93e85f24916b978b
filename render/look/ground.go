package look

import (
	"math"

	"grainstack/render/tone"
	"grainstack/slicing/geom"
)

// A groundPainter paints floor and plinth.
type groundPainter struct {
	footing
	r           *Renderer
	light       *lighting
	floor, wood tone.Light // what floor and plinth throw back
	back        geom.Vec   // level, away from the viewer
	pool        float64    // radius in mm of a spot's pool of light, 0 for none
	away        geom.Vec2  // where shadows fall, in parts of the height
	dark        float64    // how much of a shadow is wanted
	stride      int        // pixels of a row that share one look: two in a quick picture
	up, wall    Lit        // on level ground and on the wall behind, with nothing in the way
}

func newGroundPainter(r *Renderer, d *Dress, light *lighting, stride int) *groundPainter {
	c := d.Paper
	g := &groundPainter{
		footing: r.footing, r: r, light: light, stride: stride, dark: min(1, max(0, c.Shadow)),
		floor: tone.FromBytes(c.Bottom.R, c.Bottom.G, c.Bottom.B).Lerp(tone.Light{1, 1, 1}, 0.02),
		wood:  tone.FromBytes(c.Top.R, c.Top.G, c.Top.B).Lerp(tone.Light{1, 1, 1}, 0.18),
		back:  geom.Vec{X: r.lens.ahead.X, Y: r.lens.ahead.Y}.Unit(),
		away:  r.shadow.away(r),
	}
	if d.Light == Spot {
		g.pool = 2.6 * g.radius
	}
	n := short(g.back.Scale(-1))
	g.up, g.wall = light.on(0, 0, 1, farUp, 1), light.on(n.x, n.y, n.z, farUp, 1)
	return g
}

// run fills pixels from..to of one row.
func (g *groundPainter) run(pix []uint8, y, from, to int) {
	noise := dither[4*(y&3) : 4*(y&3)+4]
	for x := from; x < to; x += g.stride {
		s := g.meet(&g.r.lens, float64(x)+0.5, float64(y)+0.5)
		c := g.colour(&s, g.lit(&s), g.wall)
		// Dithered as light: half a step of the screen in its middle tones.
		root := float32(math.Sqrt(float64(c[1]))) * (1.0 / 180)
		for i := x; i < min(x+g.stride, to); i++ {
			n := (noise[i&3] - 0.5) * root
			o := pix[4*i : 4*i+4 : 4*i+4]
			o[0], o[1], o[2], o[3] = tone.Byte(c[0]+n), tone.Byte(c[1]+n), tone.Byte(c[2]+n), 255
		}
	}
}

// farUp is a height in mm where the floor's light has come up in full.
const farUp = 1e6

// lit is the light on a place of the ground, its soft shadows included.
func (g *groundPainter) lit(s *groundSpot) Lit {
	if s.part == plinthSide {
		return g.light.on(s.n.x, s.n.y, s.n.z, float32(s.p.Z-g.low), 1)
	}
	l := g.up
	light := 1 - g.dark*float64(g.cast(s.p))
	if s.part == theFloor && g.low < 0 {
		light *= 1 - g.dark*g.plinthShade(s.p)
	}
	k := float32(light)
	l.Red, l.Green, l.Blue = l.Red*k, l.Green*k, l.Blue*k
	return l
}

// cast is the piece's shadow; it lies on the plinth as it does on a floor, and reaches farther on the floor below.
func (g *groundPainter) cast(p geom.Vec) float32 {
	s := &g.r.shadow
	if !s.on {
		return 0
	}
	x := (p.X + g.away.X*p.Z*0.3 - s.low.X) / s.side
	y := (p.Y + g.away.Y*p.Z*0.3 - s.low.Y) / s.side
	return s.at(float32(x-0.5), float32(y-0.5))
}

// plinthShade is the plinth's own soft shadow beside it on the floor.
func (g *groundPainter) plinthShade(p geom.Vec) float64 {
	high := -g.low
	off := func(carry float64) float64 { // squared distance from the plinth's outline, moved along with the shadow
		x, y := p.X-g.away.X*carry, p.Y-g.away.Y*carry
		dx := max(g.from.X-x, 0, x-g.to.X)
		dy := max(g.from.Y-y, 0, y-g.to.Y)
		return dx*dx + dy*dy
	}
	near, thrown := off(0)/(0.30*high*high), off(0.5*high)/(0.9*high*high)
	return 0.42*bell(near) + 0.34*bell(thrown)
}

// bell falls from 1 at 0 towards nothing, much as the exponential of -x does.
func bell(x float64) float64 {
	y := 1 + x*(0.5+0.125*x)
	return 1 / (y * y)
}

// colour is what a place of the ground sends to the viewer under the light on it. The floor runs up into a wall far behind
// the piece, on which there is another light, and a spot's pool of light ends.
func (g *groundPainter) colour(s *groundSpot, l, wall Lit) tone.Light {
	c := g.floor
	if s.part != theFloor {
		c = g.wood
	}
	c = tone.Light{c[0] * l.Red, c[1] * l.Green, c[2] * l.Blue}
	p := s.p.Sub(g.r.lens.target)
	if s.part == theFloor {
		if far := smooth(1.4*g.radius, 5*g.radius, p.Dot(g.back)); far > 0 {
			c = c.Lerp(tone.Light{g.floor[0] * wall.Red, g.floor[1] * wall.Green, g.floor[2] * wall.Blue}, float32(far))
		}
	}
	if g.pool > 0 {
		k := float32(0.16 + 0.84*bell((p.X*p.X+p.Y*p.Y)/(g.pool*g.pool)))
		c = tone.Light{c[0] * k, c[1] * k, c[2] * k}
	}
	return c
}

// smooth rises from 0 at a to 1 at b without an edge.
func smooth(a, b, x float64) float64 {
	t := max(0, min(1, (x-a)/(b-a)))
	return t * t * (3 - 2*t)
}
