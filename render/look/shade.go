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
	return r.shade(ctx, &d, false)
}

func (r *Renderer) shade(ctx context.Context, d *Dress, fine bool) (*frame.Frame, error) {
	p := r.painter(d, fine)
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
	grain    [2]strand // of fibres along X and along Y
	pores    grainReader
	light    *lighting
	sheet    sheet
	ground   *groundPainter // nil where the piece stands on paper
	top      float32        // mm: the highest veneer's height
	inside   float32        // mm below a bare face at which its veneer is read
	dull     float32        // how much less end grain shines
	picked   Band
	seams    *seams // nil where joints look as they will
	ink, tip tone.Light
	dress    *Dress
}

// painter makes everything ready; a fine picture takes more care with the grain.
func (r *Renderer) painter(d *Dress, fine bool) *painter {
	_ = par.Spans(context.Background(), 2, 1, func(half, _ int) {
		if half == 0 {
			r.shadow.throw(r, d.Light)
			return
		}
		r.table.build(d, r.view.Height)
		if r.grains == nil {
			r.grains = newGrains()
		}
	})
	inside := r.table.joint/2 + 6*r.table.bin()
	p := &painter{
		r: r, top: float32(r.view.Height - inside), inside: float32(inside), wood: r.table.reader(),
		light: newLighting(&r.lens, d.Light, d.Wood.Finish), sheet: newSheet(r, &d.Paper), dull: 0.45,
		picked: d.Picked, seams: newSeams(d, r.view.Height), dress: d,
		ink: tone.FromBytes(d.Paper.Ink.R, d.Paper.Ink.G, d.Paper.Ink.B),
		tip: tone.FromBytes(d.Paper.Accent.R, d.Paper.Accent.G, d.Paper.Accent.B),
	}
	p.grain = r.strands(d.Wood.Finish, fine)
	p.pores = r.grains.pores.reader(1/r.lens.scale, poreDepth, fine)
	if r.footing.kind != OnPaper {
		stride := 2
		if fine {
			stride = 1
		}
		p.ground = newGroundPainter(r, d, p.light, stride)
	}
	return p
}

func (p *painter) row(pix []uint8, y int) {
	win, width := p.r.window, p.r.lens.w
	if y < win.y0 || y >= win.y1 {
		p.under(pix, y, 0, width)
		return
	}
	samples := p.r.samples[y*width : (y+1)*width]
	bare := 0 // nothing is painted from here on
	for x := win.x0; x < win.x1; x++ {
		s := &samples[x]
		if s.kind == paper {
			continue
		}
		if bare < x {
			p.under(pix, y, bare, x)
		}
		bare = x + 1
		red, green, blue := p.colour(s)
		if p.dress.Seen != nil {
			c := p.dress.seen(tone.Light{red, green, blue}, s)
			red, green, blue = c[0], c[1], c[2]
		}
		if p.dress.Stain != nil {
			c := p.dress.stained(tone.Light{red, green, blue}, s, (x+y)%hatchEvery < hatchWide)
			red, green, blue = c[0], c[1], c[2]
		}
		red, green, blue = p.dress.Chalk.over(red, green, blue, s)
		if p.picked.To > p.picked.From {
			c := p.pick(tone.Light{red, green, blue}, s)
			red, green, blue = c[0], c[1], c[2]
		}
		o := pix[4*x : 4*x+4 : 4*x+4]
		o[0], o[1], o[2], o[3] = tone.Byte(red), tone.Byte(green), tone.Byte(blue), 255
	}
	p.under(pix, y, bare, width)
}

// under paints what lies behind the piece.
func (p *painter) under(pix []uint8, y, from, to int) {
	if p.ground != nil {
		p.ground.run(pix, y, from, to)
		return
	}
	p.sheet.run(pix, y, from, to)
}

// levelFace is the squared upward part of the normal from which a face may lie in a joint as a whole.
const levelFace = 0.998

// colour is the linear light that a sample sends to the viewer.
func (p *painter) colour(s *sample) (red, green, blue float32) {
	n := s.normal()
	open := float32(s.open) * (1.0 / 255)
	l := p.light.on(n.x, n.y, n.z, s.h, open)
	red, green, blue = p.wooden(s, n, open, &l)
	if p.seams != nil && s.kind == surface && n.z*n.z < levelFace {
		red, green, blue = p.seams.over(red, green, blue, s.h, s.foot)
	}
	return red, green, blue
}

// wooden is what a sample of normal n sends to the viewer under the light l.
func (p *painter) wooden(s *sample, n vec, open float32, l *Lit) (red, green, blue float32) {
	h := s.h
	if n.z*n.z > 0.9998 { // a bare face shows the veneer below it, not the glue that was on it
		h -= n.z * p.inside
	}
	h = max(p.inside, min(p.top, h)) // no glue is left where the stack begins and ends
	a, b, k := p.wood.at(h, s.foot)
	ex, ey := endShare(n.x*n.x), endShare(n.y*n.y)
	run := a[cellRun] + k*(b[cellRun]-a[cellRun])
	alongX, alongY, end := run*(1-ex), (1-run)*(1-ey), run*ex+(1-run)*ey
	facing := max(0, p.light.viewer.dot(n.x, n.y, n.z))
	streak := p.streak(s, n, facing, alongX, alongY)
	tint := streak
	if !p.pores.idle && end > 0.02 {
		tint += end * p.pore(s, facing, run*ex, (1-run)*ey)
	}
	tint = 1 + tint*(a[cellWood]+k*(b[cellWood]-a[cellWood]))
	sheen := l.Key * p.light.sheen.on(n.x, n.y, n.z, facing, alongX, alongY, waver*streak)
	er, eg, eb := l.Red+p.light.keyLight.x*sheen, l.Green+p.light.keyLight.y*sheen, l.Blue+p.light.keyLight.z*sheen
	m := 1 - k
	red = tint * (m*(a[0]+ex*a[cellX]+ey*a[cellY]) + k*(b[0]+ex*b[cellX]+ey*b[cellY]))
	green = tint * (m*(a[1]+ex*a[cellX+1]+ey*a[cellY+1]) + k*(b[1]+ex*b[cellX+1]+ey*b[cellY+1]))
	blue = tint * (m*(a[2]+ex*a[cellX+2]+ey*a[cellY+2]) + k*(b[2]+ex*b[cellX+2]+ey*b[cellY+2]))
	shine := p.light.mirrored(n.x, n.y, n.z, facing, l) * max(0, 1-p.dull*end+6*streak) // open fibres are duller, and the finish lies in their grooves
	// Light that bounces between the walls of a corner takes on their colour.
	bounce := (1 - open) * 0.8
	return red*er*(1+bounce*red) + shine, green*eg*(1+bounce*green) + shine, blue*eb*(1+bounce*blue) + shine
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
