package compass

import (
	"math"

	"grainstack/slicing/geom"
)

// Even are n directions spread evenly over the half sphere z > 0: rings of equal area, each a golden angle further round than
// the one below it. None lies on the rim, so that no axis comes twice.
func even(n int) []geom.Vec {
	golden := math.Pi * (3 - math.Sqrt(5))
	out := make([]geom.Vec, max(n, 0))
	for i := range out {
		z := 1 - (float64(i)+0.5)/float64(n)
		s, c := math.Sincos(golden * float64(i))
		r := math.Sqrt(1 - z*z)
		out[i] = geom.Vec{X: r * c, Y: r * s, Z: z}
	}
	return out
}

// Spacing is about the angle between neighbours of n even directions: that of a lattice of equilateral triangles on the area
// 2π.
func Spacing(n int) float64 { return math.Sqrt(4 * math.Pi / (math.Sqrt(3) * float64(max(n, 1)))) }

// Between is the angle between the axes along two directions, 0 to π/2: opposite directions are one axis.
func between(a, b geom.Vec) float64 {
	return math.Atan2(a.Cross(b).Len(), math.Abs(a.Dot(b)))
}

// Axis is the end of the axis along d that lies on the map: that with z > 0; on the rim that with y > 0, or x.
func axis(d geom.Vec) geom.Vec {
	if d.Z < 0 || d.Z == 0 && (d.Y < 0 || d.Y == 0 && d.X < 0) {
		return d.Scale(-1)
	}
	return d
}

// coarseFirst orders directions so that each is as far as can be from those before it, beginning with the first keep of them.
func coarseFirst(all []geom.Vec, keep int) []geom.Vec {
	out := make([]geom.Vec, 0, len(all))
	gap := make([]float64, len(all))
	for i := range gap {
		gap[i] = math.Inf(1)
	}
	take := func(k int) {
		out = append(out, all[k])
		gap[k] = -1
		for i, d := range all {
			gap[i] = min(gap[i], between(d, all[k]))
		}
	}
	for k := range min(keep, len(all)) {
		take(k)
	}
	for len(out) < len(all) {
		far := 0
		for i := range gap {
			if gap[i] > gap[far] {
				far = i
			}
		}
		take(far)
	}
	return out
}

// round are six directions at an angle from d, evenly round it.
func round(d geom.Vec, angle float64) []geom.Vec {
	u, v := square(d)
	out := make([]geom.Vec, 6)
	for k := range out {
		s, c := math.Sincos(float64(k) * math.Pi / 3)
		side := u.Scale(c).Add(v.Scale(s))
		out[k] = d.Scale(math.Cos(angle)).Add(side.Scale(math.Sin(angle))).Unit()
	}
	return out
}

// square are two directions square to d and to each other, so that u × v points along d.
func square(d geom.Vec) (u, v geom.Vec) {
	u = d.Cross(geom.Vec{X: 1})
	if u.Dot(u) < 0.5 {
		u = d.Cross(geom.Vec{Y: 1})
	}
	u = u.Unit()
	return u, d.Cross(u)
}

// Lean is how far a direction leans from the Z axis, 0 to 180 degrees, and which way, in degrees from X towards Y, 0 to 360.
func Lean(d geom.Vec) (leanDeg, roundDeg float64) {
	round := math.Atan2(d.Y, d.X)
	if round < 0 {
		round += 2 * math.Pi
	}
	return math.Atan2(math.Hypot(d.X, d.Y), d.Z) * 180 / math.Pi, round * 180 / math.Pi
}
