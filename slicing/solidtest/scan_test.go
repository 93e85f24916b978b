package solidtest_test

import (
	"reflect"
	"testing"

	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// A scan is the same for the same seed, each fault comes about in a hundred scans, and each does what its name says.
func TestScansHaveTheirFaults(t *testing.T) {
	seen := map[string]int{}
	for seed := range int64(100) {
		s := solidtest.NewScan(seed)
		if again := solidtest.NewScan(seed); !reflect.DeepEqual(s, again) {
			t.Fatalf("seed %d gives two scans", seed)
		}
		f := mesh.Inspect(s.Mesh, s.Mesh.Adjacency())
		for _, fault := range s.Faults {
			seen[fault]++
		}
		if len(s.Faults) == 0 {
			seen["none"]++
			if !f.Solid() {
				t.Errorf("seed %d has no fault and is no solid: %+v", seed, f)
			}
			if v := s.Mesh.Volume(); v < s.Least*0.999999 || v > s.Most*1.000001 {
				t.Errorf("seed %d: volume %g, told %g to %g", seed, v, s.Least, s.Most)
			}
		}
		if s.Has("shells apart") && f.Shells < 2 {
			t.Errorf("seed %d has %d shells", seed, f.Shells)
		}
		if s.Has("floor") && f.Solid() {
			t.Errorf("seed %d has a floor and is solid", seed)
		}
		if s.Least > s.Most || s.Least <= 0 {
			t.Errorf("seed %d: volume from %g to %g", seed, s.Least, s.Most)
		}
		if n := len(s.Mesh.Triangles); n > 60_000 {
			t.Errorf("seed %d has %d facets", seed, n)
		}
	}
	if len(seen) != 10 {
		t.Errorf("faults: %v", seen)
	}
}
