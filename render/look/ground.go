package look

import (
	"math"

	"grainstack/render/tone"
	"grainstack/slicing/geom"
)

// A Ground is what the piece stands on.
type Ground uint8

const (
	OnPaper  Ground = iota // the sheet alone, with a shadow
	OnFloor                // a matt floor that runs up behind into a wall, in the paper's own colour
	OnPlinth               // a low block on such a floor
)

// A footing is where floor and plinth are.
type footing struct {
	kind   Ground
	low    float64   // mm: height of the floor, below 0 where there is a plinth
	from   geom.Vec2 // corners of the plinth
	to     geom.Vec2
	radius float64 // mm, of the piece
}

// lowestView is the least slope of a view down on the floor from which the floor is drawn.
const lowestView = 0.02

// plinthPart is the plinth's height in parts of the piece's radius, plinthFoot the part of the piece's height whose outline
// it has to carry, plinthRoom its border in parts of the radius.
const (
	plinthPart = 0.20
	plinthFoot = 0.30
	plinthRoom = 0.13
)

func (v *View) plinth(radius float64) float64 {
	if v.Ground != OnPlinth {
		return 0
	}
	return plinthPart * radius
}

// foot finds the ground for a view.
func (v *View) foot(b *Body, l *lens) footing {
	f := footing{kind: v.Ground, radius: max(b.radius*v.Placement.Scale, 1e-6)}
	f.low = -v.plinth(f.radius)
	if l.ahead.Z > -lowestView {
		f.kind = OnPaper
	}
	if f.kind != OnPlinth {
		return f
	}
	box := geom.EmptyBox()
	for _, q := range b.spread {
		if p := v.Placement.Apply(q.Vec()); p.Z < plinthFoot*v.Height {
			box = box.Add(p)
		}
	}
	if box.Empty() {
		f.kind = OnFloor
		return f
	}
	room := plinthRoom * f.radius
	f.from = geom.Vec2{X: box.Min.X - room, Y: box.Min.Y - room}
	f.to = geom.Vec2{X: box.Max.X + room, Y: box.Max.Y + room}
	return f
}

// A groundSpot is what a ray that misses the piece meets.
type groundSpot struct {
	p    geom.Vec
	n    vec
	part groundPart
}

type groundPart uint8

const (
	theFloor groundPart = iota
	plinthTop
	plinthSide
)

// meet follows the ray through a pixel position to floor or plinth.
func (f *footing) meet(l *lens, x, y float64) groundSpot {
	p := l.point(x, y, 0)
	p = p.Add(l.ahead.Scale(-p.Z / l.ahead.Z))
	up := vec{z: 1}
	if f.kind != OnPlinth {
		return groundSpot{p, up, theFloor}
	}
	if p.X >= f.from.X && p.X <= f.to.X && p.Y >= f.from.Y && p.Y <= f.to.Y {
		return groundSpot{p, up, plinthTop}
	}
	// The ray comes in through the side that it meets last, if it is inside the other two by then.
	floor := f.low / l.ahead.Z
	tx, nx := into(p.X, l.ahead.X, f.from.X, f.to.X)
	ty, ny := into(p.Y, l.ahead.Y, f.from.Y, f.to.Y)
	t, n := tx, vec{x: nx}
	if ty > tx {
		t, n = ty, vec{y: ny}
	}
	if t > 0 && t < floor {
		q := p.Add(l.ahead.Scale(t))
		const slack = 1e-9
		if q.X >= f.from.X-slack && q.X <= f.to.X+slack && q.Y >= f.from.Y-slack && q.Y <= f.to.Y+slack {
			return groundSpot{q, n, plinthSide}
		}
	}
	return groundSpot{p.Add(l.ahead.Scale(floor)), up, theFloor}
}

// into is how far along a ray it comes into the span from..to, and the normal's sign of the side where it does.
func into(at, step, from, to float64) (t float64, n float32) {
	switch {
	case step > 1e-12:
		return (from - at) / step, -1
	case step < -1e-12:
		return (to - at) / step, 1
	case at >= from && at <= to:
		return math.Inf(-1), 1
	}
	return math.Inf(1), 1
}

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

// Plinth is the block that the piece stands on in a view; ok is false where there is none.
func (v View) Plinth(b *Body) (block geom.Box, ok bool) {
	l := newLens(b, &v, Strip{})
	f := v.foot(b, &l)
	return geom.Box{Min: geom.Vec{X: f.from.X, Y: f.from.Y, Z: f.low}, Max: geom.Vec{X: f.to.X, Y: f.to.Y}}, f.kind == OnPlinth
}
