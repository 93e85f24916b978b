package cloud

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestPointsGetNormals: the points of an open scan with debris, without its facets, face as the facets do, stand for its area and are at
// the rim where it ends; the debris is left out.
func TestPointsGetNormals(t *testing.T) {
	ctx := context.Background()
	one := solidtest.Sittings(solidtest.Bumpy(60, 40_000), 3, 0.0005, 0.1, 4)[0]
	want, err := OfMesh(ctx, one.Mesh)
	if err != nil {
		t.Fatal(err)
	}
	got, err := OfPoints(ctx, one.Mesh.Points, nil)
	if err != nil {
		t.Fatal(err)
	}
	if got.Loose == 0 || math.Abs(float64(len(got.Points))/float64(len(want.Points))-1) > 0.02 {
		t.Errorf("%d points and %d bits of debris, want %d", len(got.Points), got.Loose, len(want.Points))
	}
	if math.Abs(got.Area()/want.Area()-1) > 0.15 {
		t.Errorf("an area of %g, want %g", got.Area(), want.Area())
	}
	number := map[mesh.Point]int{}
	for i, p := range want.Points {
		number[p] = i
	}
	wrong, rims, missed := 0, 0, 0
	for i, p := range got.Points {
		j, ok := number[p]
		if !ok {
			continue
		}
		if got.Normals[i].Vec().Dot(want.Normals[j].Vec()) < 0.8 {
			wrong++
		}
		if want.Rim[j] {
			rims++
			if !got.Rim[i] {
				missed++
			}
		} else if got.Rim[i] {
			missed++
		}
	}
	if wrong > len(got.Points)/100 {
		t.Errorf("%d of %d normals are wrong", wrong, len(got.Points))
	}
	if rims == 0 || missed > rims {
		t.Errorf("%d points are at the rim or are not, against what the facets say, of %d", missed, rims)
	}
}

// TestCloudOfFacets: a box of twelve large facets is a cloud of places all over it, with its area.
func TestCloudOfFacets(t *testing.T) {
	m := solidtest.Join(solidtest.Box(100, 60, 80), solidtest.Moved(solidtest.Sphere(3, 2000), geom.Vec{X: 200}))
	c, err := OfMesh(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(c.Area()/37600-1) > 0.01 || c.Loose != 1 {
		t.Errorf("an area of %g and %d bits left out, of a box of 37600", c.Area(), c.Loose)
	}
	for i, p := range c.Points {
		for k, most := range [3]float32{100, 60, 80} {
			if p[k] < 0 || p[k] > most {
				t.Fatalf("point %d at %v", i, p)
			}
		}
	}
	thin := c.Thinned(10)
	if math.Abs(thin.Area()/c.Area()-1) > 1e-5 || len(thin.Points) >= len(c.Points) && len(c.Points) > 100 {
		t.Errorf("thinned to %d points of %d with an area of %g", len(thin.Points), len(c.Points), thin.Area())
	}
}
