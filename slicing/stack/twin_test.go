package stack

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"

	"github.com/unixpickle/model3d/model3d"
	"pgregory.net/rapid"
)

// A point lies in a section where it lies in the solid by another library's count of ray crossings (unixpickle/model3d).
func TestSectionsAgainstRayCrossings(t *testing.T) {
	for name, m := range map[string]*mesh.Mesh{
		"bumpy": solidtest.Turned(solidtest.Bumpy(100, 20000), geom.TurnXYZ(40, 10, 0)),
		"torus": solidtest.Turned(solidtest.Torus(80, 25, 90, 40), geom.TurnXYZ(70, 10, 0)),
		"shell": solidtest.Join(solidtest.Sphere(90, 3000), solidtest.Flip(solidtest.Sphere(60, 3000))),
	} {
		var triangles []*model3d.Triangle
		for i := range m.Triangles {
			a, b, c := m.Corners(i)
			triangles = append(triangles, &model3d.Triangle{model3d.XYZ(a.X, a.Y, a.Z), model3d.XYZ(b.X, b.Y, b.Z), model3d.XYZ(c.X, c.Y, c.Z)})
		}
		solid := model3d.MeshToCollider(model3d.NewMeshTriangles(triangles))
		random := rand.New(rand.NewPCG(1, 2))
		box, compared, inside := m.Box(), 0, 0
		for range 40 {
			z := box.Min.Z + random.Float64()*box.Size().Z
			region := sectionsOf(t, m, z)[0].Region
			for range 50 {
				p := geom.Vec2{X: box.Min.X + random.Float64()*box.Size().X, Y: box.Min.Y + random.Float64()*box.Size().Y}
				at := model3d.XYZ(p.X, p.Y, z)
				want := model3d.ColliderContains(solid, at, 1e-4)
				if want != model3d.ColliderContains(solid, at, -1e-4) {
					continue // on the surface
				}
				compared++
				if want {
					inside++
				}
				if got := region.Contains(p); got != want {
					t.Errorf("%s: at %v, %g: got inside %v, want %v", name, p, z, got, want)
				}
			}
		}
		if compared < 1900 || inside < 200 {
			t.Errorf("%s: only %d points compared, %d inside", name, compared, inside)
		}
	}
}

// blocks is a solid of unit cubes, filled where it would hang together by an edge alone.
type blocks struct {
	n    [3]int
	full []bool
}

func (b *blocks) at(p [3]int) bool {
	for k := range 3 {
		if p[k] < 0 || p[k] >= b.n[k] {
			return false
		}
	}
	return b.full[b.index(p)]
}

func (b *blocks) index(p [3]int) int { return (p[2]*b.n[1]+p[1])*b.n[0] + p[0] }

func (b *blocks) each(visit func(p [3]int)) {
	for z := range b.n[2] {
		for y := range b.n[1] {
			for x := range b.n[0] {
				visit([3]int{x, y, z})
			}
		}
	}
}

func step(p [3]int, k, by int) [3]int {
	p[k] += by
	return p
}

func (b *blocks) mendEdges() {
	for again := true; again; {
		again = false
		b.each(func(p [3]int) {
			for k := range 3 {
				i, j := (k+1)%3, (k+2)%3
				q, r := step(p, i, 1), step(p, j, 1)
				s := step(q, j, 1)
				if b.at(p) && b.at(s) && !b.at(q) && !b.at(r) {
					b.full[b.index(q)], again = true, true
				}
				if !b.at(p) && !b.at(s) && b.at(q) && b.at(r) {
					b.full[b.index(p)], again = true, true
				}
			}
		})
	}
}

// surface is the welded skin of the blocks.
func (b *blocks) surface() *mesh.Mesh {
	m := &mesh.Mesh{}
	number := map[[3]int]int32{}
	corner := func(p [3]int) int32 {
		i, found := number[p]
		if !found {
			i = int32(len(m.Points))
			number[p] = i
			m.Points = append(m.Points, mesh.Point{float32(p[0]), float32(p[1]), float32(p[2])})
		}
		return i
	}
	b.each(func(p [3]int) {
		for k := range 3 {
			for _, out := range [2]int{-1, 1} {
				if !b.at(p) || b.at(step(p, k, out)) {
					continue
				}
				i, j := (k+1)%3, (k+2)%3
				o := p
				if out > 0 {
					o = step(p, k, 1)
				} else {
					i, j = j, i
				}
				v := [4]int32{corner(o), corner(step(o, i, 1)), corner(step(step(o, i, 1), j, 1)), corner(step(o, j, 1))}
				m.Triangles = append(m.Triangles, mesh.Triangle{v[0], v[1], v[2]}, mesh.Triangle{v[0], v[2], v[3]})
			}
		}
	})
	return m
}

// pieces are the volumes of the connected blocks between two heights, the largest first.
func (b *blocks) pieces(z0, z1 float64) (volumes []float64) {
	part := func(p [3]int) float64 {
		if !b.at(p) {
			return 0
		}
		return math.Min(z1, float64(p[2]+1)) - math.Max(z0, float64(p[2]))
	}
	seen := make([]bool, len(b.full))
	b.each(func(p [3]int) {
		v := 0.0
		for open := [][3]int{p}; len(open) > 0; {
			q := open[len(open)-1]
			open = open[:len(open)-1]
			if part(q) <= 0 || seen[b.index(q)] {
				continue
			}
			seen[b.index(q)] = true
			v += part(q)
			for k := range 3 {
				open = append(open, step(q, k, 1), step(q, k, -1))
			}
		}
		if v > 0 {
			volumes = append(volumes, v)
		}
	})
	slices.SortFunc(volumes, func(a, b float64) int { return -compare(a, b) })
	return volumes
}

// Parts of any pile of blocks, with joints at block faces and between, against flooding the blocks.
func TestPartsAgainstFlooding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := &blocks{n: [3]int{4, 4, 5}}
		b.full = rapid.SliceOfN(rapid.Bool(), 80, 80).Draw(t, "blocks")
		b.mendEdges()
		const side = 10 // mm, so that a block is no sliver
		m := solidtest.Stretch(b.surface(), side, side, side)
		heights := append([]float64{0, 5}, rapid.SliceOfN(rapid.SampledFrom([]float64{1, 1.5, 2, 2.25, 3, 3.75, 4}), 0, 4).Draw(t, "joints")...)
		slices.Sort(heights)
		heights = slices.Compact(heights)
		grown := make([]float64, len(heights))
		for i, z := range heights {
			grown[i] = side * z
		}
		slabs := slabsAt(heights...)
		d, err := Divide(ctx, NewSlicer(m, twins(m)), slabsAt(grown...))
		if err != nil {
			t.Fatal(err)
		}
		got := d.Parts
		for i, s := range slabs {
			want := b.pieces(s.Bottom, s.Top)
			if len(got[i]) != len(want) {
				t.Fatalf("layer %d of %+v: got %d parts %+v, want %v", i+1, slabs, len(got[i]), got[i], want)
			}
			for j, p := range got[i] {
				if math.Abs(p.Volume-side*side*side*want[j]) > 0.1 {
					t.Fatalf("layer %d, part %d: got %g, want %g", i+1, j+1, p.Volume, side*side*side*want[j])
				}
			}
		}
	})
}
