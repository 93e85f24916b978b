package look

import "grainstack/slicing/geom"

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
