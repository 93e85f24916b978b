package draw

import "grainstack/slicing/geom"

func inBox(p geom.Vec2, b geom.Box2) bool {
	return p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y
}

// boxInside reports whether every point of r lies in b.
func boxInside(r []geom.Vec2, b geom.Box2) bool {
	for _, p := range r {
		if !inBox(p, b) {
			return false
		}
	}
	return true
}

// clipRegion cuts every ring to the box (Sutherland and Hodgman, a half-plane at a time); rings wholly inside are kept as
// they are. A ring in several pieces stays one ring joined along the edge of the box, which fills the same.
func clipRegion(r geom.Region, b geom.Box2) geom.Region {
	out := make(geom.Region, 0, len(r))
	for _, ring := range r {
		if len(ring) < 3 {
			continue
		}
		if boxInside(ring, b) {
			out = append(out, ring)
			continue
		}
		ring = clipHalf(ring, func(p geom.Vec2) float64 { return p.X - b.Min.X })
		ring = clipHalf(ring, func(p geom.Vec2) float64 { return b.Max.X - p.X })
		ring = clipHalf(ring, func(p geom.Vec2) float64 { return p.Y - b.Min.Y })
		ring = clipHalf(ring, func(p geom.Vec2) float64 { return b.Max.Y - p.Y })
		if len(ring) > 2 {
			out = append(out, ring)
		}
	}
	return out
}

// clipHalf keeps what has inside(p) >= 0.
func clipHalf(r geom.Ring, inside func(geom.Vec2) float64) geom.Ring {
	out := make(geom.Ring, 0, len(r)+4)
	for i, p := range r {
		q := r[(i+1)%len(r)]
		a, c := inside(p), inside(q)
		if a >= 0 {
			out = append(out, p)
		}
		if (a >= 0) != (c >= 0) {
			out = append(out, p.Add(q.Sub(p).Scale(a/(a-c))))
		}
	}
	return out
}

// clipSegment is the part of a segment inside the box (Liang and Barsky); ok is false where there is none.
func clipSegment(s Segment, b geom.Box2) (out Segment, ok bool) {
	d := s[1].Sub(s[0])
	t0, t1 := 0.0, 1.0
	for _, e := range [4][2]float64{
		{-d.X, s[0].X - b.Min.X}, {d.X, b.Max.X - s[0].X}, {-d.Y, s[0].Y - b.Min.Y}, {d.Y, b.Max.Y - s[0].Y},
	} {
		p, q := e[0], e[1]
		switch {
		case p == 0 && q < 0:
			return s, false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	if t0 > t1 {
		return s, false
	}
	out = s
	if t0 > 0 {
		out[0] = s[0].Add(d.Scale(t0))
	}
	if t1 < 1 {
		out[1] = s[0].Add(d.Scale(t1))
	}
	return out, true
}

func clipSegments(segs []Segment, b geom.Box2) []Segment {
	out := make([]Segment, 0, len(segs))
	for _, s := range segs {
		if c, ok := clipSegment(s, b); ok {
			out = append(out, c)
		}
	}
	return out
}

// clipLines cuts runs of points to the box; one that leaves it and comes back becomes several.
func clipLines(lines []Line, b geom.Box2) []Line {
	out := make([]Line, 0, len(lines))
	for _, l := range lines {
		switch {
		case len(l.Points) < 2:
		case boxInside(l.Points, b):
			out = append(out, l)
		default:
			out = append(out, cutLine(l, b)...)
		}
	}
	return out
}

func cutLine(l Line, b geom.Box2) []Line {
	var out []Line
	var run []geom.Vec2
	end := func() {
		if len(run) > 1 {
			out = append(out, Line{Points: run})
		}
		run = nil
	}
	n := len(l.Points) - 1
	if l.Closed {
		n++
	}
	for i := range n {
		s := Segment{l.Points[i], l.Points[(i+1)%len(l.Points)]}
		c, ok := clipSegment(s, b)
		if !ok {
			end()
			continue
		}
		if c[0] != s[0] || len(run) == 0 {
			end()
			run = append(run, c[0])
		}
		run = append(run, c[1])
		if c[1] != s[1] {
			end()
		}
	}
	end()
	return out
}
