package export

import (
	"maps"
	"math/rand"
	"slices"
	"testing"

	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// blocks is a heap of cubes of a size, each there or not by chance, with the skin between them and the air. Corners are
// shared, so that cubes may touch in a corner; where they would along an edge only, one more is put beside them.
func blocks(rnd *rand.Rand, n int, size float32) *mesh.Mesh {
	there := map[[3]int]bool{}
	for x := range n {
		for y := range n {
			for z := range n {
				there[[3]int{x, y, z}] = rnd.Intn(100) < 40
			}
		}
	}
	for join(there) {
	}
	m := &mesh.Mesh{}
	number := map[[3]int]int32{}
	point := func(p [3]int) int32 {
		if _, ok := number[p]; !ok {
			number[p] = int32(len(m.Points))
			m.Points = append(m.Points, mesh.Point{float32(p[0]) * size, float32(p[1]) * size, float32(p[2]) * size})
		}
		return number[p]
	}
	for x := range n {
		for y := range n {
			for z := range n {
				if there[[3]int{x, y, z}] {
					skin(m, [3]int{x, y, z}, there, point)
				}
			}
		}
	}
	return m
}

// join fills up beside cubes that touch along an edge only; it reports whether there were any.
func join(there map[[3]int]bool) (any bool) {
	for _, p := range slices.SortedFunc(maps.Keys(there), func(a, b [3]int) int { return slices.Compare(a[:], b[:]) }) {
		if !there[p] {
			continue
		}
		for axis := range 3 {
			for _, way := range [4][2]int{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
				a, b, q := p, p, p
				a[axis] += way[0]
				b[(axis+1)%3] += way[1]
				q[axis] += way[0]
				q[(axis+1)%3] += way[1]
				if there[q] && !there[a] && !there[b] {
					there[a], any = true, true
				}
			}
		}
	}
	return any
}

// skin adds the faces of a cube that look into the air.
func skin(m *mesh.Mesh, at [3]int, there map[[3]int]bool, point func([3]int) int32) {
	for axis := range 3 {
		for side := range 2 {
			beside := at
			beside[axis] += 2*side - 1
			if there[beside] {
				continue
			}
			var q [4]int32
			for k, c := range [4][2]int{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
				p := at
				p[axis] += side
				p[(axis+1)%3] += c[0]
				p[(axis+2)%3] += c[1]
				q[k] = point(p)
			}
			if side == 0 {
				q[1], q[3] = q[3], q[1]
			}
			m.Triangles = append(m.Triangles, mesh.Triangle{q[0], q[1], q[2]}, mesh.Triangle{q[0], q[2], q[3]})
		}
	}
}

// TestBlocksByChance: faces, edges and corners in every joint, cubes that touch in a corner.
func TestBlocksByChance(t *testing.T) {
	rnd := rand.New(rand.NewSource(7))
	for n := range 60 {
		m := blocks(rnd, 4, 16)
		if f := mesh.Inspect(m, m.Adjacency()); !f.Solid() {
			t.Fatalf("heap %d is no solid: %+v", n, f)
		}
		s := divide(t, m, both(thickness(t, 16), wall(0, job.Carved, 0, 0)))
		sum := 0.0
		for i, l := range s.solids(t) {
			f := mesh.Inspect(l, l.Adjacency())
			if !f.Solid() || f.ZeroArea > 0 {
				t.Errorf("heap %d, layer %d: open %d, more than two %d, flipped %d, inward %d, no area %d", n, i+1,
					f.OpenEdges, f.NonManifoldEdges, f.FlippedEdges, f.InwardShells, f.ZeroArea)
			}
			sum += f.Volume
		}
		if off(sum, m.Volume()) > 1e-6 {
			t.Errorf("heap %d: %.3f mm³ of %.3f", n, sum, m.Volume())
		}
	}
}

// TestTurnsByChance: pieces turned any way, in layers of any thickness.
func TestTurnsByChance(t *testing.T) {
	rnd := rand.New(rand.NewSource(8))
	shapes := []*mesh.Mesh{solidtest.Bumpy(60, 5000), solidtest.Torus(60, 20, 40, 24), solidtest.Box(100, 70, 40), solidtest.Sphere(50, 300)}
	for n := range 80 {
		m := shapes[n%len(shapes)]
		turn := turned(360*rnd.Float64(), 360*rnd.Float64(), 360*rnd.Float64())
		if n%3 == 0 {
			turn = turned(float64(90*rnd.Intn(4)), float64(90*rnd.Intn(4)), float64(45*rnd.Intn(8)))
		}
		thick := 1.5 + 20*rnd.Float64()
		if n%2 == 0 {
			thick = float64(2 * (1 + rnd.Intn(10)))
		}
		s := divide(t, m, both(thickness(t, thick), turn, wall(0, job.Carved, 0, 0)))
		sum := 0.0
		for i, l := range s.solids(t) {
			f := mesh.Inspect(l, l.Adjacency())
			if !f.Solid() {
				t.Errorf("turn %d, layer %d of %d: open %d, more than two %d, flipped %d, inward %d", n, i+1, len(s.f.Layers),
					f.OpenEdges, f.NonManifoldEdges, f.FlippedEdges, f.InwardShells)
			}
			sum += f.Volume
		}
		if off(sum, s.st.Placed.Mesh.Volume()) > 1e-5 {
			t.Errorf("turn %d: %.3f mm³ of %.3f", n, sum, s.st.Placed.Mesh.Volume())
		}
	}
}

// TestHollowsByChance: carved hollows of any wall in pieces turned any way, open at both ends.
func TestHollowsByChance(t *testing.T) {
	rnd := rand.New(rand.NewSource(9))
	m := solidtest.Bumpy(60, 3000)
	for n := range 6 {
		w := 6 + 20*rnd.Float64()
		s := divide(t, m, both(thickness(t, 5+20*rnd.Float64()), wall(w, job.Carved, 0, 0),
			turned(360*rnd.Float64(), 360*rnd.Float64(), 360*rnd.Float64())))
		for i, l := range s.solids(t) {
			f := mesh.Inspect(l, l.Adjacency())
			if !f.Solid() || f.ZeroArea > 0 {
				t.Errorf("turn %d, layer %d, wall %.1f: open %d, more than two %d, flipped %d, inward %d, no area %d", n, i+1, w,
					f.OpenEdges, f.NonManifoldEdges, f.FlippedEdges, f.InwardShells, f.ZeroArea)
			}
		}
	}
}
