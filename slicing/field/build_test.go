package field

import (
	"context"
	"math"
	"runtime"
	"slices"
	"testing"
	"time"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stoptest"
)

// TestSameOnAnyNumberOfCores: grid and table are the same to the bit.
func TestSameOnAnyNumberOfCores(t *testing.T) {
	m := solidtest.Shuffle(solidtest.Bumpy(50, 50_000), 1)
	var grids []*Grid
	var tables []*Table
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, cores := range []int{1, 2, 7} {
		runtime.GOMAXPROCS(cores)
		g := build(t, m, 80)
		pl, h := stood(g, geom.TurnXYZ(10, 20, 30), 1)
		grids, tables = append(grids, g), append(tables, table(t, g, pl, h))
	}
	for i := 1; i < 3; i++ {
		if !slices.Equal(grids[i].depth, grids[0].depth) {
			t.Error("depths differ")
		}
		if !slices.Equal(tables[i].volume, tables[0].volume) || !slices.Equal(tables[i].moments.sum, tables[0].moments.sum) {
			t.Error("tables differ")
		}
	}
}

// TestCalledOff: a build that is called off at any moment returns soon after.
func TestCalledOff(t *testing.T) {
	m := solidtest.Bumpy(100, 150_000)
	stoptest.Soon(t, 0.05, func(ctx context.Context) error {
		g, err := Build(ctx, m, 150, nil)
		if err != nil && g != nil {
			t.Error("a build that was called off gives a grid")
		}
		return err
	})
}

// TestLargeFacetsCalledOff: a few facets that each cross the whole grid are as many nodes to try, and can be called off.
func TestLargeFacetsCalledOff(t *testing.T) {
	m := &mesh.Mesh{}
	for i := range 20_000 {
		s, c := math.Sincos(float64(i))
		n := int32(len(m.Points))
		m.Points = append(m.Points, mesh.Point{float32(c), float32(s), -1}, mesh.Point{float32(-c), float32(-s), 1}, mesh.Point{float32(s), float32(c), float32(c)})
		m.Triangles = append(m.Triangles, mesh.Triangle{n, n + 1, n + 2})
	}
	stoptest.After(t, 100*time.Millisecond, 250*time.Millisecond, func(ctx context.Context) error {
		_, err := Build(ctx, m, 200, nil)
		return err
	})
}

func TestProgress(t *testing.T) {
	var got []float64
	begin := time.Now()
	if _, err := Build(context.Background(), solidtest.Bumpy(100, 300_000), 150, func(p float64) { got = append(got, p) }); err != nil {
		t.Fatal(err)
	}
	if most := int(time.Since(begin)/reportEvery) + 1; len(got) == 0 || len(got) > most {
		t.Errorf("%d reports, at most %d wanted", len(got), most)
	}
	if !slices.IsSorted(got) || got[0] < 0 || got[len(got)-1] > 1 {
		t.Errorf("progress goes %v", got)
	}
}

func TestBuildRefuses(t *testing.T) {
	nan, inf := float32(math.NaN()), float32(math.Inf(1))
	tri := []mesh.Triangle{{0, 1, 2}}
	for _, tt := range []struct {
		name  string
		m     *mesh.Mesh
		cells int
	}{
		{"no mesh", nil, 100},
		{"no triangles", &mesh.Mesh{Points: make([]mesh.Point, 3)}, 100},
		{"one place", &mesh.Mesh{Points: make([]mesh.Point, 3), Triangles: tri}, 100},
		{"not a number", &mesh.Mesh{Points: []mesh.Point{{nan}, {1}, {0, 1}}, Triangles: tri}, 100},
		{"infinite", &mesh.Mesh{Points: []mesh.Point{{inf}, {1}, {0, 1}}, Triangles: tri}, 100},
		{"point out of range", &mesh.Mesh{Points: make([]mesh.Point, 2), Triangles: tri}, 100},
		{"negative point", &mesh.Mesh{Points: make([]mesh.Point, 3), Triangles: []mesh.Triangle{{0, -1, 2}}}, 100},
		{"too fine", solidtest.Box(1, 1, 1), 1000},
		{"far too fine", solidtest.Box(1, 1, 1), math.MaxInt},
		{"too coarse", solidtest.Box(1, 1, 1), 3},
	} {
		if g, err := Build(context.Background(), tt.m, tt.cells, nil); err == nil || g != nil {
			t.Errorf("%s passes", tt.name)
		}
	}
}

// FuzzBuild: no mesh of a few facets, however odd, makes it panic or gives a depth that is no number.
func FuzzBuild(f *testing.F) {
	f.Add([]byte{0, 0, 0, 9, 0, 0, 0, 9, 0, 0, 0, 9}, []byte{0, 2, 1, 0, 1, 3, 0, 3, 2, 1, 2, 3})
	f.Add([]byte{0, 0, 0, 9, 0, 0, 5, 0, 0, 5, 0, 0}, []byte{0, 2, 3, 0, 1, 3, 0, 0, 0})
	f.Add([]byte{0, 0, 0, 9, 0, 0, 5, 0, 0, 5, 0, 0}, []byte{2, 3, 0}) // a side of no length
	f.Fuzz(func(t *testing.T, points, corners []byte) {
		m := &mesh.Mesh{}
		for ; len(points) >= 3 && len(m.Points) < 64; points = points[3:] {
			p := mesh.Point{}
			for i := range p {
				p[i] = float32(math.Ldexp(float64(points[i]%16)-5, int(points[i]/16)))
			}
			m.Points = append(m.Points, p)
		}
		for ; len(corners) >= 3 && len(m.Triangles) < 64; corners = corners[3:] {
			m.Triangles = append(m.Triangles, mesh.Triangle{int32(corners[0]), int32(corners[1]), int32(corners[2])})
		}
		g, err := Build(context.Background(), m, 8, nil)
		if err != nil {
			return
		}
		for i, d := range g.depth {
			if math.IsNaN(float64(d)) || math.IsInf(float64(d), 0) {
				t.Fatalf("depth at %v is %v", g.node(i), d)
			}
		}
		pl, h := stood(g, geom.TurnXYZ(10, 20, 30), 1)
		tb, err := NewTable(context.Background(), g, pl, h)
		if err != nil {
			t.Fatal(err)
		}
		if v := tb.CoreVolume(0, h, 0); v < 0 {
			t.Fatalf("core of %v", v)
		}
		g.straightCore(pl, h/4, h/2, 0, h/50)
	})
}
