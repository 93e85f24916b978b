package arrange

import (
	"context"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stoptest"
)

func TestCalledOffReturnsAtOnce(t *testing.T) {
	m := warty(200_000, 5)
	stoptest.Soon(t, 0.05, func(ctx context.Context) error {
		r, err := Resolve(ctx, m)
		if err != nil && r != nil {
			t.Error("cutting that was called off gives a result")
		}
		return err
	})
}

// TestResultDoesNotDependOnCores: nor on the order in which a map is gone through, and the mesh stays as it was.
func TestResultDoesNotDependOnCores(t *testing.T) {
	m := warty(20_000, 5)
	before := &mesh.Mesh{Points: slices.Clone(m.Points), Triangles: slices.Clone(m.Triangles)}
	var first *Result
	for _, cores := range []int{1, 2, 5} {
		old := runtime.GOMAXPROCS(cores)
		r := resolved(t, m)
		runtime.GOMAXPROCS(old)
		if first == nil {
			first = r
		} else if !reflect.DeepEqual(first, r) {
			t.Errorf("another result with %d cores", cores)
		}
	}
	if !reflect.DeepEqual(m, before) {
		t.Error("the mesh was changed")
	}
}

// TestAgain: what was cut once holds the same when it is gone through again; points that were rounded move it by no more than that.
func TestAgain(t *testing.T) {
	for seed := range int64(12) {
		h := heap(seed)
		r := resolved(t, solidtest.Join(h...))
		again := resolved(t, r.Mesh)
		if n := len(again.Mesh.Triangles); n != len(r.Mesh.Triangles) && again.Touched == 0 {
			t.Errorf("%d: %d facets, then %d with nothing touched", seed, len(r.Mesh.Triangles), n)
		}
		if v, w := r.Mesh.Volume(), again.Mesh.Volume(); v-w > 1e-6*v || w-v > 1e-6*v {
			t.Errorf("%d: volume %g, then %g", seed, v, w)
		}
	}
}
