package decimate

import "grainstack/slicing/geom"

// planes are the sum over planes n·p = d of area·(n·p - d)²: the quadric of Garland and Heckbert.
type planes struct {
	xx, xy, xz, yy, yz, zz float64 // area·n·nᵀ
	x, y, z                float64 // -area·d·n
	c                      float64 // area·d²
	area                   float64
}

// planeOf is the quadric of one triangle; a triangle without area has none.
func planeOf(a, b, c geom.Vec) planes {
	n := b.Sub(a).Cross(c.Sub(a))
	double := n.Len()
	if double == 0 {
		return planes{}
	}
	n = n.Scale(1 / double)
	area, d := double/2, n.Dot(a)
	m := n.Scale(area)
	return planes{
		m.X * n.X, m.X * n.Y, m.X * n.Z, m.Y * n.Y, m.Y * n.Z, m.Z * n.Z, -d * m.X, -d * m.Y, -d * m.Z, area * d * d, area,
	}
}

func (q *planes) add(o *planes) {
	q.xx += o.xx
	q.xy += o.xy
	q.xz += o.xz
	q.yy += o.yy
	q.yz += o.yz
	q.zz += o.zz
	q.x += o.x
	q.y += o.y
	q.z += o.z
	q.c += o.c
	q.area += o.area
}

// slope is half the gradient at p.
func (q *planes) slope(p geom.Vec) geom.Vec {
	return geom.Vec{
		X: q.xx*p.X + q.xy*p.Y + q.xz*p.Z + q.x,
		Y: q.xy*p.X + q.yy*p.Y + q.yz*p.Z + q.y,
		Z: q.xz*p.X + q.yz*p.Y + q.zz*p.Z + q.z,
	}
}

// off is the mean squared distance from p to the planes.
func (q *planes) off(p geom.Vec) float64 {
	if q.area == 0 {
		return 0
	}
	s := q.slope(p)
	return max(0, (p.Dot(s)+q.x*p.X+q.y*p.Y+q.z*p.Z+q.c)/q.area)
}

// best is the point of least error; directions that the planes leave open are held to near by a small pull. It is near
// itself where the answer lies further than reach away.
func (q *planes) best(near geom.Vec, reach float64) geom.Vec {
	const pull = 1e-3 // of the planes' own stiffness
	s := q.slope(near)
	k := pull * q.area
	a, b, d := q.xx+k, q.yy+k, q.zz+k
	// Cramer's rule for the symmetric matrix (a xy xz; xy b yz; xz yz d).
	u, v, w := b*d-q.yz*q.yz, q.xz*q.yz-q.xy*d, q.xy*q.yz-q.xz*b
	det := a*u + q.xy*v + q.xz*w
	if !(det > 0) {
		return near
	}
	e, f, g := a*d-q.xz*q.xz, q.xy*q.xz-a*q.yz, a*b-q.xy*q.xy
	step := geom.Vec{
		X: -(u*s.X + v*s.Y + w*s.Z) / det, Y: -(v*s.X + e*s.Y + f*s.Z) / det, Z: -(w*s.X + f*s.Y + g*s.Z) / det,
	}
	if step.Dot(step) > reach*reach {
		return near
	}
	return near.Add(step)
}
