package compass

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/glue"
	"grainstack/slicing/mesh"
)

// A foot is what of the full surface touches the floor when one end of an axis is down.
type foot struct {
	points []geom.Vec // on the piece, in its own frame
	under  float64    // piece units² of surface that lies on the floor, by its weight
}

// bunch is how many facets are passed over at once where their box is clear of both ends.
const bunch = 256

// soles are a surface with its facets in bunches: they lie in spatial order, so that few bunches come near an end.
type soles struct {
	mesh  *mesh.Mesh
	boxes []reachBox
	slack float32 // more than heights are rounded by
}

// A reachBox is the box of a bunch.
type reachBox struct{ low, high mesh.Point }

func newSoles(m *mesh.Mesh) *soles {
	s := &soles{mesh: m, boxes: make([]reachBox, 0, len(m.Triangles)/bunch+1)}
	longest := float32(0)
	for from := 0; from < len(m.Triangles); from += bunch {
		first := m.Points[m.Triangles[from][0]]
		r := reachBox{first, first}
		for _, t := range m.Triangles[from:min(from+bunch, len(m.Triangles))] {
			for _, v := range t {
				for k, c := range m.Points[v] {
					r.low[k], r.high[k] = min(r.low[k], c), max(r.high[k], c)
					longest = max(longest, c, -c)
				}
			}
		}
		s.boxes = append(s.boxes, r)
	}
	s.slack = longest * 1e-5
	return s
}

// A height is a direction to measure along.
type height [3]float32

func (d height) of(p mesh.Point) float32 { return d[0]*p[0] + d[1]*p[1] + d[2]*p[2] }

// span is how low and how high a bunch may reach.
func (d height) span(r *reachBox, slack float32) (low, high float32) {
	for k, c := range d {
		a, b := c*r.low[k], c*r.high[k]
		low, high = low+min(a, b), high+max(a, b)
	}
	return low - slack, high + slack
}

// ends are the lowest and the highest point along d.
func (s *soles) ends(d height) (low, high float32) {
	low, high = float32(math.MaxFloat32), float32(-math.MaxFloat32)
	for i := range s.boxes {
		if under, over := d.span(&s.boxes[i], s.slack); under >= low && over <= high {
			continue
		}
		for _, t := range s.bunch(i) {
			for _, v := range t {
				h := d.of(s.mesh.Points[v])
				low, high = min(low, h), max(high, h)
			}
		}
	}
	return low, high
}

func (s *soles) bunch(i int) []mesh.Triangle {
	return s.mesh.Triangles[i*bunch : min((i+1)*bunch, len(s.mesh.Triangles))]
}

// feet are the feet of both ends of the axis along d: down with d up, over with d down.
func (s *soles) feet(along geom.Vec, depth float64, weight func(int) float64) (down, over foot) {
	d := height{float32(along.X), float32(along.Y), float32(along.Z)}
	low, high := s.ends(d)
	depth = min(depth, float64(high-low)/100)
	floor, ceiling := low+float32(depth), high-float32(depth)
	m := s.mesh
	for i := range s.boxes {
		under, above := d.span(&s.boxes[i], s.slack)
		if under > floor && above < ceiling {
			continue
		}
		for k, t := range s.bunch(i) {
			a, b, c := d.of(m.Points[t[0]]), d.of(m.Points[t[1]]), d.of(m.Points[t[2]])
			if min(a, b, c) <= floor {
				down.add(m, i*bunch+k, [3]float32{a, b, c}, floor, weight)
			}
			if max(a, b, c) >= ceiling {
				over.add(m, i*bunch+k, [3]float32{-a, -b, -c}, -ceiling, weight)
			}
		}
	}
	return down, over
}

// add takes what of a facet lies no higher than the floor's footing.
func (f *foot) add(m *mesh.Mesh, i int, h [3]float32, floor float32, weight func(int) float64) {
	t := m.Triangles[i]
	within := 0
	for k := range 3 {
		a, b := m.Points[t[k]].Vec(), m.Points[t[(k+1)%3]].Vec()
		ha, hb := h[k], h[(k+1)%3]
		if ha <= floor {
			f.points = append(f.points, a)
			within++
		}
		if (ha <= floor) != (hb <= floor) {
			s := float64(floor-ha) / float64(hb-ha)
			f.points = append(f.points, a.Add(b.Sub(a).Scale(s)))
		}
	}
	if within == 3 {
		a, b, c := m.Corners(i)
		area := b.Sub(a).Cross(c.Sub(a)).Len() / 2
		if weight != nil {
			area *= weight(i)
		}
		f.under += area
	}
}

// tip is the tilt in degrees at which a piece with its mass at centre falls over; 0 where it stands on a point or an edge or
// doesn't stand. on carries points to the stand, floor at 0.
func (f *foot) tip(centre geom.Vec, on func(geom.Vec) geom.Vec) float64 {
	ring := make(geom.Ring, len(f.points))
	for i, p := range f.points {
		q := on(p)
		ring[i] = geom.Vec2{X: q.X, Y: q.Y}
	}
	b, ok := glue.Body{MassG: 1, Centre: centre, Base: geom.Region{ring}}.Stand()
	if !ok {
		return 0
	}
	return max(b.TipDeg, 0)
}
