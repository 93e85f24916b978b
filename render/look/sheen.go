package look

import (
	"math"

	"grainstack/slicing/geom"
)

// A sheen is the light that the fibres below the surface throw back: a highlight on a cone about the fibre, in the wood's own
// colour, so that it turns with the grain. After Marschner, Westin, Arbree & Moon, Measuring and modeling the appearance of
// finished wood, ACM TOG 24(3), 2005: with ψ the refracted directions' angles to the plane across the fibre, a bell of
// ψin + ψout, over the squared cosine of half their difference.
type sheen struct {
	in, out vec     // towards the light and the viewer
	mean    float32 // what it adds to a ball on the whole, taken off everywhere, so that the wood's mean tone stays
	bell    [sheenSteps + 1]float32
}

const (
	sheenSteps = 256
	// index is the refractive index of wood's surface or varnish, as the source takes it.
	index = 1.5
	// sheenWidth is the bell's standard deviation in radians: 12 degrees for the fibres (the source finds 10 to 15), and as
	// much again for a light that is wide.
	sheenWidth = 0.27
	// sheenPeak is how much of the key's diffuse light the highlight adds where it is strongest: by eye.
	sheenPeak = 0.34
	// waver is how far fibres lean out of the veneer, in radians for a streak of full strength, up or down: what makes the
	// figure shimmer.
	waver = 0.9
)

func newSheen(light, viewer geom.Vec) sheen {
	s := sheen{in: short(light), out: short(viewer)}
	for i := range s.bell {
		psi := 2 * float64(i) / sheenSteps
		s.bell[i] = float32(sheenPeak * math.Exp(-psi*psi/(2*sheenWidth*sheenWidth)))
	}
	s.mean = s.overBall()
	return s
}

// overBall is the mean of the highlight over the half of a ball that is seen, each place counting by its light and by how
// large it is seen, half of the fibres running along X.
func (s *sheen) overBall() float32 {
	const rings, steps = 10, 24
	across := geom.Vec{X: float64(s.out.x), Y: float64(s.out.y), Z: float64(s.out.z)}
	side := across.Cross(geom.Vec{X: 0.31, Y: 0.47, Z: 0.83}).Unit()
	up := across.Cross(side)
	sum, all := float32(0), float32(0)
	for i := range rings {
		r := math.Sqrt((float64(i) + 0.5) / rings) // of the disc that the viewer sees
		for j := range steps {
			sin, cos := math.Sincos(2 * math.Pi * float64(j) / steps)
			n := short(side.Scale(r * cos).Add(up.Scale(r * sin)).Add(across.Scale(math.Sqrt(1 - r*r))))
			light := max(0, s.in.dot(n.x, n.y, n.z))
			alongX, alongY := (1-endShare(n.x*n.x))/2, (1-endShare(n.y*n.y))/2
			sum += light * s.on(n.x, n.y, n.z, s.out.dot(n.x, n.y, n.z), alongX, alongY, 0)
			all += light * (alongX + alongY)
		}
	}
	return sum / max(all, 1e-6)
}

// on is what the fibres add, in parts of the key's diffuse light, on a normal where a share alongX of what is seen is long
// grain with fibres along X and a share alongY with fibres along Y. lean is how far the fibres lean, in radians.
func (s *sheen) on(x, y, z, facing, alongX, alongY, lean float32) float32 {
	const inverse = 1.0 / index
	li := max(0, s.in.dot(x, y, z))
	// The refracted direction is the part along the surface over the index, and what is left of its length along the normal.
	in := float32(math.Sqrt(float64(1-(1-li*li)*(inverse*inverse)))) - li*inverse
	out := float32(math.Sqrt(float64(1-(1-facing*facing)*(inverse*inverse)))) - facing*inverse
	ix, iy := s.in.x*inverse+in*x, s.in.y*inverse+in*y
	ox, oy := s.out.x*inverse+out*x, s.out.y*inverse+out*y
	return alongX*s.lobe(ix, ox, lean) + alongY*s.lobe(iy, oy, lean) - s.mean*(alongX+alongY)
}

// lobe is the highlight for the sines of both angles; up to 40 degrees their sum stands for the sum of the angles within a
// tenth.
func (s *sheen) lobe(in, out, lean float32) float32 {
	sum, off := abs(in+out+lean), (in-out)/2
	if !(sum < 2) { // nothing, or no number
		return 0
	}
	return s.bell[int(sum*(sheenSteps/2))] / max(0.4, 1-off*off)
}

// endShare is how much end grain shows where the squared cosine between normal and fibres is e: none along the fibres, all
// across, and slow to change near both, as fibres a few degrees off the surface hardly show their ends.
func endShare(e float32) float32 { return e * e * (3 - 2*e) }
