package look

import "math"

// A slab is a run of heights that is drawn as a solid of its own: the whole piece, what a cut leaves, or one lifted layer.
// Slabs are kept in the order in which a ray meets them; none hides one before it.
type slab struct {
	low, high float64 // mm, in the closed stack; infinite where nothing is taken off
	shift     float64 // mm that it has been lifted
	drop      int32   // the same, in pixels of 1/256 up the picture
	entry     float64 // mm: height of the plane through which rays come in
	cut       bool    // rays come in through a plane
}

// level is the least slope of the rays for which a plane is seen from above or from below.
const level = 1e-6

func cutSlabs(out []slab, v *View, l *lens) []slab {
	top := math.Inf(1)
	if v.Cut > 0 && v.Cut < v.Height {
		top = v.Cut
	}
	low := math.Inf(-1)
	if v.Lift > 0 && len(v.Joints) < 1<<slabBits-1 {
		for i, joint := range v.Joints {
			if joint >= top {
				break
			}
			if joint > low {
				out = append(out, slab{low: low, high: joint, shift: v.Lift * float64(i)})
				low = joint
			}
		}
	}
	out = append(out, slab{low: low, high: top, shift: v.Lift * float64(len(out))})
	if l.ahead.Z <= 0 {
		for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
	}
	for i := range out {
		out[i].aim(l)
	}
	return out
}

// aim works out what depends on where the slab is seen from.
func (s *slab) aim(l *lens) {
	s.drop = int32(math.Round(s.shift * l.up.Z * l.scale * subPixel))
	switch {
	case l.ahead.Z < -level:
		s.entry = s.high
	case l.ahead.Z > level:
		s.entry = s.low
	default:
		s.entry = math.Inf(1)
	}
	s.cut = !math.IsInf(s.entry, 0)
}

// whole reports whether nothing is cut off the slab.
func (s *slab) whole() bool { return math.IsInf(s.low, -1) && math.IsInf(s.high, 1) }

// leave is the height of the plane through which rays leave the slab, infinite where there is none.
func (s *slab) leave() float64 {
	if s.entry == s.high {
		return s.low
	}
	return s.high
}
