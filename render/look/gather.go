package look

import (
	"context"
	"image"
	"math"

	"grainstack/render/tone"
	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

// A Place is where one pixel looks: a point in the stand's frame and the surface's normal there.
type Place struct {
	X, Y, Z    float32 // mm
	NX, NY, NZ float32 // unit
	Ground     bool    // floor, plinth or paper, not the piece
}

// A Gather reckons the light on places, out having one for each. It is called from several goroutines at once.
type Gather func(places []Place, out []Lit)

// Gathered adds the linear light of a strip's rows to sum, three channels a pixel and none for marks, with light that gather
// reckons in place of the usual estimate. Only a closed, whole stack is drawn so: the view's cut and lift have to be 0.
func (r *Renderer) Gathered(ctx context.Context, b *Body, v View, d Dress, strip Strip, gather Gather, sum []float32) error {
	if err := r.raster(ctx, b, v, strip); err != nil {
		return err
	}
	p := r.painter(&d, true)
	far := p.farLight(gather)
	err := par.Spans(ctx, strip.Rows, 4, func(from, to int) {
		row := newGatherRow(r.lens.w)
		for y := from; y < to; y++ {
			p.gather(row, y, gather)
			p.add(row, y, &far, sum[3*r.lens.w*y:3*r.lens.w*(y+1)])
		}
	})
	r.body = nil // the samples are those of a part
	return err
}

// A gatherRow is one row's places and what falls on them.
type gatherRow struct {
	places []Place
	lights []Lit
	spots  []groundSpot // of the pixels that miss the piece
}

func newGatherRow(width int) *gatherRow {
	return &gatherRow{make([]Place, width), make([]Lit, width), make([]groundSpot, width)}
}

// farLight is the light where nothing is in the way: on level ground, and on the wall behind.
type farLight struct{ ground, wall Lit }

func (p *painter) farLight(gather Gather) farLight {
	back := p.r.lens.ahead
	back.Z = 0
	n := short(back.Unit().Scale(-1))
	const away = 1e7 // mm: no shadow reaches there
	lights := make([]Lit, 2)
	gather([]Place{{X: away, NZ: 1, Ground: true}, {X: away, Z: away, NX: n.x, NY: n.y, Ground: true}}, lights)
	return farLight{lights[0], lights[1]}
}

// gather finds the row's places and asks for their light. A row that sees no floor from below asks for paper's in vain.
func (p *painter) gather(row *gatherRow, y int, gather Gather) {
	r := p.r
	samples := r.samples[y*r.lens.w : (y+1)*r.lens.w]
	for x := range row.places {
		if r.window.has(x, y) && samples[x].kind != paper {
			s := &samples[x]
			n := s.normal()
			row.places[x] = Place{s.x, s.y, s.h, n.x, n.y, n.z, false}
			continue
		}
		s := groundSpot{n: vec{z: 1}}
		if r.lens.ahead.Z < -lowestView {
			s = r.footing.meet(&r.lens, float64(x)+0.5, float64(y)+0.5)
		}
		row.spots[x] = s
		row.places[x] = Place{float32(s.p.X), float32(s.p.Y), float32(s.p.Z), s.n.x, s.n.y, s.n.z, true}
	}
	gather(row.places, row.lights)
}

// add colours the row and adds it up.
func (p *painter) add(row *gatherRow, y int, far *farLight, sum []float32) {
	r := p.r
	samples := r.samples[y*r.lens.w : (y+1)*r.lens.w]
	for x := range row.places {
		l := &row.lights[x]
		var c tone.Light
		switch {
		case !row.places[x].Ground:
			s := &samples[x]
			c[0], c[1], c[2] = p.wooden(s, s.normal(), 1, l)
			if p.dress.Seen != nil {
				c = p.dress.seen(c, s)
			}
		case p.ground != nil:
			c = p.ground.colour(&row.spots[x], *l, far.wall)
		default:
			c = p.sheet.under(y, l, &far.ground)
		}
		for i := range c {
			sum[3*x+i] += max(0, min(1, c[i]))
		}
	}
}

// A Depths is how far the piece's nearest points lie from a distant eye, seen through a square grid: who is farther than
// that lies in the piece's shadow. It never changes after it has been made.
type Depths struct {
	side    int
	near    []uint16
	x, y, z [4]float32 // cell and depth, of 65535, as functions of a point in the stand's frame
	cell    float32    // mm
	step    float32    // mm of a depth
	slack   float32    // depth by which a point may lie behind the nearest and still be the nearest: one cell
}

// depthShift takes a key's depth to the 16 bits of Depths.
const depthShift = depthBits - 16

// Depths looks at the piece from the direction towards the eye through side by side cells, into the memory of old, which may
// be nil. The view gives the stand; its camera, cut and lift say nothing.
func (r *Renderer) Depths(ctx context.Context, b *Body, v View, towards geom.Vec, side int, old *Depths) (*Depths, error) {
	v = View{Camera: from(towards), Placement: v.Placement, Height: v.Height, Size: image.Pt(side, side)}
	r.body, r.view = nil, v
	r.lens = newLens(b, &v, Strip{})
	r.slabs = cutSlabs(r.slabs[:0], &v, &r.lens)
	r.ladder.build(r.slabs, v.Height)
	if err := r.transform(ctx, b); err != nil {
		return nil, err
	}
	r.makeRoom()
	if err := r.visit(ctx, b); err != nil {
		return nil, err
	}
	if old == nil || old.side != side {
		old = &Depths{side: side, near: make([]uint16, side*side)}
	}
	old.aim(&r.lens)
	err := par.Spans(ctx, side, 32, func(from, to int) {
		for y := from; y < to; y++ {
			r.depthRow(old.near[y*side:(y+1)*side], y)
		}
	})
	return old, err
}

func (r *Renderer) depthRow(near []uint16, y int) {
	for x := range near {
		near[x] = 65535
	}
	if win := r.window; y >= win.y0 && y < win.y1 {
		for x := win.x0; x < win.x1; x++ {
			if key := r.nearest(y*r.lens.w + x); key != nothing {
				near[x] = uint16(min(65534, int(keyDepth(key))>>depthShift))
			}
		}
	}
}

// aim makes the functions from the stand to the grid.
func (m *Depths) aim(l *lens) {
	row := func(dir geom.Vec, k, add float64) [4]float32 {
		return [4]float32{float32(dir.X * k), float32(dir.Y * k), float32(dir.Z * k), float32(add - k*dir.Dot(l.target))}
	}
	steps := 65535 / (2 * l.reach)
	m.x, m.y, m.z = row(l.right, l.scale, l.cx), row(l.up, -l.scale, l.cy), row(l.ahead, steps, l.reach*steps)
	m.cell = float32(1 / l.scale)
	m.step = float32(1 / steps)
	m.slack = max(2, m.cell*float32(steps))
}

// Cell is the side of a cell in mm.
func (m *Depths) Cell() float32 { return m.cell }

// Weigh gives, for each place, the cosine between its normal and the direction towards the eye: as it is where nothing of the
// piece lies between, negative where the piece does, 0 where the surface faces away. Places are lifted off the surface by
// lift mm first, lest the surface shade itself between the grid's cells.
func (m *Depths) Weigh(places []Place, towards geom.Vec, lift float32, out []float32) {
	d, side := short(towards), float32(m.side)
	for i := range places {
		p := &places[i]
		c := d.x*p.NX + d.y*p.NY + d.z*p.NZ
		if c <= 0 {
			out[i] = 0
			continue
		}
		x, y, z := p.X+lift*p.NX, p.Y+lift*p.NY, p.Z+lift*p.NZ
		u := m.x[0]*x + m.x[1]*y + m.x[2]*z + m.x[3]
		v := m.y[0]*x + m.y[1]*y + m.y[2]*z + m.y[3]
		if u >= 0 && v >= 0 && u < side && v < side &&
			m.z[0]*x+m.z[1]*y+m.z[2]*z+m.z[3] > float32(m.near[int(v)*m.side+int(u)])+m.slack {
			c = -c
		}
		out[i] = c
	}
}

// Behind gives, for each place, how many mm it lies behind the piece's nearest point on its way to the eye; 0 where nothing
// is in the way.
func (m *Depths) Behind(places []Place, lift float32, out []float32) {
	side := float32(m.side)
	for i := range places {
		p := &places[i]
		out[i] = 0
		x, y, z := p.X+lift*p.NX, p.Y+lift*p.NY, p.Z+lift*p.NZ
		u := m.x[0]*x + m.x[1]*y + m.x[2]*z + m.x[3]
		v := m.y[0]*x + m.y[1]*y + m.y[2]*z + m.y[3]
		if u >= 0 && v >= 0 && u < side && v < side {
			w := m.z[0]*x + m.z[1]*y + m.z[2]*z + m.z[3] - float32(m.near[int(v)*m.side+int(u)])
			if w > m.slack {
				out[i] = w * m.step
			}
		}
	}
}

// from is a camera for who stands in a direction.
func from(towards geom.Vec) Camera {
	u := towards.Unit()
	return Camera{Azimuth: math.Atan2(u.Y, u.X), Elevation: math.Asin(max(-1, min(1, u.Z))), Zoom: 1}
}
