package look

import "grainstack/slicing/geom"

// A vec is a geom.Vec for the work that is done per pixel.
type vec struct{ x, y, z float32 }

func short(v geom.Vec) vec { return vec{float32(v.X), float32(v.Y), float32(v.Z)} }

func (a *vec) dot(x, y, z float32) float32 { return a.x*x + a.y*y + a.z*z }

func abs(f float32) float32 { return max(f, -f) }

// within is f, 0 where it is below 0 or no number, and at most top.
func within(f, top float64) float64 {
	if !(f > 0) {
		return 0
	}
	return min(f, top)
}
