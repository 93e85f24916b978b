package join

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"grainstack/slicing/cloud"
	"grainstack/slicing/geom"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
	"grainstack/slicing/sample"
	"grainstack/slicing/solidtest"
)

// TestShapes: every simple code's polygon crosses each edge between an inner and an outer corner once, and the surface of one inner
// corner looks away from it.
func TestShapes(t *testing.T) {
	s := newShapes()
	for k := range 256 {
		if !simple(code(k)) || k == 0 || k == 255 {
			if s[k] != nil {
				t.Errorf("code %08b has %v", k, s[k])
			}
			continue
		}
		crossed := 0
		for c := range 8 {
			for axis := range 3 {
				if c>>axis&1 == 0 && k>>c&1 != k>>(c|1<<axis)&1 {
					crossed++
				}
			}
		}
		seen := map[cellEdge]bool{}
		for _, e := range s[k] {
			seen[e] = true
		}
		if len(s[k]) != crossed || len(seen) != crossed {
			t.Errorf("code %08b: %v, want %d edges", k, s[k], crossed)
		}
	}
}

// joined brings nothing together: the scans are laid where they belong.
func joined(t testing.TB, sittings []solidtest.Sitting, s Settings) *Result {
	t.Helper()
	var clouds []*cloud.Cloud
	for _, one := range sittings {
		c, err := cloud.OfMesh(context.Background(), one.Mesh)
		if err != nil {
			t.Fatal(err)
		}
		clouds = append(clouds, c.Placed(one.At))
	}
	r, err := Join(context.Background(), clouds, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// farOff is the share of a surface's area that lies farther than most from another, by places on the facets and the facets of the other,
// and the mean distance.
func farOff(t testing.TB, m, from *mesh.Mesh, most float64) (share, mean float64) {
	t.Helper()
	// Many places on the other surface stand for it.
	var dense []mesh.Point
	var normals []geom.Vec
	spacing := math.Sqrt(from.Area() / 250_000)
	for i := range from.Triangles {
		a, b, c := from.Corners(i)
		n := int(math.Ceil(math.Max(b.Sub(a).Len(), math.Max(c.Sub(b).Len(), a.Sub(c).Len()))/spacing)) + 1
		normal := b.Sub(a).Cross(c.Sub(a)).Unit()
		for u := range n + 1 {
			for v := range n + 1 - u {
				p := a.Add(b.Sub(a).Scale(float64(u) / float64(n))).Add(c.Sub(a).Scale(float64(v) / float64(n)))
				dense = append(dense, mesh.PointOf(p))
				normals = append(normals, normal)
			}
		}
	}
	tree := cloud.NewTree(dense)
	far, all := 0.0, 0.0
	for i := 0; i < len(m.Triangles); i += max(1, len(m.Triangles)/15_000) {
		a, b, c := m.Corners(i)
		area := b.Sub(a).Cross(c.Sub(a)).Len()
		p := a.Add(b).Add(c).Scale(1.0 / 3)
		j, d2 := tree.Nearest(p, math.Inf(1))
		d := math.Sqrt(d2)
		if flat := math.Abs(normals[j].Dot(p.Sub(dense[j].Vec()))); d < 2*spacing {
			d = flat
		}
		all += area
		mean += area * d
		if d > most {
			far += area
		}
	}
	return far / all, mean / all
}

func pieces(t testing.TB) map[string]*mesh.Mesh {
	out := map[string]*mesh.Mesh{"hare": sample.Hare(40_000), "bumpy": solidtest.Bumpy(60, 40_000)}
	if set := os.Getenv("GRAINSTACK_FIELD_SET"); set != "" {
		for _, name := range []string{"bunny.obj", "armadillo.off", "camel.off", "dino.off", "homer.off", "elephant.off", "dragon.obj"} {
			m, _, err := mesh.Open(filepath.Join(set, name))
			if err != nil {
				t.Fatal(err)
			}
			out[name] = m
		}
	}
	return out
}

// finer is m with every facet cut in four until there are enough: what a camera sees of large facets.
func finer(m *mesh.Mesh, enough int) *mesh.Mesh {
	for len(m.Triangles) < enough {
		out := &mesh.Mesh{Points: append([]mesh.Point(nil), m.Points...)}
		halves := map[[2]int32]int32{}
		half := func(a, b int32) int32 {
			k := [2]int32{min(a, b), max(a, b)}
			if at, ok := halves[k]; ok {
				return at
			}
			v := m.Points[a].Vec().Add(m.Points[b].Vec()).Scale(0.5)
			halves[k] = int32(len(out.Points))
			out.Points = append(out.Points, mesh.PointOf(v))
			return halves[k]
		}
		for _, t := range m.Triangles {
			a, b, c := half(t[0], t[1]), half(t[1], t[2]), half(t[2], t[0])
			out.Triangles = append(out.Triangles, mesh.Triangle{t[0], a, c}, mesh.Triangle{a, t[1], b}, mesh.Triangle{c, b, t[2]}, mesh.Triangle{a, b, c})
		}
		m = out
	}
	return m
}

// TestJoinedPieceIsTheOriginal: three scans with noise and debris come to one closed surface without crossings that lies within 0.2 % of
// the size from the original at 99 % of its surface, and so does the original's surface from it.
func TestJoinedPieceIsTheOriginal(t *testing.T) {
	for name, m := range pieces(t) {
		t.Run(name, func(t *testing.T) {
			if testing.Short() && name != "hare" {
				t.Skip("one piece is enough for a quick look")
			}
			size := solidtest.Size(m)
			sittings := solidtest.Sittings(finer(m, 30_000), 3, 0.001, 0.1, 7)
			begin := time.Now()
			r := joined(t, sittings, Settings{})
			took := time.Since(begin)
			adj := r.Mesh.Adjacency()
			if found := mesh.Inspect(r.Mesh, adj); !found.Solid() {
				t.Errorf("%+v", found)
			}
			if s, err := mend.Survey(context.Background(), r.Mesh, adj, true); err != nil || s.Counts[mend.Crossing] > 0 {
				t.Errorf("%d crossings, %v", s.Counts[mend.Crossing], err)
			}
			over, mean := farOff(t, r.Mesh, m, 0.002*size)
			under, _ := farOff(t, m, r.Mesh, 0.002*size)
			t.Logf("%d facets of %d in %v, step %.2f %% of the size, %.2f %% and %.2f %% of the surface farther off than 0.2 %%, mean %.4f %%, volume %.4f, %d specks, %.2f %% unseen in %d places",
				len(r.Mesh.Triangles), len(m.Triangles), took, 100*r.Step/size, 100*over, 100*under, 100*mean/size, r.Mesh.Volume()/m.Volume(), r.Specks, 100*r.UnseenArea()/r.Area, len(r.Unseen))
			if over > 0.01 || under > 0.01 {
				t.Errorf("%.2f %% and %.2f %% of the surface lie farther off than 0.2 %% of the size", 100*over, 100*under)
			}
		})
	}
}
