package register

import (
	"context"
	"errors"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"grainstack/slicing/cloud"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/sample"
	"grainstack/slicing/solidtest"
)

// pieces are closed pieces that scans are made of.
func pieces(t *testing.T) map[string]*mesh.Mesh {
	out := map[string]*mesh.Mesh{
		"hare":  sample.Hare(20_000),
		"bumpy": solidtest.Bumpy(60, 20_000),
	}
	if set := os.Getenv("GRAINSTACK_FIELD_SET"); set != "" {
		for _, name := range []string{"bunny.obj", "armadillo.off", "camel.off", "dino.off", "cow.off", "elephant.off", "homer.off", "dragon.obj", "cactus.off"} {
			m, _, err := mesh.Open(filepath.Join(set, name))
			if err != nil {
				t.Fatal(err)
			}
			out[name] = m
		}
	}
	return out
}

func scanOf(t testing.TB, m *mesh.Mesh) *Scan {
	c, err := cloud.OfMesh(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	s, err := NewScan(context.Background(), c)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// strayed is how far the places of scans lie from where they belong, in the mean over each scan, the worst of them: in units of the
// piece. The first scan's frame carries all of them.
func strayed(sittings []solidtest.Sitting, at []geom.Placement) float64 {
	worst := 0.0
	for i, s := range sittings {
		to := at[i].Then(sittings[0].At)
		sum := 0.0
		for _, p := range s.Mesh.Points {
			sum += to.Apply(p.Vec()).Sub(s.At.Apply(p.Vec())).Len()
		}
		worst = math.Max(worst, sum/float64(len(s.Mesh.Points)))
	}
	return worst
}

// roughly are three places of each scan picked by hand: the same on the piece, off by a hundredth of its size.
func roughly(m *mesh.Mesh, sittings []solidtest.Sitting, rnd *rand.Rand) []*geom.Placement {
	size := solidtest.Size(m)
	out := make([]*geom.Placement, len(sittings))
	for i := 1; i < len(sittings); i++ {
		for out[i] == nil {
			var from, to []geom.Vec
			for range 3 {
				// A place that both saw: a point of one whose partner is near on the other.
				p := sittings[0].At.Apply(sittings[0].Mesh.Points[rnd.Intn(len(sittings[0].Mesh.Points))].Vec())
				q := sittings[i].At.Apply(sittings[i].Mesh.Points[0].Vec())
				for _, v := range sittings[i].Mesh.Points {
					if w := sittings[i].At.Apply(v.Vec()); w.Sub(p).Len() < q.Sub(p).Len() {
						q = w
					}
				}
				if q.Sub(p).Len() > 0.01*size {
					continue
				}
				off := func() geom.Vec {
					return geom.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}.Unit().Scale(0.01 * size)
				}
				to = append(to, sittings[0].At.Back(p.Add(off())))
				from = append(from, sittings[i].At.Back(p.Add(off())))
			}
			if len(from) < 3 || from[1].Sub(from[0]).Cross(from[2].Sub(from[0])).Len() < 0.08*size*size/sittings[i].At.Scale/sittings[i].At.Scale {
				continue // nobody picks three places next to one another
			}
			p, _, err := FromPoints(from, to)
			if err == nil {
				out[i] = &p
			}
		}
	}
	return out
}

// TestScansComeTogether: three scans of a piece, by three rough points each and without any.
func TestScansComeTogether(t *testing.T) {
	ctx := context.Background()
	sets := int64(1)
	if os.Getenv("GRAINSTACK_FIELD_SET") != "" {
		sets = 2
	}
	for name, m := range pieces(t) {
		t.Run(name, func(t *testing.T) {
			size := solidtest.Size(m)
			for seed := range sets {
				sittings := solidtest.Sittings(m, 3, 0.001, 0.1, seed)
				var scans []*Scan
				for _, s := range sittings {
					scans = append(scans, scanOf(t, s.Mesh))
				}
				starts := roughly(m, sittings, rand.New(rand.NewSource(seed)))
				for how, starts := range map[string][]*geom.Placement{"points": starts, "found": nil} {
					if testing.Short() && starts == nil && name != "bumpy" {
						continue
					}
					begin := time.Now()
					r, err := Together(ctx, scans, starts, nil)
					var apart *ApartError
					if errors.As(err, &apart) {
						t.Errorf("%s %d %s: no place for %v (mirrored %v) %v", name, seed, how, apart.Scans, apart.Mirrored, time.Since(begin))
						continue
					}
					if err != nil {
						t.Fatal(err)
					}
					off := strayed(sittings, r.At) / size
					t.Logf("%s %d %s: %.3f %% off in the mean, %v, %+v", name, seed, how, 100*off, time.Since(begin), r.Fits)
					if off > 0.0015 {
						t.Errorf("%s %d %s: %.3f %% of the size off in the mean", name, seed, how, 100*off)
					}
					for i, f := range r.Fits {
						if unit := sittings[0].At.Scale; !f.Good() || f.Unsure() && len(m.Triangles) > 10_000 || f.Middle*unit > 0.0015*size { // a coarse one may be told for nothing
							t.Errorf("%s %d %s: scan %d is said to lie %+v", name, seed, how, i, f)
						}
					}
				}
			}
		})
	}
}

// TestNoisyScansComeTogether: two scans with five times as much noise, found without points.
func TestNoisyScansComeTogether(t *testing.T) {
	m := solidtest.Bumpy(60, 12_000)
	sittings := solidtest.Sittings(m, 2, 0.005, 0.1, 3)
	var scans []*Scan
	for _, s := range sittings {
		scans = append(scans, scanOf(t, s.Mesh))
	}
	r, err := Together(context.Background(), scans, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	if off := strayed(sittings, r.At) / solidtest.Size(m); off > 0.005 || !r.Fits[1].Good() {
		t.Errorf("%.3f %% of the size off, %+v", 100*off, r.Fits[1])
	}
}

// TestScansThatDoNotBelong: scans of two pieces, scans without overlap, a mirrored scan, by points and without.
func TestScansThatDoNotBelong(t *testing.T) {
	ctx := context.Background()
	hare, bumpy := sample.Hare(20_000), solidtest.Bumpy(60, 20_000)
	first := solidtest.Sittings(hare, 3, 0.001, 0.1, 5)
	other := solidtest.Sittings(bumpy, 3, 0.001, 0.1, 6)
	middle := hare.Box().Center()
	half := func(sign float64) *mesh.Mesh {
		return solidtest.Cut(hare, func(p geom.Vec) bool { return sign*(p.X-middle.X) > 8 })
	}
	for _, tt := range []struct {
		name     string
		a, b     *mesh.Mesh
		mirrored bool
	}{
		{"two pieces", first[0].Mesh, other[0].Mesh, false},
		{"no overlap", half(1), half(-1), false},
		{"mirrored", other[0].Mesh, solidtest.Flip(solidtest.Stretch(other[1].Mesh, 1, 1, -1)), true},
	} {
		if testing.Short() && tt.name != "mirrored" {
			continue
		}
		scans := []*Scan{scanOf(t, tt.a), scanOf(t, tt.b)}
		r, err := Together(ctx, scans, nil, nil)
		var apart *ApartError
		if !errors.As(err, &apart) {
			t.Errorf("%s: %v, %+v", tt.name, err, r)
			continue
		}
		if len(apart.Scans) != 1 || apart.Scans[0] != 1 || apart.Mirrored != tt.mirrored {
			t.Errorf("%s: %+v", tt.name, apart)
		}
		start := geom.Placement{Turn: geom.NoTurn(), Scale: scans[0].Reach / scans[1].Reach}
		start.Shift = scans[0].Middle.Sub(start.Apply(scans[1].Middle))
		if r, err = Together(ctx, scans, []*geom.Placement{nil, &start}, nil); err != nil || r.Fits[1].Good() {
			t.Errorf("%s laid on one another: %+v, %v", tt.name, r, err)
		}
	}
}

// onFloors are scans with the floor on which the piece stood at each sitting, another one each.
func onFloors(m *mesh.Mesh, sittings []solidtest.Sitting) []solidtest.Sitting {
	box := m.Box()
	size := box.Size().Len()
	var out []solidtest.Sitting
	for i, s := range sittings {
		up := geom.TurnXYZ(float64(70*i), float64(40*i), 0).Apply(geom.Vec{Z: 1})
		low := 0.0
		for _, p := range m.Points {
			low = math.Min(low, up.Dot(p.Vec().Sub(box.Center())))
		}
		floor := solidtest.Box(size, size, 0.001*size)
		floor = solidtest.Moved(floor, geom.Vec{X: -size / 2, Y: -size / 2, Z: low - 0.001*size})
		floor = solidtest.Moved(solidtest.Turned(floor, geom.TurnTo(geom.Vec{Z: 1}, up)), box.Center())
		for k, p := range floor.Points {
			v := s.At.Back(p.Vec())
			floor.Points[k] = mesh.PointOf(v)
		}
		out = append(out, solidtest.Sitting{Mesh: solidtest.Join(s.Mesh, floor), At: s.At})
	}
	return out
}

// TestFloorsDoNotLead: the piece lay otherwise on the floor at each sitting; the floors, larger than the piece, lie on one another only
// where the piece does not.
func TestFloorsDoNotLead(t *testing.T) {
	m := solidtest.Bumpy(60, 12_000)
	sittings := solidtest.Sittings(m, 2, 0.001, 0, 9)
	var scans []*Scan
	for _, s := range onFloors(m, sittings) {
		one := scanOf(t, s.Mesh)
		if !slices.ContainsFunc(one.Flats, func(f Flat) bool { return f.Floor && f.Share > 0.2 }) {
			t.Errorf("planes %+v", one.Flats)
		}
		scans = append(scans, one)
	}
	r, err := Together(context.Background(), scans, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	if off := strayed(sittings, r.At) / solidtest.Size(m); off > 0.0015 {
		t.Errorf("%.3f %% of the size off", 100*off)
	}
}

// TestAlikeFromSeveralSides: a ring lies on itself however it is turned about its axis, a ball however it is turned, which is told; and
// a ball is not taken for its mirror image.
func TestAlikeFromSeveralSides(t *testing.T) {
	for name, m := range map[string]*mesh.Mesh{"ring": solidtest.Torus(50, 20, 120, 60), "ball": solidtest.Sphere(50, 7_000)} {
		var scans []*Scan
		for _, s := range solidtest.Sittings(m, 2, 0.001, 0, 3) {
			scans = append(scans, scanOf(t, s.Mesh))
		}
		r, err := Together(context.Background(), scans, nil, nil)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if f := r.Fits[1]; !f.Good() || !f.Unsure() {
			t.Errorf("%s: %+v", name, f)
		}
		if name == "ring" {
			continue
		}
		if mirrored, err := Mirrored(context.Background(), scans[0], scans[1]); mirrored || err != nil {
			t.Errorf("%s is taken for a mirror image (%v)", name, err)
		}
	}
}
