package look

import "grainstack/slicing/mesh"

// spreadPoints is how many points stand for the whole surface when its shadow is thrown: enough for several in each cell
// of the shadow's grid.
const spreadPoints = 40000

// scatter lays points evenly over the surface, each standing for the same area: one at every step of the running sum of
// areas, placed in its triangle by a low-discrepancy pair (multiples of the plastic number's inverse and its square).
// Of a surface with very many triangles only every so many
// is asked, which then stands for its neighbours. area is twice the surface's.
func (b *Body) scatter(area float64) []mesh.Point {
	if !(area > 0) {
		return nil
	}
	stride := 1 + len(b.triangles)/(4*spreadPoints)
	step := area / spreadPoints / float64(stride)
	out := make([]mesh.Point, 0, spreadPoints+1)
	sum, next := 0.0, step/2
	u, v := 0.5, 0.5
	for i := 0; i < len(b.triangles); i += stride {
		t := b.triangles[i]
		sum += float64(length(facetNormal(b.points, t)))
		for next < sum && len(out) <= spreadPoints {
			next += step
			u, v = frac(u+0.7548776662466927), frac(v+0.5698402909980532)
			out = append(out, inside(b.points, t, float32(u), float32(v)))
		}
	}
	return out
}

func frac(x float64) float64 {
	if x >= 1 {
		return x - 1
	}
	return x
}

// inside is the point of the triangle at u, v in the unit square, folded at its diagonal.
func inside(points []mesh.Point, t mesh.Triangle, u, v float32) mesh.Point {
	if u+v > 1 {
		u, v = 1-u, 1-v
	}
	a, b, c := points[t[0]], points[t[1]], points[t[2]]
	var p mesh.Point
	for i := range p {
		p[i] = a[i] + u*(b[i]-a[i]) + v*(c[i]-a[i])
	}
	return p
}
