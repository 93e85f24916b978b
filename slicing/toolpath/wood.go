package toolpath

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// A wood is what a cutter that comes from one side meets, as facets: heights are above the face that is then down.
type wood struct {
	points  []geom.Vec
	facets  []mesh.Triangle // counter-clockwise seen from outside
	normals []geom.Vec      // of length 1; zero for a facet without area
	across  mesh.Adjacency
	thin    []bool  // facets that have no normal to be trusted
	turn    float64 // 1 where facets seen from above go round counter-clockwise, -1 where the panel is looked at from below
}

// newWood is a mesh on a panel so thick as one of its sides meets it.
func newWood(m *mesh.Mesh, across mesh.Adjacency, thickness float64, fromBelow bool) *wood {
	w := &wood{points: make([]geom.Vec, len(m.Points)), facets: m.Triangles, across: across, normals: make([]geom.Vec, len(m.Triangles)), turn: 1}
	if fromBelow {
		w.turn = -1
	}
	w.thin = make([]bool, len(m.Triangles))
	for i, p := range m.Points {
		w.points[i] = p.Vec()
		if fromBelow {
			w.points[i].Z = thickness - w.points[i].Z
		}
	}
	for i, t := range m.Triangles {
		a, b, c := w.points[t[0]], w.points[t[1]], w.points[t[2]]
		n := b.Sub(a).Cross(c.Sub(a))
		if l := n.Len(); l > 1e-12 {
			if n = n.Scale(1 / l); fromBelow {
				n = n.Scale(-1)
			}
			w.normals[i] = n
		}
		w.thin[i] = !(n.Len() > 0) || b.Sub(a).Cross(c.Sub(a)).Len() < thinnest*max(b.Sub(a).Len(), c.Sub(a).Len(), c.Sub(b).Len())
	}
	return w
}

// thinnest is how high a facet is at the least for its normal to be trusted, mm: points are rounded to float32.
const thinnest = 2e-3

// level is the least that a facet's normal points up for the facet to hold a cutter up by itself.
const level = 1e-6

// up reports whether a facet is seen from above.
func (w *wood) up(i int) bool { return w.normals[i].Z > level }

// other is the facet across the edge e of facet i, -1 where there is none; folds says whether the wood is convex there or ends.
func (w *wood) other(i, e int) (u int, folds bool) {
	half := w.across[3*i+e]
	if half < 0 {
		return -1, true
	}
	u = int(half) / 3
	if w.thin[i] || w.thin[u] {
		return u, true
	}
	third := w.points[w.facets[u][(int(half)%3+2)%3]]
	return u, third.Sub(w.points[w.facets[i][e]]).Dot(w.normals[i]) < -1e-9
}

// spread is a box of vectors by which the tip stands off, and how far round it the normals between may reach.
type spread struct {
	low, high geom.Vec
	open      bool // some facet is not seen from above
	any       bool
}

func (s *spread) add(off geom.Vec) {
	if !s.any {
		s.low, s.high, s.any = off, off, true
		return
	}
	s.low = geom.Vec{X: min(s.low.X, off.X), Y: min(s.low.Y, off.Y), Z: min(s.low.Z, off.Z)}
	s.high = geom.Vec{X: max(s.high.X, off.X), Y: max(s.high.Y, off.Y), Z: max(s.high.Z, off.Z)}
}

// reach is the box by which a ball of radius r may stand off in between: arcs on the ball bulge beyond their ends.
func (s *spread) reach(r float64) (low, high geom.Vec2) {
	if s.open {
		return geom.Vec2{X: -r, Y: -r}, geom.Vec2{X: r, Y: r}
	}
	half := s.high.Sub(s.low).Len() / 2
	bulge := r - math.Sqrt(max(r*r-half*half, 0)) + 1e-6
	return geom.Vec2{X: s.low.X - bulge, Y: s.low.Y - bulge}, geom.Vec2{X: s.high.X + bulge, Y: s.high.Y + bulge}
}
