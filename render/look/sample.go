package look

import "grainstack/slicing/geom"

// A sample is what one pixel sees.
type sample struct {
	h, x, y float32  // mm in the stand's frame, not lifted
	foot    float32  // mm of height that the pixel spans
	n       [3]int16 // unit normal in the stand's frame
	open    uint8    // to the sky
	kind    kind
	facet   int32
}

// kind is what sort of thing a pixel sees.
type kind uint8

const (
	paper   kind = iota
	surface      // the piece's own
	face         // laid bare by a cut or by lifting
	hollow       // the core's wall, seen through a face
)

func (s *sample) place(p geom.Vec, n vec) {
	s.x, s.y, s.h = float32(p.X), float32(p.Y), float32(p.Z)
	s.n = [3]int16{int16(n.x * packed), int16(n.y * packed), int16(n.z * packed)}
}

// normal is the sample's unit normal in the stand's frame.
func (s *sample) normal() vec {
	const unit = 1.0 / packed
	return vec{float32(s.n[0]) * unit, float32(s.n[1]) * unit, float32(s.n[2]) * unit}
}

// leastFacing bounds how obliquely a surface can be seen, so that a pixel at the rim spans a finite height.
const leastFacing = 0.06
