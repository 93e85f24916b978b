package sample

import (
	"fmt"
	"math"
	"runtime"
	"slices"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

func TestHareIsOneSolid(t *testing.T) {
	for _, want := range []int{0, 20_000, 33_000, 50_000, 120_000, Usual} {
		t.Run(fmt.Sprint(want), func(t *testing.T) {
			m := Hare(want)
			want := max(want, 20_000)
			if got := len(m.Triangles); math.Abs(float64(got-want)) > 0.1*float64(want) {
				t.Errorf("%d triangles, want %d within a tenth", got, want)
			}
			if want == Usual && len(m.Triangles) < 300_000 {
				t.Errorf("%d triangles, want at least 300,000", len(m.Triangles))
			}
			checkEdges(t, m)
			checkPoints(t, m)
			if n := shells(m); n != 1 {
				t.Errorf("%d shells, want 1", n)
			}
			// Any sampled skin is a little short of the true volume.
			if v := volume(m); v < 7.3e6 || v > 7.8e6 {
				t.Errorf("volume %.0f mm³, want about 7.75 litres", v)
			}
		})
	}
}

// checkEdges wants each edge to be run once each way, so that the mesh is closed, and evenly turned.
func checkEdges(t *testing.T, m *mesh.Mesh) {
	t.Helper()
	runs := make(map[[2]int32]int, 3*len(m.Triangles))
	for _, c := range m.Triangles {
		for e := range 3 {
			runs[[2]int32{c[e], c[(e+1)%3]}]++
		}
	}
	bad := 0
	for e, n := range runs {
		if n != 1 || runs[[2]int32{e[1], e[0]}] != 1 {
			bad++
		}
	}
	if bad > 0 {
		t.Errorf("%d edges are open, flipped or shared by more than two triangles", bad)
	}
}

// checkPoints wants the triangles at each point to form a single fan, no point left over, and no triangle without area.
func checkPoints(t *testing.T, m *mesh.Mesh) {
	t.Helper()
	after := make([]map[int32]int32, len(m.Points))
	flat, sharp := 0, 0
	for i, c := range m.Triangles {
		a, b, d := m.Corners(i)
		if b.Sub(a).Cross(d.Sub(a)).Len() < 1e-3*longest(a, b, d) {
			flat++
		}
		if smallestAngle(a, b, d) < 30 {
			sharp++
		}
		for e := range 3 {
			p := c[e]
			if after[p] == nil {
				after[p] = make(map[int32]int32, 8)
			}
			after[p][c[(e+1)%3]] = c[(e+2)%3]
		}
	}
	if flat > 0 {
		t.Errorf("%d triangles have next to no area", flat)
	}
	if share := float64(sharp) / float64(len(m.Triangles)); share > 0.02 {
		t.Errorf("%.2f %% of the triangles have an angle below 30 degrees, want at most 2 %%", 100*share)
	}
	for p, next := range after {
		if !oneFan(next) {
			t.Fatalf("the triangles at point %d do not form one fan", p)
		}
	}
}

func oneFan(next map[int32]int32) bool {
	for start := range next {
		n := 0
		for at, ok := start, true; ok && n < len(next); n++ {
			at, ok = next[at]
			if at == start {
				return n+1 == len(next)
			}
		}
		return false
	}
	return false
}

func longest(a, b, c geom.Vec) float64 {
	return max(b.Sub(a).Dot(b.Sub(a)), c.Sub(b).Dot(c.Sub(b)), a.Sub(c).Dot(a.Sub(c)))
}

func smallestAngle(a, b, c geom.Vec) float64 {
	angle := func(at, p, q geom.Vec) float64 {
		return math.Acos(max(-1, min(1, p.Sub(at).Unit().Dot(q.Sub(at).Unit())))) * 180 / math.Pi
	}
	return min(angle(a, b, c), angle(b, c, a), angle(c, a, b))
}

func shells(m *mesh.Mesh) int {
	root := make([]int32, len(m.Points))
	for i := range root {
		root[i] = int32(i)
	}
	find := func(i int32) int32 {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for _, c := range m.Triangles {
		root[find(c[0])] = find(c[1])
		root[find(c[1])] = find(c[2])
	}
	n := 0
	for i := range root {
		if root[i] == int32(i) {
			n++
		}
	}
	return n
}

func volume(m *mesh.Mesh) (v float64) {
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		v += a.Dot(b.Cross(c)) / 6
	}
	return v
}

func TestHareStandsFlat(t *testing.T) {
	m := Hare(100_000)
	box := m.Box()
	if box.Min.Z != 0 {
		t.Errorf("lowest point at %g, want exactly 0", box.Min.Z)
	}
	size := box.Size()
	for _, tt := range []struct {
		name      string
		got, want float64
	}{{"long", size.X, 420}, {"wide", size.Y, 210}, {"high", size.Z, 300}} {
		if math.Abs(tt.got-tt.want) > 5 {
			t.Errorf("%.1f mm %s, want about %.0f", tt.got, tt.name, tt.want)
		}
	}
	base := 0.0
	feet := geom.EmptyBox()
	var weight geom.Vec
	for i, c := range m.Triangles {
		a, b, d := m.Corners(i)
		weight = weight.Add(a.Add(b).Add(d).Scale(a.Dot(b.Cross(d)) / 24))
		if m.Points[c[0]][2] == 0 && m.Points[c[1]][2] == 0 && m.Points[c[2]][2] == 0 {
			n := b.Sub(a).Cross(d.Sub(a))
			if n.Z >= 0 {
				t.Fatalf("triangle %d of the base faces up", i)
			}
			base -= n.Z / 2
			feet = feet.Add(a).Add(b).Add(d)
		}
	}
	if base < 15_000 {
		t.Errorf("base of %.0f mm², want at least 15,000", base)
	}
	weight = weight.Scale(1 / volume(m))
	if weight.X < feet.Min.X+40 || weight.X > feet.Max.X-40 || math.Abs(weight.Y) > 40 {
		t.Errorf("centre of mass over (%.0f, %.0f), want well within the feet %v", weight.X, weight.Y, feet)
	}
}

// An upright line through the muzzle passes chin and paw; one through an ear passes the back.
func TestHareIsUndercut(t *testing.T) {
	m := Hare(50_000)
	for _, tt := range []struct {
		name string
		x, y float64
		want int
	}{
		{"muzzle over paw", 158, 31, 4},
		{"ear over back", 30, 8, 4},
		{"loin over the floor", 20, 0, 2},
	} {
		heights := crossings(m, tt.x, tt.y)
		if len(heights) < tt.want || len(heights)%2 == 1 {
			t.Errorf("%s: crossings at %.0f, want at least %d", tt.name, heights, tt.want)
		}
		if tt.want == 2 && (len(heights) == 0 || heights[0] < 15) {
			t.Errorf("%s: crossings at %.0f, want the lowest clear of the floor", tt.name, heights)
		}
	}
}

func crossings(m *mesh.Mesh, x, y float64) (heights []float64) {
	p := geom.Vec2{X: x, Y: y}
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		flat := func(v geom.Vec) geom.Vec2 { return geom.Vec2{X: v.X, Y: v.Y}.Sub(p) }
		u, v, w := flat(b).Cross(flat(c)), flat(c).Cross(flat(a)), flat(a).Cross(flat(b))
		if (u > 0) == (v > 0) && (v > 0) == (w > 0) {
			heights = append(heights, (u*a.Z+v*b.Z+w*c.Z)/(u+v+w))
		}
	}
	slices.Sort(heights)
	return heights
}

func TestHareIsAlwaysTheSame(t *testing.T) {
	want := Hare(60_000)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	got := Hare(60_000)
	if !slices.Equal(got.Points, want.Points) || !slices.Equal(got.Triangles, want.Triangles) {
		t.Error("one core makes another hare")
	}
}

func BenchmarkHare(b *testing.B) {
	for b.Loop() {
		Hare(Usual)
	}
}
