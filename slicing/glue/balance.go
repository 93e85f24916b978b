package glue

import (
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// A Body is the finished piece as it stands on the floor, z = 0.
type Body struct {
	MassG  float64
	Centre geom.Vec    // of its mass
	Base   geom.Region // what touches the floor
}

// A Balance says how safely a body stands.
type Balance struct {
	Hull    geom.Ring // round the base, counter-clockwise
	Margin  float64   // from the foot of the centre's plumb line to the nearest edge of the hull; negative outside it
	Towards geom.Vec2 // in which direction that edge lies, length 1
	TipDeg  float64   // tilt at which it falls over that way; negative when it does not stand at all
	EnergyJ float64   // to lift it over that edge; 0 when it does not stand
}

// gravity is the standard acceleration of free fall, m/s² (ISO 80000-3).
const gravity = 9.80665

// Stand works out the balance: the critical tilt is atan(margin / height of the centre), the energy
// m·g·(√(h² + d²) − h). ok is false where the base has no area or the centre is not above the floor.
func (b Body) Stand() (out Balance, ok bool) {
	out.Hull = plane.Hull(slices.Concat(b.Base...))
	if out.Hull.Area() <= 0 || !(b.Centre.Z > 0) || math.IsInf(b.Centre.Z, 0) {
		return Balance{}, false
	}
	foot := geom.Vec2{X: b.Centre.X, Y: b.Centre.Y}
	out.Margin = math.Inf(1)
	for i, p := range out.Hull {
		edge := out.Hull[(i+1)%len(out.Hull)].Sub(p)
		n := edge.Len()
		if d := edge.Cross(foot.Sub(p)) / n; d < out.Margin {
			out.Margin, out.Towards = d, geom.Vec2{X: edge.Y / n, Y: -edge.X / n}
		}
	}
	h := b.Centre.Z
	out.TipDeg = math.Atan2(out.Margin, h) * 180 / math.Pi
	if out.Margin > 0 {
		out.EnergyJ = b.MassG / 1000 * gravity * (math.Hypot(h, out.Margin) - h) / 1000
	}
	return out, true
}
