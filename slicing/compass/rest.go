package compass

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

const (
	restStarts = 12   // axes from whose both ends the piece is set down
	restMost   = 8    // ways of standing that are kept
	restApart  = 0.01 // radians between two ways of standing that differ
	// Planes count as touching where a point lies beyond them by no more than this share of its distance: float32 rounding.
	restSlack = 1e-6
	restSteps = 200 // more than any piece takes; a bound against rounding that goes in circles
)

// Rests are the ways in which the piece comes to rest when it is set down: directions of the piece that then point up. Set down,
// it tips onto the face of its convex hull that lies under its centre of mass, again and again until that is the face that it
// lies on. Such directions are narrow: a direction a few degrees beside them stands on an edge.
func Rests(m *mesh.Mesh, centre geom.Vec) []geom.Vec {
	r := &resting{mesh: m, centre: centre}
	var out []geom.Vec
	for _, d := range even(restStarts) {
		for _, down := range [2]geom.Vec{d, d.Scale(-1)} {
			up := r.settle(down).Scale(-1)
			known := up == geom.Vec{}
			for _, o := range out {
				known = known || up.Dot(o) > 0 && up.Cross(o).Len() < restApart
			}
			if !known && len(out) < restMost {
				out = append(out, up)
			}
		}
	}
	return out
}

// A resting keeps the points of the hull that have been met, about the centre.
type resting struct {
	mesh   *mesh.Mesh
	centre geom.Vec
	met    []geom.Vec
}

// settle tips the piece over from a direction that points down until it lies still; zero where that can't be told.
func (r *resting) settle(down geom.Vec) geom.Vec {
	for range restSteps {
		n, ok := r.under(down)
		if !ok {
			return geom.Vec{}
		}
		if n.Sub(down).Len() < restSlack {
			return n
		}
		down = n
	}
	return down
}

// under is the outward normal of the hull's face that the line from the centre along down passes through.
//
// Of the planes w·x = 1 about the centre that have all points on the inner side it is the one with the greatest w·down, a linear
// programme in three unknowns. The simplex method (Dantzig 1947) goes from one face to the next: three points whose cone
// holds the way down, and each time the point furthest outside their plane takes the place of one of them. It starts from a
// face well inside.
func (r *resting) under(down geom.Vec) (normal geom.Vec, ok bool) {
	size := r.mesh.Box().Size()
	little := 1e-4 * max(size.X, size.Y, size.Z)
	face := [3]geom.Vec{{X: math.Copysign(little, down.X)}, {Y: math.Copysign(little, down.Y)}, {Z: math.Copysign(little, down.Z)}}
	for range restSteps {
		a, b, c := face[0], face[1], face[2]
		det := a.Dot(b.Cross(c))
		if det == 0 {
			return geom.Vec{}, false
		}
		w := b.Cross(c).Add(c.Cross(a)).Add(a.Cross(b)).Scale(1 / det) // w·a = w·b = w·c = 1 (Cramer's rule)
		p, outside := r.outside(w)
		if !outside {
			return w.Unit(), true
		}
		leaves, least := -1, math.Inf(1)
		for k, side := range [3]geom.Vec{b.Cross(c), c.Cross(a), a.Cross(b)} {
			if share := p.Dot(side) / det; share > 0 {
				if q := down.Dot(side) / det / share; q < least {
					leaves, least = k, q
				}
			}
		}
		if leaves < 0 {
			return geom.Vec{}, false
		}
		face[leaves] = p
	}
	return geom.Vec{}, false
}

// outside is the point furthest outside the plane w·x = 1, among those met before if there is one.
func (r *resting) outside(w geom.Vec) (p geom.Vec, ok bool) {
	most := 1 + restSlack
	for _, q := range r.met {
		if h := w.Dot(q); h > most {
			p, most, ok = q, h, true
		}
	}
	if ok {
		return p, true
	}
	dx, dy, dz := float32(w.X), float32(w.Y), float32(w.Z)
	best, far := 0, float32(-math.MaxFloat32)
	for i, q := range r.mesh.Points {
		if h := dx*q[0] + dy*q[1] + dz*q[2]; h > far {
			best, far = i, h
		}
	}
	p = r.mesh.Points[best].Vec().Sub(r.centre)
	if w.Dot(p) <= most {
		return p, false
	}
	r.met = append(r.met, p)
	return p, true
}
