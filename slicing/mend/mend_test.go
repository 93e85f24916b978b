package mend

import (
	"context"
	"math"
	"math/rand"
	"testing"

	"grainstack/slicing/arrange"
	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// mended mends m and checks that the result is closed, a 2-manifold and faces outward in one shell or as many as told.
func mended(t *testing.T, m *mesh.Mesh, s Settings, shells int) *Result {
	t.Helper()
	r, err := Mend(context.Background(), m, m.Adjacency(), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	checkSolid(t, r.Mesh, shells)
	return r
}

func checkSolid(t *testing.T, m *mesh.Mesh, shells int) {
	t.Helper()
	f := mesh.Inspect(m, m.Adjacency())
	if !f.Solid() || f.Shells != shells || f.Cavities != 0 {
		t.Errorf("not one solid: %d shells (want %d), %d cavities, open %d, crowded %d, flipped %d, inward %d, volume %.6g",
			f.Shells, shells, f.Cavities, f.OpenEdges, f.NonManifoldEdges, f.FlippedEdges, f.InwardShells, f.Volume)
	}
	if n := tiedPoints(m); n > 0 {
		t.Errorf("%d points hold surfaces together that only touch there", n)
	}
	if c := crossingsOf(t, m); len(c) > 0 {
		t.Errorf("%d pairs of facets cross", len(c))
	}
}

// tiedPoints counts points whose facets are not one fan: facets round a point and corners round it must be as many as edges.
func tiedPoints(m *mesh.Mesh) int {
	next := map[[2]int32]int32{}
	count := map[int32]int{}
	for _, t := range m.Triangles {
		for k := range 3 {
			next[[2]int32{t[k], t[(k+1)%3]}] = t[(k+2)%3]
			count[t[k]]++
		}
	}
	bad := 0
	seen := map[int32]bool{}
	for _, t := range m.Triangles {
		p := t[0]
		if seen[p] {
			continue
		}
		seen[p] = true
		q, n := t[1], 0
		for {
			q = next[[2]int32{p, q}]
			n++
			if q == t[1] || n > 1000 {
				break
			}
		}
		if n != count[p] {
			bad++
		}
	}
	return bad
}

func did(r *Result, k ActionKind) int {
	for _, a := range r.Actions {
		if a.Kind == k {
			return a.Count
		}
	}
	return 0
}

func wantVolume(t *testing.T, r *Result, want, share float64) {
	t.Helper()
	got := r.Mesh.Volume()
	t.Logf("volume %.6g, true %.6g, off by %.4f %%; rebuilt %v, apart at most %.3f, mean %.4f; %v", got, want, 100*(got/want-1), r.Rebuilt,
		r.DistanceMaxMm, r.DistanceMeanMm, r.Actions)
	if math.Abs(got/want-1) > share {
		t.Errorf("volume %.6g, want %.6g within %.2f %%", got, want, 100*share)
	}
}

// ball is the volume of a ball; facets of a sphere with many triangles take little off it.
func ball(r float64) float64 { return 4 * math.Pi * r * r * r / 3 }

func TestCleanMeshComesBackAsItIs(t *testing.T) {
	bumpy := solidtest.Bumpy(100, 30000)
	for _, tt := range []struct {
		name string
		m    *mesh.Mesh
	}{
		{"bumpy", bumpy},
		{"shuffled", solidtest.Shuffle(bumpy, 1)},
		{"box", solidtest.Box(10, 20, 30)},
		{"torus", solidtest.Torus(40, 12, 90, 30)},
		{"two apart", solidtest.Join(bumpy, solidtest.Moved(bumpy, geom.Vec{X: 500}))},
		{"hollow", solidtest.Join(solidtest.Sphere(50, 5000), solidtest.Flip(solidtest.Sphere(40, 5000)))},
	} {
		var s Settings
		r, err := Mend(context.Background(), tt.m, tt.m.Adjacency(), s, nil)
		if err != nil {
			t.Fatal(err)
		}
		if r.Mesh != tt.m || len(r.Actions) > 0 || r.Rebuilt {
			t.Errorf("%s: touched: %v", tt.name, r.Actions)
		}
	}
}

// holed is m without the facets whose middle lies within r of p.
func holed(m *mesh.Mesh, p geom.Vec, r float64) *mesh.Mesh {
	return keeping(m, func(i int) bool {
		a, b, c := m.Corners(i)
		return a.Add(b).Add(c).Scale(1.0/3).Sub(p).Len() > r
	})
}

func TestHolesAreFilledFlush(t *testing.T) {
	for _, r := range []float64{1.5, 4, 8, 12, 20} {
		m := solidtest.Sphere(50, 20000)
		want := m.Volume()
		m = holed(m, geom.Vec{Z: 50}, r)
		m = holed(m, geom.Vec{X: 50}, r/2)
		got := mended(t, m, Settings{}, 1)
		wantVolume(t, got, want, 0.0005)
		if got.Rebuilt || did(got, Filled) != 2 {
			t.Errorf("radius %v: rebuilt %v, %d holes filled, want 2", r, got.Rebuilt, did(got, Filled))
		}
	}
}

func TestOpenBaseIsClosedFlat(t *testing.T) {
	// Cap formula (CRC handbook): V = πh²(3R-h)/3; what is left of the ball above a plane at z = -30.
	const R, h = 50.0, 20.0
	want := ball(R) - math.Pi*h*h*(3*R-h)/3
	m := opened(solidtest.Sphere(R, 400000), -(R - h))
	got := mended(t, m, Settings{}, 1)
	wantVolume(t, got, want, 0.005)
	if got.Rebuilt || did(got, Based) != 1 {
		t.Errorf("rebuilt %v, %d bases closed, want 1", got.Rebuilt, did(got, Based))
	}
	f := solidtest.Frustum(40, 20, 60, 200)
	open := keeping(f, func(i int) bool { a, b, c := f.Corners(i); return a.Z+b.Z+c.Z > 0 })
	got = mended(t, open, Settings{}, 1)
	wantVolume(t, got, f.Volume(), 1e-6)
}

func TestFlippedPatchesAndShells(t *testing.T) {
	m := solidtest.Bumpy(100, 20000)
	want := m.Volume()
	var patch []int32
	for i := range m.Triangles {
		if a, _, _ := m.Corners(i); a.X > 60 || a.Z < -50 && a.Y > 0 {
			patch = append(patch, int32(i))
		}
	}
	got := mended(t, turnedOver(m, patch), Settings{}, 1)
	wantVolume(t, got, want, 1e-9)
	if n := did(got, Turned); n != len(patch) {
		t.Errorf("%d facets turned, want %d", n, len(patch))
	}
	got = mended(t, solidtest.Flip(m), Settings{}, 1)
	wantVolume(t, got, want, 1e-9)
	if did(got, Reversed) != 1 {
		t.Error("the shell was not turned")
	}
}

func TestDebrisDoublesAndShellsInside(t *testing.T) {
	sphere := solidtest.Sphere(50, 20000)
	want := sphere.Volume()
	for _, tt := range []struct {
		name string
		m    *mesh.Mesh
		kind ActionKind
	}{
		{"debris", solidtest.Join(sphere, solidtest.Moved(solidtest.Sphere(2, 500), geom.Vec{X: 80})), Dropped},
		{"debris inside", solidtest.Join(sphere, solidtest.Sphere(2, 500)), Dropped},
		{"ten micrometres apart", solidtest.Join(sphere, solidtest.Sphere(49.99, 20000)), Swallowed},
		{"a shell deep inside", solidtest.Join(solidtest.Sphere(30, 2000), sphere), Swallowed},
		{"every facet twice", &mesh.Mesh{Points: sphere.Points, Triangles: append(append([]mesh.Triangle{}, sphere.Triangles...), sphere.Triangles...)}, Deduplicated},
	} {
		got := mended(t, tt.m, Settings{}, 1)
		wantVolume(t, got, want, 1e-4)
		if got.Rebuilt || did(got, tt.kind) == 0 {
			t.Errorf("%s: rebuilt %v, %v", tt.name, got.Rebuilt, got.Actions)
		}
	}
}

// A small shell of its own that sticks out of the body belongs to it, however small its share; one too small to be built is
// debris.
func TestSmallShellThatSticksOut(t *testing.T) {
	sphere := solidtest.Sphere(50, 20000)
	nose := solidtest.Moved(solidtest.Sphere(4, 2000), geom.Vec{X: 51})
	if share := nose.Volume() / sphere.Volume(); share >= DefaultDebris {
		t.Fatalf("a share of %g is no debris anyway", share)
	}
	got := mended(t, solidtest.Join(sphere, nose), Settings{Resolution: 0.5}, 1)
	if did(got, Dropped) != 0 || did(got, Cut) == 0 {
		t.Errorf("it was not united: %v", got.Actions)
	}
	if top, want := got.Mesh.Box().Max.X, nose.Box().Max.X; top != want {
		t.Errorf("the nose ends at %g, want %g", top, want)
	}
	speck := solidtest.Moved(solidtest.Sphere(0.2, 200), geom.Vec{X: 50})
	got = mended(t, solidtest.Join(sphere, speck), Settings{Resolution: 0.5}, 1)
	if did(got, Dropped) != 1 || got.Rebuilt {
		t.Errorf("a speck under the grid's step: %v", got.Actions)
	}
}

func TestSeamsAndTJoints(t *testing.T) {
	m := solidtest.Sphere(50, 20000)
	want := m.Volume()
	// Unwelded: the facets above z = 3 get points of their own, off by up to a micrometre.
	rnd := rand.New(rand.NewSource(1))
	apart := &mesh.Mesh{Points: append([]mesh.Point{}, m.Points...)}
	own := map[int32]int32{}
	for i, tri := range m.Triangles {
		if a, b, c := m.Corners(i); a.Z+b.Z+c.Z > 9 {
			for k, v := range tri {
				if _, ok := own[v]; !ok {
					own[v] = int32(len(apart.Points))
					p := m.Points[v]
					for k := range p {
						p[k] += (rnd.Float32() - 0.5) * 1e-3
					}
					apart.Points = append(apart.Points, p)
				}
				tri[k] = own[v]
			}
		}
		apart.Triangles = append(apart.Triangles, tri)
	}
	got := mended(t, apart, Settings{}, 1)
	wantVolume(t, got, want, 1e-4)
	if got.Rebuilt || did(got, Welded) == 0 {
		t.Errorf("seam: rebuilt %v, %v", got.Rebuilt, got.Actions)
	}
	// T-joints: some facets are cut in two at the middle of a side, the neighbour is not.
	tee := &mesh.Mesh{Points: append([]mesh.Point{}, m.Points...)}
	for i, tri := range m.Triangles {
		if i%97 != 0 {
			tee.Triangles = append(tee.Triangles, tri)
			continue
		}
		a, b := m.Points[tri[0]].Vec(), m.Points[tri[1]].Vec()
		p := int32(len(tee.Points))
		tee.Points = append(tee.Points, mesh.PointOf(a.Add(b).Scale(0.5)))
		tee.Triangles = append(tee.Triangles, mesh.Triangle{tri[0], p, tri[2]}, mesh.Triangle{p, tri[1], tri[2]})
	}
	got = mended(t, tee, Settings{}, 1)
	wantVolume(t, got, want, 1e-6)
	if got.Rebuilt || did(got, Split) == 0 {
		t.Errorf("T-joints: rebuilt %v, %v", got.Rebuilt, got.Actions)
	}
}

func TestOverlappingShellsBecomeOne(t *testing.T) {
	// Lens of two spheres of radii R and r at distance d (CRC Standard Mathematical Tables; also Weisstein, Sphere-Sphere
	// Intersection): V = π(R+r-d)²(d²+2dr-3r²+2dR+6rR-3R²)/(12d).
	const R, r, d = 50.0, 40.0, 60.0
	lens := math.Pi * (R + r - d) * (R + r - d) * (d*d + 2*d*r - 3*r*r + 2*d*R + 6*r*R - 3*R*R) / (12 * d)
	m := solidtest.Join(solidtest.Sphere(R, 50000), solidtest.Moved(solidtest.Sphere(r, 50000), geom.Vec{X: d}))
	got := mended(t, m, Settings{}, 1)
	wantVolume(t, got, ball(R)+ball(r)-lens, 0.0005) // facets alone take 0.02 % off
	if got.Rebuilt || got.DistanceMaxMm > 0 {
		t.Errorf("rebuilt %v, at most %v apart", got.Rebuilt, got.DistanceMaxMm)
	}
	// Two unit cubes shifted by half: 2 - 1/2.
	box := solidtest.Box(1, 1, 1)
	got = mended(t, solidtest.Join(box, solidtest.Moved(box, geom.Vec{X: 0.5})), Settings{}, 1)
	wantVolume(t, got, 1.5, 1e-6)
	got = mended(t, solidtest.Join(box, solidtest.Moved(box, geom.Vec{X: 0.5, Y: 0.3, Z: 0.2})), Settings{}, 1)
	wantVolume(t, got, 2-0.5*0.7*0.8, 1e-6)
	got = mended(t, solidtest.Join(box, solidtest.Flip(solidtest.Moved(box, geom.Vec{X: 0.5, Y: 0.3, Z: 0.2}))), Settings{}, 1)
	wantVolume(t, got, 2-0.5*0.7*0.8, 1e-6)
}

func TestNoisyCrossingScan(t *testing.T) {
	// Two scans of one ball, each with noise of 0.05 mm, pushed into one another, with holes.
	noisy := func(seed int64) *mesh.Mesh {
		m := solidtest.Sphere(50, 40000)
		rnd := rand.New(rand.NewSource(seed))
		out := &mesh.Mesh{Triangles: m.Triangles}
		for _, p := range m.Points {
			v := p.Vec()
			out.Points = append(out.Points, mesh.PointOf(v.Scale(1+0.05/50*rnd.NormFloat64())))
		}
		return out
	}
	m := solidtest.Join(holed(noisy(1), geom.Vec{X: 50}, 15), opened(noisy(2), -30))
	got := mended(t, m, Settings{}, 1)
	wantVolume(t, got, ball(50), 0.005)
}

func TestSawnSphere(t *testing.T) {
	// Cap formula (CRC handbook): V = πh²(3R-h)/3; R 50, h 20: 54454.273.
	m := solidtest.Sphere(50, 200000)
	share := m.Volume() / ball(50)
	got := mended(t, m, Settings{Saw: Plane{Normal: geom.Vec{Z: 1}, D: 30, On: true}}, 1)
	wantVolume(t, got, 54454.273, 2e-4)
	t.Logf("facets alone take %.2g off", 1-share)
	// Scaled normal, turned plane, and a ring whose section has a hole.
	n := geom.Vec{X: 1, Y: 2, Z: -2}
	got = mended(t, m, Settings{Saw: Plane{Normal: n, D: 3 * 30, On: true}}, 1)
	wantVolume(t, got, 54454.273, 2e-4)
	ring := solidtest.Torus(40, 12, 300, 100)
	got = mended(t, ring, Settings{Saw: Plane{Normal: geom.Vec{Z: 1}, On: true}}, 1)
	wantVolume(t, got, ring.Volume()/2, 1e-6)
	got = mended(t, ring, Settings{Saw: Plane{Normal: geom.Vec{X: 1}, On: true}}, 1)
	wantVolume(t, got, ring.Volume()/2, 1e-6)
	both := solidtest.Join(m, solidtest.Moved(m, geom.Vec{X: 60}))
	got = mended(t, both, Settings{Saw: Plane{Normal: geom.Vec{Z: 1}, On: true}}, 1)
	lens := math.Pi * 40 * 40 * (60*60 + 2*60*100 - 3*50*50 + 6*50*50 - 3*50*50) / (12 * 60)
	wantVolume(t, got, (2*ball(50)-lens)/2, 0.005)
	if math.Abs(got.Mesh.Box().Min.Z) > 1e-6 {
		t.Errorf("the cut lies at %v, want 0", got.Mesh.Box().Min.Z)
	}
	if _, err := Mend(context.Background(), m, m.Adjacency(), Settings{Saw: Plane{Normal: geom.Vec{Z: 1}, D: 51, On: true}}, nil); err == nil {
		t.Error("sawing all away: want an error")
	}
}

func TestGapsThatStayOpenAreLeftToTheWindingNumber(t *testing.T) {
	sphere := solidtest.Sphere(50, 20000)
	want := sphere.Volume()
	m := holed(holed(sphere, geom.Vec{Z: 50}, 12), geom.Vec{X: 30, Y: -40}, 9).Compact()
	for _, step := range []float64{0.7, 1.5} {
		got, _, err := rebuilt(context.Background(), m, step, DefaultDebris*want, func(string, float64) {})
		if err != nil {
			t.Fatal(err)
		}
		checkSolid(t, got, 1)
		v := got.Volume()
		t.Logf("step %v: volume %.6g, true %.6g, off by %.3f %%", step, v, want, 100*(v/want-1))
		if math.Abs(v/want-1) > 0.005 {
			t.Errorf("step %v: volume %.6g, want %.6g", step, v, want)
		}
	}
}

func TestCornersAreKeptWhenBuiltAnew(t *testing.T) {
	// A block turned out of the grid's axes: its corners lie between nodes, its faces pass them at a slant.
	m := solidtest.Turned(solidtest.Box(30, 40, 50), geom.TurnAbout(geom.Vec{X: 1, Y: 2, Z: 3}, 0.7))
	got, _, err := rebuilt(context.Background(), m, 0.5, 0, func(string, float64) {})
	if err != nil {
		t.Fatal(err)
	}
	checkSolid(t, got, 1)
	w, err := apart(context.Background(), m, m.Adjacency(), got)
	if err != nil {
		t.Fatal(err)
	}
	worst := 0.0
	h, err := boxtree.New(context.Background(), got)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range m.Points {
		_, _, d2 := h.Nearest(p.Vec(), math.Inf(1))
		worst = max(worst, math.Sqrt(d2))
	}
	t.Logf("apart at most %.3f, mean %.5f; corners off by %.3f; volume off by %.4f %%", w.most, w.mean(), worst, 100*(got.Volume()/m.Volume()-1))
	// Measured both ways, the most is at an edge that lies between nodes, as a corner does: half a step.
	if w.most > 0.25 || worst > 0.25 || math.Abs(got.Volume()/m.Volume()-1) > 1e-3 {
		t.Errorf("apart at most %v, corners off by %v, at a step of 0.5", w.most, worst)
	}
}

func crossingsOf(t testing.TB, m *mesh.Mesh) []boxtree.Pair {
	h, err := boxtree.New(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	got, err := arrange.Crossings(context.Background(), h, false)
	if err != nil {
		t.Fatal(err)
	}
	return got
}
