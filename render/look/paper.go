package look

import (
	"image/color"
	"math"

	"grainstack/render/tone"
	"grainstack/slicing/geom"
)

// sheet is the paper behind the piece, made ready for one picture.
type sheet struct {
	r           *Renderer
	top, bottom color.RGBA
	// place on the shadow's grid, as a function of the pixel: at 0, 0 and per pixel right and down
	at, right, down [2]float32
	shade           [shadeSteps + 1]float32
	on              bool
	strength        float32 // how much of a shadow is wanted
}

// shadeSteps is the fineness of the table from the shadow's darkness to a factor on sRGB bytes.
const shadeSteps = 512

func newSheet(r *Renderer, p *Paper) sheet {
	s := sheet{r: r, top: p.Top, bottom: p.Bottom, on: r.shadow.on && p.Shadow > 0, strength: float32(within(p.Shadow, 1))}
	for i := range s.shade {
		light := 1 - min(1, p.Shadow)*float64(i)/shadeSteps
		s.shade[i] = float32(math.Pow(max(0, light), 1/2.2))
	}
	if s.on {
		o := s.floor(0.5, 0.5)
		x, y := s.floor(1.5, 0.5).Sub(o), s.floor(0.5, 1.5).Sub(o)
		s.at = [2]float32{float32(o.X), float32(o.Y)}
		s.right, s.down = [2]float32{float32(x.X), float32(x.Y)}, [2]float32{float32(y.X), float32(y.Y)}
	}
	return s
}

// floor is the place on the shadow's grid that a pixel position looks at.
func (s *sheet) floor(x, y float64) geom.Vec2 {
	l, g := &s.r.lens, &s.r.shadow
	p := l.point(x, y, 0)
	p = p.Add(l.ahead.Scale(-p.Z / l.ahead.Z))
	return geom.Vec2{X: (p.X - g.low.X) / g.side, Y: (p.Y - g.low.Y) / g.side}.Sub(geom.Vec2{X: 0.5, Y: 0.5})
}

// dither is an ordered 4 by 4 pattern in parts of a byte, so that slow gradients show no steps.
var dither = [16]float32{
	0.5 / 16, 8.5 / 16, 2.5 / 16, 10.5 / 16, 12.5 / 16, 4.5 / 16, 14.5 / 16, 6.5 / 16,
	3.5 / 16, 11.5 / 16, 1.5 / 16, 9.5 / 16, 15.5 / 16, 7.5 / 16, 13.5 / 16, 5.5 / 16,
}

// bare is the paper without a shadow in a row, in sRGB bytes.
func (s *sheet) bare(y int) (red, green, blue float32) {
	l := &s.r.lens
	t := float32(y+l.above) / float32(max(1, l.whole-1))
	mix := func(a, b uint8) float32 { return float32(a) + t*(float32(b)-float32(a)) }
	return mix(s.top.R, s.bottom.R), mix(s.top.G, s.bottom.G), mix(s.top.B, s.bottom.B)
}

// under is the paper's linear light in a row where so much light falls, against the light with nothing in its way.
func (s *sheet) under(y int, l, full *Lit) tone.Light {
	red, green, blue := s.bare(y)
	part := float32(1)
	if s.r.lens.ahead.Z < -lowestView {
		part = tone.Light{l.Red, l.Green, l.Blue}.Luminance() / max(1e-6, tone.Light{full.Red, full.Green, full.Blue}.Luminance())
		part = 1 - s.strength*(1-min(1, part))
	}
	light := func(c float32) float32 { return part * float32(tone.Decode(float64(c)/255)) }
	return tone.Light{light(red), light(green), light(blue)}
}

// run fills pixels from..to of one row with paper and shadow.
func (s *sheet) run(pix []uint8, y, from, to int) {
	red, green, blue := s.bare(y)
	noise := dither[4*(y&3) : 4*(y&3)+4]
	gx, gy := s.at[0]+float32(y)*s.down[0], s.at[1]+float32(y)*s.down[1]
	gx, gy = gx+float32(from)*s.right[0], gy+float32(from)*s.right[1]
	for x := from; x < to; x++ {
		f := float32(1)
		if s.on {
			if dark := s.r.shadow.at(gx, gy); dark > 0 {
				f = s.shade[int(dark*shadeSteps)]
			}
			gx, gy = gx+s.right[0], gy+s.right[1]
		}
		n := noise[x&3]
		o := pix[4*x : 4*x+4 : 4*x+4]
		o[0], o[1], o[2], o[3] = uint8(red*f+n), uint8(green*f+n), uint8(blue*f+n), 255
	}
}
