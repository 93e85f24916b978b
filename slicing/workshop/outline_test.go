package workshop_test

import (
	"cmp"
	"context"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/plane"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
	"grainstack/slicing/workshop"
)

// outlineTrue is what the files promise, mm.
const outlineTrue = 0.05

// toRings is how far a point lies from the nearest line of a region.
func toRings(g geom.Region, p geom.Vec2) float64 {
	d := math.Inf(1)
	for _, r := range g {
		for i, a := range r {
			d = math.Min(d, plane.Apart(p, a, r[(i+1)%len(r)]))
		}
	}
	return d
}

// along are points of a region's lines, at most a step apart.
func along(g geom.Region, step float64) (out []geom.Vec2) {
	for _, r := range g {
		for i, a := range r {
			way := r[(i+1)%len(r)].Sub(a)
			n := int(way.Len()/step) + 1
			for k := range n {
				out = append(out, a.Add(way.Scale(float64(k)/float64(n))))
			}
		}
	}
	return out
}

// apart is the greatest distance of the lines of either region from those of the other.
func apart(a, b geom.Region) (worst float64) {
	for _, p := range along(a, 0.2) {
		worst = math.Max(worst, toRings(b, p))
	}
	for _, p := range along(b, 0.2) {
		worst = math.Max(worst, toRings(a, p))
	}
	return worst
}

// ringRound is a ring of a thousand chords, a counter-clockwise one for r > 0, on the axis of the stack.
func ringRound(r float64) geom.Ring {
	out := make(geom.Ring, 1000)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(len(out)))
		out[i] = geom.Vec2{X: math.Abs(r) * c, Y: r * s}
	}
	return out
}

// boxShadow is what of a box's shadow lies between two heights: the hull of its corners there and of where its edges pass them.
func boxShadow(corners [8]geom.Vec, low, high float64) geom.Region {
	var ps []geom.Vec2
	for i, a := range corners {
		if a.Z >= low && a.Z <= high {
			ps = append(ps, geom.Vec2{X: a.X, Y: a.Y})
		}
		for _, bit := range [3]int{1, 2, 4} {
			b := corners[i^bit]
			for _, z := range [2]float64{low, high} {
				if a.Z < z && b.Z > z {
					s := (z - a.Z) / (b.Z - a.Z)
					ps = append(ps, geom.Vec2{X: a.X + s*(b.X-a.X), Y: a.Y + s*(b.Y-a.Y)})
				}
			}
		}
	}
	return geom.Region{plane.Hull(ps)}
}

// TestOutlinesOfKnownSolids: outlines are true to 0.05 mm both ways where a formula says how wide a layer is: a ball's at its
// height nearest to the middle, a cone's at its foot, a lying ring's between two circles; a box's is the hull of its corners.
func TestOutlinesOfKnownSolids(t *testing.T) {
	nearest := func(low, high float64) float64 { return math.Max(0, math.Max(low, -high)) } // height nearest to the middle
	turn := geom.TurnXYZ(31, 22, 17)
	var corners [8]geom.Vec
	box := geom.EmptyBox2()
	bottom, top := math.Inf(1), math.Inf(-1)
	for i := range corners {
		corners[i] = turn.Apply(geom.Vec{X: 90 * (float64(i&1) - 0.5), Y: 60 * (float64(i>>1&1) - 0.5), Z: 50 * (float64(i>>2) - 0.5)})
		box = box.Add(geom.Vec2{X: corners[i].X, Y: corners[i].Y})
		bottom, top = math.Min(bottom, corners[i].Z), math.Max(top, corners[i].Z)
	}
	for i := range corners {
		corners[i].Z -= bottom
	}
	for _, tt := range []struct {
		name string
		mesh *mesh.Mesh
		want func(low, high float64) geom.Region
	}{
		{"ball", solidtest.Sphere(60, 200000), func(low, high float64) geom.Region {
			z := nearest(low-60, high-60)
			return geom.Region{ringRound(math.Sqrt(3600 - z*z))}
		}},
		{"cone", solidtest.Frustum(80, 30, 64, 2000), func(low, _ float64) geom.Region {
			return geom.Region{ringRound(80 - 50*low/64)}
		}},
		{"lying ring", solidtest.Torus(60, 24, 1200, 500), func(low, high float64) geom.Region {
			z := nearest(low-24, high-24)
			w := math.Sqrt(24*24 - z*z)
			return geom.Region{ringRound(60 + w), ringRound(w - 60)}
		}},
		{"turned box", solidtest.Turned(solidtest.Moved(solidtest.Box(90, 60, 50), geom.Vec{}), turn), func(low, high float64) geom.Region {
			return boxShadow(corners, low, high)
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := job.Default(stocktest.Catalogue(t))
			s.Wall = 0
			w, _ := laidOut(t, tt.mesh, s, job.Places{})
			worst := 0.0
			for _, p := range w.Parts {
				l := w.Figures.Layers[p.Layer-1]
				worst = math.Max(worst, apart(p.Shadow, tt.want(l.Bottom, l.Top)))
			}
			if worst > outlineTrue {
				t.Errorf("an outline is %.4f mm off", worst)
			}
			t.Logf("%d parts, worst %.4f mm", len(w.Parts), worst)
		})
	}
}

// A lookDown finds the facets over a place, by squares of a millimetre.
type lookDown struct {
	mesh *mesh.Mesh
	at   map[[2]int][]int
}

func newLookDown(m *mesh.Mesh) *lookDown {
	l := &lookDown{m, make(map[[2]int][]int)}
	for t, tri := range m.Triangles {
		box := geom.EmptyBox2()
		for _, k := range tri {
			p := m.Points[k].Vec()
			box = box.Add(geom.Vec2{X: p.X, Y: p.Y})
		}
		for j := int(math.Floor(box.Min.Y)); j <= int(math.Floor(box.Max.Y)); j++ {
			for i := int(math.Floor(box.Min.X)); i <= int(math.Floor(box.Max.X)); i++ {
				l.at[[2]int{i, j}] = append(l.at[[2]int{i, j}], t)
			}
		}
	}
	return l
}

// film is how thick wood has to be over a place, in mm, to count: the outlines' own corners are rounded to less.
const film = 0.001

// wood reports whether there is wood over a place between two heights: where an upright line has entered the solid more often than
// it has left it.
func (l *lookDown) wood(p geom.Vec2, low, high float64) bool {
	type crossing struct {
		z  float64
		in int
	}
	var all []crossing
	for _, t := range l.at[[2]int{int(math.Floor(p.X)), int(math.Floor(p.Y))}] {
		tri := l.mesh.Triangles[t]
		a, b, c := l.mesh.Points[tri[0]].Vec(), l.mesh.Points[tri[1]].Vec(), l.mesh.Points[tri[2]].Vec()
		side := func(a, b geom.Vec) float64 { return (b.X-a.X)*(p.Y-a.Y) - (b.Y-a.Y)*(p.X-a.X) }
		u, v, w := side(b, c), side(c, a), side(a, b)
		z := (u*a.Z + v*b.Z + w*c.Z) / (u + v + w)
		if u > 0 && v > 0 && w > 0 { // seen from above: the line leaves
			all = append(all, crossing{z, -1})
		} else if u < 0 && v < 0 && w < 0 {
			all = append(all, crossing{z, 1})
		}
	}
	slices.SortFunc(all, func(a, b crossing) int { return cmp.Compare(a.z, b.z) })
	inside := 0
	for k, c := range all {
		if inside += c.in; inside > 0 && k+1 < len(all) && c.z < high-film && all[k+1].z > low+film {
			return true
		}
	}
	return false
}

// pinhole reports whether a place without wood is in a hole so small that drawings close it: there is wood all round.
func (l *lookDown) pinhole(p geom.Vec2, low, high float64) bool {
	const ways, farthest, step = 24, 1.2, 0.1 // mm; holes of less than 1 mm² are closed
	for k := range ways {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / ways)
		r := step
		for r <= farthest && !l.wood(p.Add(geom.Vec2{X: cos, Y: sin}.Scale(r)), low, high) {
			r += step
		}
		if r > farthest {
			return false
		}
	}
	return true
}

// outlinesHold asks at many places on and beside the outlines of every layer whether there is wood, and gives how far the worst
// place with another answer than the outlines' lies from their lines.
func outlinesHold(t *testing.T, w *workshop.Workshop, st *job.Standing, points int) (worst float64) {
	t.Helper()
	look, rnd := newLookDown(st.Placed.Mesh), rand.New(rand.NewSource(1))
	for _, l := range w.Figures.Layers {
		var g geom.Region
		for _, p := range w.Parts {
			if p.Layer == l.Number {
				g = append(g, p.Shadow...)
			}
		}
		far := look.off(g, l.Bottom, l.Top, points, rnd, func(q geom.Vec2) bool { return overSliver(l, q) })
		worst = math.Max(worst, far)
	}
	return worst
}

// off asks at places on and beside outlines, and at some anywhere, whether there is wood between two heights, and gives how far the
// worst place with another answer than the outlines' lies from their lines. Places with wood that is known to be left out don't count.
func (l *lookDown) off(g geom.Region, low, high float64, points int, rnd *rand.Rand, leftOut func(q geom.Vec2) bool) (worst float64) {
	lines, box := along(g, 0.1), g.Box()
	for k := range points {
		q := lines[rnd.Intn(len(lines))].Add(geom.Vec2{X: rnd.NormFloat64(), Y: rnd.NormFloat64()}.Scale(0.1))
		if k%4 == 0 {
			q = box.Min.Add(geom.Vec2{X: rnd.Float64() * box.Size().X, Y: rnd.Float64() * box.Size().Y})
		}
		wood, drawn := l.wood(q, low, high), g.Contains(q)
		if wood != drawn && !(wood && leftOut(q)) && !(drawn && l.pinhole(q, low, high)) {
			worst = math.Max(worst, toRings(g, q))
		}
	}
	return worst
}

// overSliver reports whether a sliver, which is left out of all drawings, may lie over a place.
func overSliver(l job.Layer, q geom.Vec2) bool {
	return slices.ContainsFunc(l.Slivers, func(s stack.Part) bool {
		return q.X >= s.Box.Min.X && q.X <= s.Box.Max.X && q.Y >= s.Box.Min.Y && q.Y <= s.Box.Max.Y
	})
}

// TestOutlinesByLookingDown: outlines of a knobbly piece agree with upright lines through it but for 0.05 mm at their lines. So do
// those of the pieces in the folder that GRAINSTACK_FIELD_SET names, mended.
func TestOutlinesByLookingDown(t *testing.T) {
	s := job.Default(stocktest.Catalogue(t))
	s.Wall = 0
	check := func(name string, m *mesh.Mesh) {
		w, st := laidOut(t, m, s, job.Places{})
		if worst := outlinesHold(t, w, st, 4000); worst > outlineTrue {
			t.Errorf("%s: an outline is %.4f mm off", name, worst)
		} else {
			t.Logf("%s: %d parts, worst %.4f mm", name, len(w.Parts), worst)
		}
	}
	check("bumpy", solidtest.Turned(solidtest.Bumpy(60, 40000), geom.TurnXYZ(12, 34, 0)))
	if set := os.Getenv("GRAINSTACK_FIELD_SET"); set != "" {
		files, err := filepath.Glob(filepath.Join(set, "*.o??"))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			p, err := job.OpenPiece(context.Background(), file)
			if err != nil || len(p.Mesh.Triangles) > 200000 {
				continue
			}
			if p, err = p.Mend(context.Background(), s, nil); err != nil {
				t.Fatal(err)
			}
			k := 150 / p.Mesh.Box().Size().Z
			check(filepath.Base(file), solidtest.Stretch(p.Mesh, k, k, k))
		}
	}
}
