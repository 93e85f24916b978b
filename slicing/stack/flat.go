package stack

import (
	"sort"

	"grainstack/slicing/geom"
)

// flatRange is the height difference, mm, below which two heights of a piece are the same: see sliverShare. A facet that
// lies within it is flat, and a flat face within it of a joint lies on the joint.
func flatRange(box geom.Box) float64 {
	s := box.Size()
	return sliverShare * max(s.X, s.Y, s.Z)
}

// A flat is a facet without slope: at its height the section's area jumps.
type flat struct {
	z       float64
	signed  float64 // area, negative facing down
	x, y, w float64 // ∫x, ∫y and ∫z over it, signed as the area
}

// A level is all flats at one height.
type level struct {
	z        float64 // mean height
	up, down float64 // area
	// Sums of the signed area and of its moments over this and all lower levels, mx and my being ∫x and ∫y, mz ∫z, and
	// mxz and myz those times the height. Together they make the flats' share of the volume below h, mz - net·h; tall is
	// what its integral over the heights has left once z·mz - z²/2·net is taken out.
	net, mx, my, mz, mxz, myz, tall float64
}

// levels gathers flats whose heights are within tolerance of the lowest of them, in rising order.
func levels(flats []flat, tolerance float64) []level {
	sort.SliceStable(flats, func(i, j int) bool { return flats[i].z < flats[j].z })
	var out []level
	var run level
	for i := 0; i < len(flats); {
		first := flats[i].z
		l, size := run, 0.0
		l.z, l.up, l.down = 0, 0, 0
		for ; i < len(flats) && flats[i].z-first <= tolerance; i++ {
			f := flats[i]
			if f.signed > 0 {
				l.up += f.signed
			} else {
				l.down -= f.signed
			}
			l.z += (f.z - first) * max(f.signed, -f.signed)
			size += max(f.signed, -f.signed)
			l.net += f.signed
			l.mx += f.x
			l.my += f.y
			l.mz += f.w
			l.mxz += f.x * f.z
			l.myz += f.y * f.z
		}
		if size > 0 {
			l.z /= size
		}
		l.z += first
		net, mz := l.net-run.net, l.mz-run.mz
		l.tall += l.z * (net*l.z/2 - mz)
		out, run = append(out, l), l
	}
	return out
}

// under is the level whose sums hold everything at or below z, the zero level where there is nothing.
func under(ls []level, z float64) level {
	i := sort.Search(len(ls), func(i int) bool { return ls[i].z > z })
	if i == 0 {
		return level{}
	}
	return ls[i-1]
}

// between sums the areas of the levels strictly between two heights.
func between(ls []level, z0, z1 float64) (up, down float64) {
	for i := sort.Search(len(ls), func(i int) bool { return ls[i].z > z0 }); i < len(ls) && ls[i].z < z1; i++ {
		up += ls[i].up
		down += ls[i].down
	}
	return up, down
}
