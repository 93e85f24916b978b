package hours

import (
	"math"
	"testing"
)

// TestLinksFollowSteepFlanks: a way that leads over a rib keeps to the tip's surface where that is steepest, whatever places it is
// looked at first: a ball over a thin rib stands on a half circle.
func TestLinksFollowSteepFlanks(t *testing.T) {
	const r, high = 3.175, 8.0
	surface := func(x, least float64) float64 {
		if math.Abs(x) >= r {
			return least
		}
		return max(least, high-r+math.Sqrt(r*r-x*x))
	}
	for shift := 0.0; shift < 0.1; shift += 0.007 {
		var path []place
		w := worker{Ground: &Ground{Step: 0.3}}
		w.probe = func(x, _, least float64) float64 { return surface(x, least) }
		w.put = func(p place, _ float64) { path = append(path, p) }
		w.probing = 1
		from := place{x: -6 + shift}
		w.begin(machine(), from)
		w.motion.at = from
		path = append(path, from)
		w.over(place{x: 6}, math.Inf(-1))
		for k := 1; k < len(path); k++ {
			a, b := path[k-1], path[k]
			for s := 0.0; s <= 1; s += 0.01 {
				x, z := a.x+s*(b.x-a.x), a.z+s*(b.z-a.z)
				near := math.Inf(1) // how far the place lies inside the surface, at the least
				for d := -0.1; d <= 0.1; d += 0.001 {
					near = min(near, math.Hypot(d, max(surface(x+d, 0)-z, 0)))
				}
				if near > 0.008 {
					t.Fatalf("shifted by %.3f mm: the way runs %.3f mm inside the surface at %.3f mm", shift, near, x)
				}
			}
		}
		if len(path) > 200 {
			t.Errorf("%d places over one rib", len(path))
		}
	}
}
