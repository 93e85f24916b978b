package look

import (
	"context"
	"image"

	"grainstack/render/frame"
	"grainstack/render/tone"
	"grainstack/slicing/par"
)

// Shade colours what Raster has seen. It returns ctx's error when called off.
func (r *Renderer) Shade(ctx context.Context, d Dress) (*frame.Frame, error) {
	if r.body == nil {
		return nil, errNothing
	}
	if r.shifted {
		if err := r.Raster(ctx, r.body, r.view); err != nil {
			return nil, err
		}
	}
	return r.shade(ctx, &d)
}

func (r *Renderer) shade(ctx context.Context, d *Dress) (*frame.Frame, error) {
	p := r.painter(d)
	out := r.pool.Get(image.Pt(r.lens.w, r.lens.h))
	err := par.Spans(ctx, r.lens.h, 8, func(from, to int) {
		for y := from; y < to; y++ {
			p.row(out.Image.Pix[4*r.lens.w*y:4*r.lens.w*(y+1)], y)
		}
	})
	if err != nil {
		out.Release()
		return nil, err
	}
	r.ring(out.Image, d)
	return out, nil
}

// painter is all that is the same for every pixel of one picture.
type painter struct {
	r        *Renderer
	wood     reader
	fibre    fibreReader
	light    *daylight
	sheet    sheet
	top      float32 // mm: the highest veneer's height
	inside   float32 // mm below a bare face at which its veneer is read
	panels   float32
	seed     uint32
	picked   Band
	ink, tip tone.Light
	dress    *Dress
}

func (r *Renderer) painter(d *Dress) *painter {
	_ = par.Spans(context.Background(), 2, 1, func(half, _ int) {
		if half == 0 {
			r.shadow.throw(r)
			return
		}
		r.table.build(d)
		if r.fibres == nil {
			r.fibres = newFibres()
		}
	})
	pixel := 1 / r.lens.scale
	inside := r.table.joint/2 + 6*r.table.bin()
	return &painter{
		r: r, top: float32(r.view.Height - inside), inside: float32(inside), wood: r.table.reader(), light: newDaylight(&r.lens, d.Wood.Coat),
		fibre:  r.fibres.reader(pixel, float32(0.075+0.03*d.Wood.Coat)),
		sheet:  newSheet(r, &d.Paper),
		panels: float32(r.table.panels), seed: r.table.tintSeed(d.Wood.Seed),
		picked: d.Picked, dress: d,
		ink: tone.FromBytes(d.Paper.Ink.R, d.Paper.Ink.G, d.Paper.Ink.B),
		tip: tone.FromBytes(d.Paper.Accent.R, d.Paper.Accent.G, d.Paper.Accent.B),
	}
}

func (p *painter) row(pix []uint8, y int) {
	p.sheet.row(pix, y)
	win := p.r.window
	if y < win.y0 || y >= win.y1 {
		return
	}
	samples := p.r.samples[y*p.r.lens.w : (y+1)*p.r.lens.w]
	for x := win.x0; x < win.x1; x++ {
		s := &samples[x]
		if s.kind == paper {
			continue
		}
		red, green, blue := p.colour(s)
		if p.dress.Stain != nil {
			c := p.dress.stained(tone.Light{red, green, blue}, s)
			red, green, blue = c[0], c[1], c[2]
		}
		if p.picked.To > p.picked.From {
			c := p.pick(tone.Light{red, green, blue}, s)
			red, green, blue = c[0], c[1], c[2]
		}
		o := pix[4*x : 4*x+4 : 4*x+4]
		o[0], o[1], o[2], o[3] = tone.Byte(red), tone.Byte(green), tone.Byte(blue), 255
	}
}

// colour is the linear light that a sample sends to the viewer.
func (p *painter) colour(s *sample) (red, green, blue float32) {
	const unit = 1.0 / packed
	x, y, z := float32(s.n[0])*unit, float32(s.n[1])*unit, float32(s.n[2])*unit
	open := float32(s.open) * (1.0 / 255)
	h := s.h
	if z*z > 0.9998 { // a bare face shows the veneer below it, not the glue that was on it
		h -= z * p.inside
	}
	h = max(p.inside, min(p.top, h)) // no glue is left where the stack begins and ends
	a, b, k, turn := p.wood.at(h, s.foot)
	ex, ey := endShare(x*x), endShare(y*y)
	run := a[cellRun] + k*(b[cellRun]-a[cellRun])
	tint := p.streak(s, run, ex, ey) + panelTint(p.seed, uint32(turn*p.panels))
	tint = 1 + tint*(a[cellWood]+k*(b[cellWood]-a[cellWood]))
	l := 1 - k
	red = tint * (l*(a[0]+ex*a[cellX]+ey*a[cellY]) + k*(b[0]+ex*b[cellX]+ey*b[cellY]))
	green = tint * (l*(a[1]+ex*a[cellX+1]+ey*a[cellY+1]) + k*(b[1]+ex*b[cellX+1]+ey*b[cellY+1]))
	blue = tint * (l*(a[2]+ex*a[cellX+2]+ey*a[cellY+2]) + k*(b[2]+ex*b[cellX+2]+ey*b[cellY+2]))
	er, eg, eb, shine := p.light.on(x, y, z, s.h, open)
	shine *= 1 - 0.4*(run*ex+(1-run)*ey) // open fibres are duller
	// Light that bounces between the walls of a corner takes on their colour.
	bounce := (1 - open) * 0.8
	return red*er*(1+bounce*red) + shine, green*eg*(1+bounce*green) + shine, blue*eb*(1+bounce*blue) + shine
}

// endShare is how much end grain shows where the squared cosine between normal and fibres is e: none along the fibres, all
// across, and slow to change near both, as fibres a few degrees off the surface hardly show their ends.
func endShare(e float32) float32 { return e * e * (3 - 2*e) }

// streak is the figure of the fibres: along X or along Y, whichever more of the pixel's veneers run, and none where they
// balance or are cut across.
func (p *painter) streak(s *sample, run, ex, ey float32) float32 {
	if run >= 0.5 {
		return (2*run - 1) * (1 - 0.7*ex) * p.fibre.at(s.x+3.1*s.h, s.y+1.3*s.h)
	}
	return (1 - 2*run) * (1 - 0.7*ey) * p.fibre.at(s.y+2.3*s.h, s.x-1.7*s.h)
}

// panelTint is the small difference from panel to panel, repeatable.
func panelTint(seed, panel uint32) float32 {
	if seed == 0 {
		return 0
	}
	return float32(int32(scramble(panel^seed)&255)-128) * (0.018 / 128)
}

// pick inks the edges of the picked layer and warms what lies between.
func (p *painter) pick(c tone.Light, s *sample) tone.Light {
	width := max(s.foot, 0.02)
	from, to := float32(p.picked.From), float32(p.picked.To)
	if s.h > from && s.h < to {
		c = c.Lerp(p.tip, 0.10)
	}
	if s.kind != surface && s.h >= to-p.inside { // a face laid bare at the layer's top is no edge
		return c
	}
	near := min(abs(s.h-from), abs(s.h-to)) / width
	return c.Lerp(p.ink, max(0, min(0.85, 1.35-near)))
}

func abs(f float32) float32 { return max(f, -f) }
