package workshop

import (
	"math"

	"grainstack/slicing/field"
	"grainstack/slicing/geom"
	"grainstack/slicing/glue"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
)

// A Joint is the glued face between two layers, with its pins.
type Joint struct {
	glue.Joint
	Z     float64 // mm above the floor
	Pins  []panel.Pin
	Depth float64 // of the pins into either layer, mm
	Hole  float64 // of their holes, mm: deeper where the cutter that carves them leaves a rounded foot

	// Lower and Upper are the sections just below and just above, LowerCore and UpperCore the hollows there.
	Lower, Upper, LowerCore, UpperCore geom.Region

	under, over []geom.Region // the same sections by the layers' parts

	// lowerPieces and upperPieces are Lower and Upper with the parts' joint lines as edges; none where no part is split.
	lowerPieces, upperPieces geom.Region

	levels []pinLevel // sections above and below, over the depth of the holes and beyond
	depths *pinDepths // nil where there is no field
}

// leastSkin is the least wood between the end of a pin and the layer's other face, mm (common practice, no source).
const leastSkin = 3.0

// rim is the narrowest ring of wood that is glued between a hollow and the outside, mm; 0 where neither layer is hollow there.
func (j *Joint) rim() (least float64) {
	for _, core := range []geom.Region{j.LowerCore, j.UpperCore} {
		for _, outline := range []geom.Region{j.Lower, j.Upper} {
			if r, ok := field.NarrowestRim(core, outline); ok && (least == 0 || r.Width < least) {
				least = r.Width
			}
		}
	}
	return least
}

// A pinLevel is a height at which a pin has wood all round.
type pinLevel struct {
	z    float64
	wood geom.Region
}

// pinDepths tell by the field how far a pin's axis at a joint is from the surface and from the hollow, over the depth of its
// hole.
type pinDepths struct {
	st   *job.Standing
	wall float64
	at   []depthLevel
}

type depthLevel struct {
	z      float64
	hollow bool // the layer is hollowed there
}

// room is the least distance of a pin's axis from the surface and, infinite where there is none, from the hollow, mm. A point d
// below the surface is at least wall - d from the hollow.
func (p *pinDepths) room(axis geom.Vec2) (outside, hollow float64) {
	outside, hollow = math.Inf(1), math.Inf(1)
	for _, l := range p.at {
		d := p.st.Grid.Depth(p.st.Placed.Placement.Back(geom.Vec{X: axis.X, Y: axis.Y, Z: l.z})) * p.st.Stand.Scale
		if outside = math.Min(outside, d); l.hollow {
			hollow = math.Min(hollow, p.wall-d)
		}
	}
	return outside, hollow
}

// clear is the lesser of both, as the search for pins wants it; nil where there is no field.
func (j *Joint) clear() func(geom.Vec2) float64 {
	if j.depths == nil {
		return nil
	}
	return func(axis geom.Vec2) float64 { return math.Min(j.depths.room(axis)) }
}
