package carve_test

import (
	"context"
	"errors"
	"math"
	"math/rand"
	"reflect"
	"runtime"
	"slices"
	"testing"
	"time"

	"github.com/unixpickle/model3d/model3d"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/sample"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
)

// hare is the demo piece, 250 mm high.
func hare(t testing.TB, triangles int) *stack.Placed {
	t.Helper()
	m := sample.Hare(triangles)
	p, err := stack.Place(context.Background(), m, stack.Stand{Turn: geom.TurnXYZ(7, 11, 0), Scale: 250 / m.Box().Size().Z})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestColumnsAgainstRays sets the columns of the demo piece against ray casts of an independent general library
// (unixpickle/model3d), by parity.
func TestColumnsAgainstRays(t *testing.T) {
	p := hare(t, 60_000)
	tris := make([]*model3d.Triangle, len(p.Mesh.Triangles))
	at := func(v geom.Vec) model3d.Coord3D { return model3d.XYZ(v.X, v.Y, v.Z) }
	for i := range tris {
		a, b, c := p.Mesh.Corners(i)
		tris[i] = &model3d.Triangle{at(a), at(b), at(c)}
	}
	solid := model3d.MeshToCollider(model3d.NewMeshTriangles(tris))
	cs := reach(t, p.Mesh, layers(t, p.Box.Size().Z, 40), carve.Options{Step: 1})
	rnd := rand.New(rand.NewSource(1))
	seen, wrong, undercut := 0, 0, 0
	for range 20_000 {
		l := &cs[rnd.Intn(len(cs))]
		i, j := rnd.Intn(l.Top.W), rnd.Intn(l.Top.H)
		v := l.Top.Place(i, j)
		var hits []float64
		solid.RayCollisions(&model3d.Ray{Origin: model3d.XYZ(v.X, v.Y, -1), Direction: model3d.Z(1)}, func(c model3d.RayCollision) {
			hits = append(hits, c.Scale-1)
		})
		slices.Sort(hits)
		top, bottom, gap := rayed(hits, l.Slab)
		var trapped float64
		if l.Outside.Map.Z != nil {
			trapped = float64(l.Outside.Map.At(i, j))
		}
		seen++
		if gap > 0 {
			undercut++
		}
		if math.Abs(float64(l.Top.At(i, j))-top) > 2e-3 || math.Abs(float64(l.Bottom.At(i, j))-bottom) > 2e-3 || math.Abs(trapped-gap) > 4e-3 {
			wrong++
			t.Logf("layer %d at %v: got %g to %g, %g trapped, want %g to %g, %g", l.Number, v, l.Bottom.At(i, j), l.Top.At(i, j), trapped, bottom, top, gap)
		}
	}
	t.Logf("%d columns, %d with undercut, %d different", seen, undercut, wrong)
	if wrong > seen/5000 || undercut < 100 { // a ray that grazes an edge may be counted twice there
		t.Errorf("%d of %d columns differ; %d have an undercut", wrong, seen, undercut)
	}
}

// rayed is what lies in a layer by parity of the hits.
func rayed(hits []float64, s stack.Slab) (top, bottom, gap float64) {
	top, bottom = float64(carve.NoWood), float64(carve.NoWood)
	for k := 0; k+1 < len(hits); k += 2 {
		lo, hi := max(hits[k], s.Bottom), min(hits[k+1], s.Top)
		if hi-lo <= 0.001 {
			continue
		}
		if bottom < 0 && bottom == float64(carve.NoWood) {
			bottom = lo
		} else {
			gap += lo - top
		}
		top = hi
	}
	return top, bottom, gap
}

// TestWoodAgainstProfile sets the columns' volume against the exact one.
func TestWoodAgainstProfile(t *testing.T) {
	p := hare(t, 60_000)
	profile, err := stack.NewProfile(context.Background(), p.Mesh)
	if err != nil {
		t.Fatal(err)
	}
	slabs := layers(t, p.Box.Size().Z, 18)
	for k, l := range reach(t, p.Mesh, slabs, carve.Options{}) {
		if want := profile.Volume(slabs[k].Bottom, slabs[k].Top); math.Abs(l.Wood-want) > 0.002*want+30 {
			t.Errorf("layer %d: got %.0f mm³, want %.0f", l.Number, l.Wood, want)
		}
	}
}

// TestSameFromAnyOrder: the order of triangles, points and cores changes nothing.
func TestSameFromAnyOrder(t *testing.T) {
	p := hare(t, 30_000)
	slabs := layers(t, p.Box.Size().Z, 18)
	want := reach(t, p.Mesh, slabs, carve.Options{})
	if got := reach(t, solidtest.Shuffle(p.Mesh, 3), slabs, carve.Options{}); !reflect.DeepEqual(got, want) {
		t.Error("another order of triangles gives other columns")
	}
	w := carve.Work{Cutter: ball, Past: 0.5}
	cuts, err := carve.Cuts(context.Background(), want, w, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if got := reach(t, p.Mesh, slabs, carve.Options{}); !reflect.DeepEqual(got, want) {
		t.Error("one core gives other columns than all")
	}
	if got, err := carve.Cuts(context.Background(), want, w, nil); err != nil || !reflect.DeepEqual(got, cuts) {
		t.Error("one core cuts otherwise than all")
	}
}

// TestMirrored: a piece upside down has its sides exchanged.
func TestMirrored(t *testing.T) {
	m := hare(t, 30_000).Mesh
	up := place(t, m)
	down := place(t, solidtest.Flip(solidtest.Stretch(up.Mesh, 1, 1, -1)))
	h := up.Box.Size().Z
	slab := []stack.Slab{{Number: 1, Top: h}}
	a, b := reach(t, up.Mesh, slab, carve.Options{Step: 1})[0], reach(t, down.Mesh, slab, carve.Options{Step: 1})[0]
	if math.Abs(a.Outside.Volume-b.Outside.Volume) > 1e-3*a.Outside.Volume || a.Outside.Volume == 0 {
		t.Errorf("trapped: %g and %g mm³", a.Outside.Volume, b.Outside.Volume)
	}
	for i := range a.Top.Z {
		if a.Top.Z[i] != carve.NoWood && math.Abs(float64(a.Top.Z[i])+float64(b.Bottom.Z[i])-h) > 1e-3 {
			t.Fatalf("column %d: %g above, %g below", i, a.Top.Z[i], b.Bottom.Z[i])
		}
	}
}

func TestOverlap(t *testing.T) {
	// Two blocks pushed into each other are one: 1.5 times the volume of one when shifted by half.
	m := solidtest.Join(solidtest.Box(20, 20, 20), solidtest.Moved(solidtest.Box(20, 20, 20), geom.Vec{Z: 10}))
	p := place(t, m)
	wood, outside, _ := sums(reach(t, p.Mesh, layers(t, 30, 30), carve.Options{}))
	near(t, "wood", wood, 12000, 1e-9)
	if outside != 0 {
		t.Errorf("%g mm³ trapped", outside)
	}
}

func TestCalledOff(t *testing.T) {
	p := hare(t, 300_000)
	slabs := layers(t, p.Box.Size().Z, 18)
	ctx, cancel := context.WithCancel(context.Background())
	var called time.Time
	o := carve.Options{Step: 0.25, Progress: func(share float64) {
		if share > 0.3 && called.IsZero() {
			called = time.Now()
			cancel()
		}
	}}
	if _, err := carve.Reach(ctx, p.Mesh, slabs, o); !errors.Is(err, context.Canceled) {
		t.Fatalf("got %v", err)
	}
	t.Logf("columns stopped after %v", time.Since(called))
	cs := reach(t, p.Mesh, slabs, carve.Options{})
	ctx, cancel = context.WithCancel(context.Background())
	time.AfterFunc(20*time.Millisecond, cancel)
	if _, err := carve.Cuts(ctx, cs, carve.Work{Cutter: ball}, nil); !errors.Is(err, context.Canceled) {
		t.Fatalf("got %v", err)
	}
}

func TestOdd(t *testing.T) {
	ctx := context.Background()
	if cs, err := carve.Reach(ctx, &mesh.Mesh{}, nil, carve.Options{}); err != nil || len(cs) != 0 {
		t.Errorf("nothing gives %v, %v", cs, err)
	}
	box := place(t, solidtest.Box(10, 10, 10)).Mesh
	for _, step := range []float64{-1, 1e-9, math.NaN(), math.Inf(1)} {
		if _, err := carve.Reach(ctx, box, layers(t, 10, 5), carve.Options{Step: step}); err == nil {
			t.Errorf("a step of %g is taken", step)
		}
	}
	if _, err := carve.Reach(ctx, box, []stack.Slab{{Bottom: 5, Top: 9}, {Bottom: 0, Top: 5}}, carve.Options{}); err == nil {
		t.Error("layers that go down are taken")
	}
	cs := reach(t, box, layers(t, 10, 5), carve.Options{})
	for _, w := range []carve.Work{
		{},
		{Cutter: stock.Cutter{Diameter: math.NaN()}},
		{Cutter: stock.Cutter{Diameter: 1e9}},
		{Cutter: stock.Cutter{Shape: stock.Taper, Diameter: 6, CornerRadius: 1}},
		{Cutter: ball, Leave: -1},
		{Cutter: ball, Past: math.NaN()},
	} {
		if _, err := carve.Cuts(ctx, cs, w, nil); err == nil {
			t.Errorf("%+v is taken", w)
		}
	}
	// A tip that stays above the panel is odd, but does no harm.
	if _, err := carve.Cuts(ctx, cs, carve.Work{Cutter: ball, Past: -50}, nil); err != nil {
		t.Error(err)
	}
}
