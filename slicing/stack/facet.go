package stack

import (
	"math"

	"grainstack/slicing/mesh"
)

// A facet is a triangle with its corners in order of height and what it adds to the profile once it lies wholly below.
type facet struct {
	x, y, z [3]float64 // corners, z rising
	shade   float64    // signed area of its projection onto the floor, positive facing up
	skin    float64    // its area
	wall    float64    // its area seen from the side: the perimeter of sections, integrated over the height
	rows    [2]float64 // length of finishing rows along X and along Y times their distance
	side    int        // facing: up, down or upright
}

// Sides of a facet.
const (
	up = iota
	down
	upright
	sides
)

// uprightSlope is the height of a unit normal below which a facet counts as a wall that faces neither up nor down: turning a
// piece leaves rounding of that size in the normals of its walls.
const uprightSlope = 1e-6

func (f *facet) set(a, b, c mesh.Point) {
	ax, ay, az := float64(a[0]), float64(a[1]), float64(a[2])
	bx, by, bz := float64(b[0]), float64(b[1]), float64(b[2])
	cx, cy, cz := float64(c[0]), float64(c[1]), float64(c[2])
	ux, uy, uz := bx-ax, by-ay, bz-az
	vx, vy, vz := cx-ax, cy-ay, cz-az
	nx, ny, nz := uy*vz-uz*vy, uz*vx-ux*vz, ux*vy-uy*vx
	nx2, ny2, nz2 := nx*nx, ny*ny, nz*nz
	f.shade = nz / 2
	f.skin = math.Sqrt(nx2+ny2+nz2) / 2
	f.wall = math.Sqrt(nx2+ny2) / 2
	f.rows = [2]float64{math.Sqrt(nx2+nz2) / 2, math.Sqrt(ny2+nz2) / 2}
	switch {
	case math.Abs(f.shade) <= uprightSlope*f.skin:
		f.side = upright
	case nz > 0:
		f.side = up
	default:
		f.side = down
	}
	if az > bz {
		ax, ay, az, bx, by, bz = bx, by, bz, ax, ay, az
	}
	if bz > cz {
		bx, by, bz, cx, cy, cz = cx, cy, cz, bx, by, bz
		if az > bz {
			ax, ay, az, bx, by, bz = bx, by, bz, ax, ay, az
		}
	}
	f.x, f.y, f.z = [3]float64{ax, bx, cx}, [3]float64{ay, by, cy}, [3]float64{az, bz, cz}
}

// flat is the facet as one without slope.
func (f *facet) flat() flat {
	third := f.shade / 3
	return flat{
		z: (f.z[0] + f.z[1] + f.z[2]) / 3, signed: f.shade,
		x: third * (f.x[0] + f.x[1] + f.x[2]), y: third * (f.y[0] + f.y[1] + f.y[2]), w: third * (f.z[0] + f.z[1] + f.z[2]),
	}
}

// below is the share of the facet below h, and the mean of min(z-h, 0) over the whole facet: a square and a cube of the
// height, one piece on each side of the middle corner.
func (f *facet) below(h float64) (share, depth float64) {
	a, b, c := f.z[0], f.z[1], f.z[2]
	mean := (a+b+c)/3 - h
	switch {
	case h <= a:
		return 0, 0
	case h >= c:
		return 1, mean
	case h < b:
		t := h - a
		share = t / (b - a) * t / (c - a)
		return share, -share * t / 3
	}
	u := c - h
	rest := u / (c - b) * u / (c - a)
	return 1 - rest, mean - rest*u/3
}
