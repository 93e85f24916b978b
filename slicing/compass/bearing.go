package compass

import "grainstack/slicing/geom"

// A Bearing is one direction for the stack with all that it comes to. It never changes.
type Bearing struct {
	Up    geom.Vec  // of length 1, in the piece's own frame: what becomes the stack axis, pointing up
	Turn  geom.Turn // of the piece, so that Up stands up, turned about it for the fewest panels
	Now   bool      // the stand that the settings have
	Rough bool      // from the surface thinned quickly: will be worked out again

	Layers               int
	Trapped, TrappedCore float64 // mm³
	Residue              float64 // mm³
	RouterMin            float64
	Panels               int // nested by the parts' outlines, with a search that is shorter than a layout's
	WeightKg             float64
	Joints               int
	JointMin             float64 // mm², 0 where there is no joint
	TipDeg               float64 // 0 where it stands on a point or an edge
	StripeShare          float64 // 0 to 1
	RingShare            float64 // 0 along the features, 1 round them; a half where there are none
	WholeCut             int     // joints through regions to be kept whole

	widest float64 // mm², the largest section
}

// Axis is the bearing's place on the map.
func (b *Bearing) Axis() geom.Vec { return axis(b.Up) }

func (b *Bearing) jointWorth() float64 {
	if b.Joints == 0 {
		return b.widest
	}
	return b.JointMin
}
