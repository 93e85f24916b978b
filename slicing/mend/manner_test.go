package mend

import (
	"bytes"
	"compress/gzip"
	"context"
	"io"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stoptest"
)

func TestCalledOffReturnsAtOnce(t *testing.T) {
	m := tangle(60_000)
	adj := m.Adjacency()
	stoptest.Soon(t, 0.05, func(ctx context.Context) error {
		r, err := Mend(ctx, m, adj, Settings{}, nil)
		if err != nil && r != nil {
			t.Error("mending that was called off gives a result")
		}
		return err
	})
}

func TestResultDoesNotDependOnCores(t *testing.T) {
	m := tangle(60_000)
	adj := m.Adjacency()
	var first *Result
	for _, cores := range []int{1, 2, 5} {
		old := runtime.GOMAXPROCS(cores)
		r, err := Mend(context.Background(), m, adj, Settings{Resolution: 2}, nil)
		runtime.GOMAXPROCS(old)
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = r
		} else if !reflect.DeepEqual(first, r) {
			t.Errorf("another result with %d cores", cores)
		}
	}
}

func TestSettingsAreKept(t *testing.T) {
	m := tangle(20_000)
	before := &mesh.Mesh{Points: append([]mesh.Point{}, m.Points...), Triangles: append([]mesh.Triangle{}, m.Triangles...)}
	r, err := Mend(context.Background(), m, m.Adjacency(), Settings{Off: true}, nil)
	if err != nil || r.Mesh != m {
		t.Errorf("off, but touched: %v", err)
	}
	last := 0.0
	r, err = Mend(context.Background(), m, m.Adjacency(), Settings{Resolution: 30, MmPerUnit: 10}, func(step string, done float64) {
		if done < last-1e-9 || done > 1 || step == "" {
			t.Errorf("progress %q %v after %v", step, done, last)
		}
		last = done
	})
	if err != nil || !r.Rebuilt || r.ResolutionMm != 30 {
		t.Errorf("resolution %v, want 30: %v", r.ResolutionMm, err)
	}
	if !reflect.DeepEqual(m, before) {
		t.Error("the scan was changed")
	}
}

func TestHopelessScansGiveAnError(t *testing.T) {
	one := mesh.Triangle{0, 1, 2}
	for name, m := range map[string]*mesh.Mesh{
		"nothing":  {},
		"point":    {Points: make([]mesh.Point, 3), Triangles: []mesh.Triangle{one}},
		"line":     {Points: []mesh.Point{{0, 0, 0}, {1, 0, 0}, {2, 0, 0}}, Triangles: []mesh.Triangle{one}},
		"triangle": {Points: []mesh.Point{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, Triangles: []mesh.Triangle{one}},
		"sheet":    keeping(solidtest.Box(10, 10, 10), func(i int) bool { return i < 2 }),
	} {
		r, err := Mend(context.Background(), m, m.Adjacency(), Settings{}, nil)
		if err == nil {
			t.Errorf("%s: want an error, got %v facets, %v", name, len(r.Mesh.Triangles), r.Actions)
		}
		if len(m.Triangles) > 0 {
			survey(t, m)
		}
	}
}

// moduleFile is the unpacked contents of a file of a module in the cache; the test is skipped where it is not there.
func moduleFile(t *testing.T, module, name string) []byte {
	t.Helper()
	dir, err := exec.Command("go", "env", "GOMODCACHE").Output()
	if err != nil {
		t.Skip("no module cache")
	}
	f, err := os.Open(filepath.Join(strings.TrimSpace(string(dir)), filepath.FromSlash(module), filepath.FromSlash(name)))
	if err != nil {
		t.Skip("module not fetched: ", err)
	}
	defer f.Close()
	var r io.Reader = f
	if strings.HasSuffix(name, ".gz") {
		if r, err = gzip.NewReader(f); err != nil {
			t.Fatal(err)
		}
	}
	b, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestRealMeshes(t *testing.T) {
	const module, models = "github.com/unixpickle/model3d@v0.4.5", "examples/renderings/showcase/models/"
	for _, name := range []string{models + "rose.stl.gz", models + "vase.stl.gz", models + "pumpkin_outside.stl.gz", models + "pumpkin_stem.stl.gz",
		models + "curvy_thing.stl.gz", models + "wine_glass.stl.gz", models + "rocks.stl.gz", "model3d/test_data/non_intersecting_hook.stl"} {
		t.Run(filepath.Base(name), func(t *testing.T) {
			b := moduleFile(t, module, name)
			m, _, err := mesh.Read(bytes.NewReader(b), int64(len(b)), name)
			if err != nil {
				t.Fatal(err)
			}
			f := survey(t, m)
			t.Logf("%d facets, %d shells, found %v", len(m.Triangles), len(f.Shells), f.Counts)
			set := Settings{Resolution: longestSide(m) / 120}
			whole, err := Mend(context.Background(), m, m.Adjacency(), set, nil)
			if err != nil {
				t.Fatal(err)
			}
			checkReal(t, whole)
			// Open it at the middle of its widest side.
			box := m.Box()
			p := geom.Vec{X: box.Max.X, Y: box.Center().Y, Z: box.Center().Z}
			best := m.Points[0].Vec()
			for _, q := range m.Points {
				if q.Vec().Sub(p).Len() < best.Sub(p).Len() {
					best = q.Vec()
				}
			}
			open := holed(whole.Mesh, best, 0.04*box.Size().Len())
			again, err := Mend(context.Background(), open, open.Adjacency(), set, nil)
			if err != nil {
				t.Fatal(err)
			}
			checkReal(t, again)
			if was, is := whole.Mesh.Volume(), again.Mesh.Volume(); is < 0.98*was || is > 1.02*was {
				t.Errorf("opened and mended it has volume %.5g, was %.5g", is, was)
			}
		})
	}
}

// mutilated is m with facets torn out, turned, doubled and joined to wrong points, by chance.
func mutilated(m *mesh.Mesh, seed int64) *mesh.Mesh {
	rnd := rand.New(rand.NewSource(seed))
	out := &mesh.Mesh{Points: append([]mesh.Point{}, m.Points...)}
	for _, t := range m.Triangles {
		switch rnd.Intn(400) {
		case 0:
			continue
		case 1:
			t[1], t[2] = t[2], t[1]
		case 2:
			out.Triangles = append(out.Triangles, t)
		case 3: // a point of its own, a little off
			p := out.Points[t[0]]
			for k := range p {
				p[k] += rnd.Float32() - 0.5
			}
			t[0] = int32(len(out.Points))
			out.Points = append(out.Points, p)
		}
		out.Triangles = append(out.Triangles, t)
	}
	return out
}

func TestMutilatedSolidsAreMended(t *testing.T) {
	m := solidtest.Bumpy(100, 12000)
	for seed := range int64(8) {
		got := mended(t, mutilated(m, seed), Settings{Resolution: 2}, 1)
		wantVolume(t, got, m.Volume(), 0.005)
	}
}

func TestSawThroughABox(t *testing.T) {
	m := solidtest.Box(10, 20, 30)
	saw := func(n geom.Vec, d float64) Settings { return Settings{Saw: Plane{Normal: n, D: d, On: true}} }
	r := mended(t, m, saw(geom.Vec{Z: 1}, 12), 1)
	wantVolume(t, r, 10*20*18, 1e-6)
	r = mended(t, m, saw(geom.Vec{Z: -1}, -12), 1)
	wantVolume(t, r, 10*20*12, 1e-6)
	r = mended(t, m, saw(geom.Vec{X: 20, Y: 10}, 200), 1) // through two edges
	wantVolume(t, r, 10*20*30/2, 1e-6)
	if r, err := Mend(context.Background(), m, m.Adjacency(), saw(geom.Vec{Z: 1}, 0), nil); err != nil || r.Mesh != m {
		t.Errorf("sawn along its own base: touched, %v", err)
	}
}

func checkReal(t *testing.T, r *Result) {
	t.Helper()
	f := mesh.Inspect(r.Mesh, r.Adjacency)
	t.Logf("mended: %d facets, %d shells, %d hollows, rebuilt %v at %.3g, apart at most %.3g, mean %.3g; %v", f.Triangles, f.Shells, f.Cavities, r.Rebuilt,
		r.ResolutionMm, r.DistanceMaxMm, r.DistanceMeanMm, r.Actions)
	if !f.Solid() {
		t.Errorf("not a solid: open %d, crowded %d, flipped %d, inward %d, volume %v", f.OpenEdges, f.NonManifoldEdges, f.FlippedEdges, f.InwardShells, f.Volume)
	}
	if n := len(crossingsOf(t, r.Mesh)); n > 0 {
		t.Errorf("%d pairs of facets cross", n)
	}
}
