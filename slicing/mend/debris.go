package mend

import "grainstack/slicing/mesh"

// shows reports whether a shell is large enough to be seen in a solid that is built anew from m: two steps of its grid.
func shows(s Shell, m *mesh.Mesh, set Settings) bool {
	size := s.Box.Size()
	return max(size.X, size.Y, size.Z) >= 2*stepFor(m.Box(), set)
}

// isDebris reports whether shell i is under a share of the largest one's volume and, where it is open so that its volume is
// only a guess, under the like share of its area.
func isDebris(shells []Shell, i int, share float64) bool {
	if shells[i].Share >= share {
		return false
	}
	if shells[i].Closed {
		return true
	}
	most := 0.0
	for _, s := range shells {
		most = max(most, s.Area)
	}
	return shells[i].Area < 10*share*most
}
