package look

import (
	"grainstack/slicing/geom"
)

// shadow is the soft shade on the floor round the piece: its points thrown down on a coarse grid in three bands of height,
// each blurred the more the higher it is, as a wide window does.
type shadow struct {
	dark  [shadowSide * shadowSide]float32 // 0 to 1
	side  float64                          // mm of a cell
	low   geom.Vec2                        // corner of the grid
	on    bool
	fresh bool  // it belongs to the last Raster
	light Light // that throws it
}

const shadowSide = 128

// A fall is how a light throws the shadow: level steps to the viewer's right and away from the viewer for each step of height,
// and three bands of the piece's height.
type fall struct {
	right, back float64
	bands       [3]band
}

// A band of the piece's height: its upper bound, how far the shade is carried sideways in parts of height, blur in cells,
// depth.
type band struct {
	top, carry float64
	blur       int
	depth      float32
}

func (l Light) fall() fall {
	switch l {
	case Spot:
		return fall{-0.62, 0.62, [3]band{{0.10, 0.45, 1, 0.62}, {0.40, 0.62, 2, 0.52}, {1, 0.66, 4, 0.46}}}
	case Overcast:
		return fall{0, 0, [3]band{{0.10, 0, 3, 0.46}, {0.40, 0, 9, 0.30}, {1, 0, 14, 0.18}}}
	}
	return fall{0.9, 0.45, [3]band{{0.10, 0.25, 2, 0.50}, {0.40, 0.32, 6, 0.38}, {1, 0.36, 11, 0.26}}}
}

// throw makes the shadow for the view, once.
func (s *shadow) throw(r *Renderer, light Light) {
	if s.fresh && s.light == light {
		return
	}
	s.fresh, s.light = true, light
	bands := light.fall().bands
	l, b := &r.lens, r.body
	s.on = l.ahead.Z < -lowestView && len(b.spread) > 0
	if !s.on {
		return
	}
	radius := b.radius * r.view.Placement.Scale
	s.side = 4.4 * radius / shadowSide
	s.low = geom.Vec2{X: l.target.X - 2.2*radius, Y: l.target.Y - 2.2*radius}
	var grids [3][]float32
	for i := range grids {
		grids[i] = make([]float32, shadowSide*shadowSide)
	}
	s.splat(r, &grids)
	spare := make([]float32, shadowSide*shadowSide)
	for i := range s.dark {
		s.dark[i] = 1
	}
	for k, g := range grids {
		for i := range g {
			g[i] = min(1, g[i]/3)
		}
		for range 2 {
			blurRows(spare, g, bands[k].blur)
			blurRows(g, spare, bands[k].blur)
		}
		for i := range g {
			s.dark[i] *= 1 - bands[k].depth*g[i]
		}
	}
	for i := range s.dark {
		s.dark[i] = 1 - s.dark[i]
	}
}

// splat drops the points on the floor, away from the window.
func (s *shadow) splat(r *Renderer, grids *[3][]float32) {
	p, v := r.view.Placement, &r.view
	top := v.Height
	if v.Cut > 0 {
		top = min(top, v.Cut)
	}
	away, bands := s.away(r), s.light.fall().bands
	for _, q := range r.body.spread {
		at := p.Apply(q.Vec())
		if at.Z > top {
			continue
		}
		k := 0
		for k < 2 && at.Z > bands[k].top*v.Height {
			k++
		}
		carry := at.Z * bands[k].carry
		x := int((at.X + away.X*carry - s.low.X) / s.side)
		y := int((at.Y + away.Y*carry - s.low.Y) / s.side)
		if x >= 0 && y >= 0 && x < shadowSide && y < shadowSide {
			grids[k][y*shadowSide+x]++
		}
	}
}

// away is the way in which shadows fall, level.
func (s *shadow) away(r *Renderer) geom.Vec2 {
	f := s.light.fall()
	v := r.lens.right.Scale(f.right).Add(geom.Vec{X: r.lens.ahead.X, Y: r.lens.ahead.Y}.Unit().Scale(f.back))
	return geom.Vec2{X: v.X, Y: v.Y}
}

// blurRows is the running mean along rows, written turned over, so that a second call blurs the columns.
func blurRows(to, from []float32, radius int) {
	f := 1 / float32(2*radius+1)
	for y := range shadowSide {
		row := from[y*shadowSide : (y+1)*shadowSide]
		sum := float32(0)
		for i := range min(radius, shadowSide) {
			sum += row[i]
		}
		for x := range shadowSide {
			if x+radius < shadowSide {
				sum += row[x+radius]
			}
			to[x*shadowSide+y] = sum * f
			if x >= radius {
				sum -= row[x-radius]
			}
		}
	}
}

// at is the darkness at a place on the grid, in cells, smooth between them.
func (s *shadow) at(x, y float32) float32 {
	if !(x >= 0 && y >= 0 && x < shadowSide-1 && y < shadowSide-1) {
		return 0
	}
	i, j := int(x), int(y)
	fx, fy := x-float32(i), y-float32(j)
	d := s.dark[j*shadowSide+i : j*shadowSide+i+shadowSide+2]
	top := d[0] + fx*(d[1]-d[0])
	low := d[shadowSide] + fx*(d[shadowSide+1]-d[shadowSide])
	return top + fy*(low-top)
}
