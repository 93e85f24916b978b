package plane

import "grainstack/slicing/geom"

// Thin appends to out what is needed of a line so that none of its points lies further than within from what stays (Douglas
// and Peucker, Cartographica 10(2), 1973): its last point always, its first never.
func Thin(out, line geom.Ring, within float64) geom.Ring {
	a, b := line[0], line[len(line)-1]
	worst, at := within, 0
	for i := 1; i+1 < len(line); i++ {
		if d := Apart(line[i], a, b); d > worst {
			worst, at = d, i
		}
	}
	if at == 0 {
		return append(out, b)
	}
	return Thin(Thin(out, line[:at+1], within), line[at:], within)
}
