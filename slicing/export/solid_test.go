package export

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/sample"
	"grainstack/slicing/solidtest"
)

// stepped is two blocks, one on the other, joined at height 32: a face that looks up lies in a joint of 16 mm layers, and
// four of its edges are walls of the upper block.
func stepped() *mesh.Mesh {
	p := func(x, y, z float32) mesh.Point { return mesh.Point{x, y, z} }
	m := &mesh.Mesh{Points: []mesh.Point{
		p(0, 0, 0), p(100, 0, 0), p(100, 80, 0), p(0, 80, 0),
		p(0, 0, 32), p(100, 0, 32), p(100, 80, 32), p(0, 80, 32),
		p(20, 20, 32), p(70, 20, 32), p(70, 60, 32), p(20, 60, 32),
		p(20, 20, 64), p(70, 20, 64), p(70, 60, 64), p(20, 60, 64),
	}}
	quad := func(a, b, c, d int32) {
		m.Triangles = append(m.Triangles, mesh.Triangle{a, b, c}, mesh.Triangle{a, c, d})
	}
	quad(0, 3, 2, 1)
	quad(12, 13, 14, 15)
	for i := range int32(4) {
		n := (i + 1) % 4
		quad(i, n, 4+n, 4+i)
		quad(4+i, 4+n, 8+n, 8+i)
		quad(8+i, 8+n, 12+n, 12+i)
	}
	return m
}

// ridge is a roof whose ridge, 32 mm up, lies in a joint, with a tower at one end that goes on to 50 mm.
func ridge() *mesh.Mesh {
	p := func(x, y, z float32) mesh.Point { return mesh.Point{x, y, z} }
	m := &mesh.Mesh{Points: []mesh.Point{
		p(0, -20, 0), p(100, -20, 0), p(100, 20, 0), p(0, 20, 0), p(0, 0, 32), p(100, 0, 32), p(130, 0, 50),
	}}
	m.Triangles = []mesh.Triangle{
		{0, 3, 2}, {0, 2, 1}, // floor
		{0, 1, 5}, {0, 5, 4}, {2, 3, 4}, {2, 4, 5}, // slopes
		{3, 0, 4}, // gable
		{1, 6, 5}, {6, 2, 5}, {1, 2, 6},
	}
	return m
}

func pieces(t testing.TB) []struct {
	name   string
	mesh   *mesh.Mesh
	change func(*job.Settings)
} {
	solid := wall(0, job.Carved, 0, 0)
	sixteen := thickness(t, 16)
	hare := sample.Hare(60_000)
	return []struct {
		name   string
		mesh   *mesh.Mesh
		change func(*job.Settings)
	}{
		{"ball", solidtest.Sphere(60, 20_000), both(sixteen, solid)},
		{"ball of few facets in thin layers", solidtest.Sphere(60, 48), both(thickness(t, 3), solid)},
		{"ring lying", solidtest.Torus(60, 20, 90, 60), both(sixteen, solid)},
		{"ring standing", solidtest.Torus(60, 20, 90, 60), both(sixteen, solid, turned(90, 0, 0))},
		{"block with faces in joints", solidtest.Box(100, 80, 64), both(sixteen, solid)},
		{"steps in a joint", stepped(), both(sixteen, solid)},
		{"steps upside down", stepped(), both(sixteen, solid, turned(180, 0, 0))},
		{"ridge in a joint", ridge(), both(sixteen, solid)},
		{"bumps", solidtest.Bumpy(90, 60_000), both(sixteen, solid, turned(31, 17, 5))},
		{"ball, carved", solidtest.Sphere(80, 20_000), both(sixteen, wall(20, job.Carved, 1, 1))},
		{"frustum, straight, blind at both ends", solidtest.Frustum(60, 40, 80, 400), both(sixteen, wall(8, job.Straight, 0, 0))},
		{"ball, straight", solidtest.Sphere(80, 20_000), both(sixteen, wall(20, job.Straight, 0, 0))},
		{"block, carved without caps", solidtest.Box(200, 160, 96), both(sixteen, wall(20, job.Carved, 0, 0))},
		{"ring, carved", solidtest.Torus(90, 40, 120, 80), both(sixteen, wall(15, job.Carved, 1, 1))},
		{"hare", hare, both(sixteen, solid)},
		{"hare, carved", hare, both(sixteen, wall(20, job.Carved, 1, 1))},
		{"hare, straight", hare, both(sixteen, wall(20, job.Straight, 1, 1))},
		{"hare on its side, carved", hare, both(sixteen, wall(20, job.Carved, 0, 0), turned(70, 20, 0))},
		{"bumps, straight", solidtest.Bumpy(90, 60_000), both(sixteen, wall(20, job.Straight, 1, 0), turned(31, 17, 5))},
	}
}

// TestLayerSolids: every layer is a closed 2-manifold with its outside out; a layer without hollow holds what the profile
// says, and layers and hollow add up to the piece within 0.01 %. The carved hollow is measured by counting finely in the
// field, apart from how the solids are made. The figures tell of each layer the wood that its solid holds,
// but for what keeping its skin a 512th of an edge off the lattice's nodes makes where all of a wall lies on nodes.
func TestLayerSolids(t *testing.T) {
	for _, tt := range pieces(t) {
		t.Run(tt.name, func(t *testing.T) {
			s := divide(t, tt.mesh, tt.change)
			sum, core, told := 0.0, 0.0, 0.0
			for i, m := range s.solids(t) {
				l := s.f.Layers[i]
				sound(t, fmt.Sprintf("layer %d", l.Number), m)
				box := m.Box()
				if box.Min.Z < l.Bottom-1e-4 || box.Max.Z > l.Top+1e-4 {
					t.Errorf("layer %d reaches from %.4f to %.4f, not from %.4f to %.4f", l.Number, box.Min.Z, box.Max.Z, l.Bottom, l.Top)
				}
				hollow := s.counted(l)
				whole := s.st.Profile.Volume(l.Bottom, l.Top)
				if share := layerShare(hollow); math.Abs(m.Volume()+hollow-whole) > share*whole {
					t.Errorf("layer %d: %.2f mm³ and a hollow of %.2f, the profile says %.2f", l.Number, m.Volume(), hollow, whole)
				}
				if math.Abs(m.Volume()-l.Wood) > 3e-5*whole {
					t.Errorf("layer %d: %.3f mm³, the figures tell %.3f", l.Number, m.Volume(), l.Wood)
				}
				sum += m.Volume()
				core += hollow
				told += l.Core
			}
			whole := s.st.Placed.Mesh.Volume()
			t.Logf("piece %.1f mm³: layers and hollow off by %.5f %%, with the figures' hollow by %.5f %%",
				whole, 100*off(sum+core, whole), 100*off(sum+told, whole))
			if off(sum+core, whole) > 1e-4 {
				t.Errorf("layers %.1f and hollow %.1f mm³, the piece %.1f: off by %.4f %%", sum, core, whole, 100*off(sum+core, whole))
			}
			if off(sum+told, whole) > 1e-4 {
				t.Errorf("the figures' hollow is off by %.4f %% of the piece", 100*off(sum+told, whole))
			}
		})
	}
}

// layerShare is how far one layer may be off: one without hollow as little as the whole piece; one in which the hollow ends
// in a flat bottom has more skin for its wood than the piece has.
func layerShare(hollow float64) float64 {
	if hollow == 0 {
		return 1e-4
	}
	return 3e-4
}

// counted is the hollow of a layer that cutters get into from one of its faces, counted in places a third of the field's step
// apart, column by column; a place near the skin counts in part.
func (s stacked) counted(l job.Layer) float64 {
	if l.Core+l.Shut == 0 {
		return 0
	}
	if s.f.For.Core == job.Straight {
		return l.Pocket.Area() * (l.PocketTop - l.PocketBottom)
	}
	pl, box := s.st.Placed.Placement, s.st.Placed.Box
	grid, err := s.st.Grid.Sharpened(context.Background(), 1./12)
	if err != nil {
		panic(err)
	}
	step := s.st.Grid.Step() * pl.Scale / 3
	n := math.Ceil(l.Thickness() / step)
	rise := l.Thickness() / n
	nx := int(math.Ceil(box.Size().X / step))
	sum := 0.0
	columns := make([][]float64, nx) // of one row: how deep each place lies, in steps
	for y := box.Min.Y; y < box.Max.Y; y += step {
		for i := range columns {
			columns[i] = columns[i][:0]
		}
		for k := range int(n) + 2 { // the layer's faces are looked through and hold nothing
			z := min(max(l.Bottom+(float64(k)-0.5)*rise, l.Bottom), l.Top)
			for i := 0; i < nx; {
				x := box.Min.X + float64(i)*step
				d := (grid.Depth(pl.Back(geom.Vec{X: x, Y: y, Z: z}))*pl.Scale - s.f.For.Wall) / step
				columns[i] = append(columns[i], d)
				i++
				for sure := math.Abs(d)*0.9 - 3; sure > 1 && i < nx; sure-- { // nothing changes on the way
					columns[i] = append(columns[i], d)
					i++
				}
			}
		}
		for _, c := range columns {
			sum += seen(c)
		}
	}
	return sum * step * step * rise
}

// seen is how much of a column is hollow and in sight of one of its ends: of each place the share that is hollow there and all
// the way to that end.
func seen(column []float64) (sum float64) {
	hollow := func(k int) float64 { return min(max(column[k]+0.5, 0), 1) }
	above := make([]float64, len(column)+1)
	above[len(column)] = 1
	for k := len(column) - 1; k >= 0; k-- {
		above[k] = min(hollow(k), above[k+1])
	}
	below := 1.0
	for k := range column {
		below = min(hollow(k), below)
		if k > 0 && k < len(column)-1 {
			sum += max(above[k], below)
		}
	}
	return sum
}

// TestJointFacesCoincide: what a layer shows on a joint and what its neighbour shows there is the same face, point for
// point, as far as the piece has no ledge in the joint and both layers the same hollow.
func TestJointFacesCoincide(t *testing.T) {
	for _, tt := range pieces(t) {
		t.Run(tt.name, func(t *testing.T) {
			s := divide(t, tt.mesh, tt.change)
			solids := s.solids(t)
			for i := 1; i < len(solids); i++ {
				z := float32(s.f.Layers[i].Bottom)
				under, over := faceOn(solids[i-1], z, 1), faceOn(solids[i], z, -1)
				ledges := s.st.Profile.Area(s.f.Layers[i].Bottom) != s.st.Profile.AreaBelow(s.f.Layers[i].Bottom)
				same := !s.hollowDiffers(i-1, i)
				if same && !ledges && !slices.Equal(under.points, over.points) {
					t.Errorf("joint %d: %d points below and %d above are not the same", i, len(under.points), len(over.points))
				}
				if a, b := under.area, over.area; same && !ledges && off(a, b) > 1e-9 {
					t.Errorf("joint %d: %.6f mm² below, %.6f above", i, a, b)
				}
			}
		})
	}
}

// hollowDiffers reports whether two layers have hollows of different kinds or of different outlines on their joint.
func (s stacked) hollowDiffers(a, b int) bool {
	if s.f.For.Wall == 0 {
		return false
	}
	return s.f.For.Core == job.Straight || s.f.Layers[a].Capped != s.f.Layers[b].Capped
}

// A flat is what a solid shows on a plane.
type flat struct {
	area   float64
	points []geom.Vec2 // sorted
}

// faceOn gathers the triangles that lie on a plane and look one way.
func faceOn(m *mesh.Mesh, z float32, up float64) flat {
	var f flat
	seen := map[geom.Vec2]bool{}
	for i, t := range m.Triangles {
		a, b, c := m.Corners(i)
		if m.Points[t[0]][2] != z || m.Points[t[1]][2] != z || m.Points[t[2]][2] != z {
			continue
		}
		n := b.Sub(a).Cross(c.Sub(a)).Z * up / 2
		if n <= 0 {
			continue
		}
		f.area += n
		for _, p := range t {
			seen[planar(m.Points[p])] = true
		}
	}
	for p := range seen {
		f.points = append(f.points, p)
	}
	slices.SortFunc(f.points, func(p, q geom.Vec2) int {
		switch {
		case p.X < q.X || p.X == q.X && p.Y < q.Y:
			return -1
		case p == q:
			return 0
		}
		return 1
	})
	return f
}

// TestJointFaceIsOutlineLessCore: a joint face has the area of the section less that of the hollow there, and its triangles
// do not overlap.
func TestJointFaceIsOutlineLessCore(t *testing.T) {
	s := divide(t, sample.Hare(60_000), both(thickness(t, 16), wall(20, job.Carved, 1, 1)))
	for i, m := range s.solids(t)[1:] {
		l := s.f.Layers[i+1]
		f := faceOn(m, float32(l.Bottom), -1)
		if down := faceOn(m, float32(l.Bottom), 1); down.area > 1e-6 {
			t.Errorf("joint %d: %.6f mm² of its face is turned over", i+1, down.area)
		}
		want := s.st.Profile.JointArea(l.Bottom)
		if !l.Capped {
			want -= s.st.Table.CoreArea(l.Bottom, s.f.For.Wall)
		}
		if math.Abs(f.area-want) > 0.01*want+20 {
			t.Errorf("joint %d: %.1f mm², the figures say %.1f", i+1, f.area, want)
		}
	}
}

func TestLayerSolidsRefuses(t *testing.T) {
	s := divide(t, solidtest.Sphere(60, 2000), both(thickness(t, 16), wall(0, job.Carved, 0, 0)))
	for _, tt := range []struct {
		name   string
		layers []int
	}{{"none", []int{0}}, {"beyond", []int{len(s.f.Layers) + 1}}, {"twice", []int{2, 2}}} {
		if _, err := LayerSolids(context.Background(), s.st, s.f, tt.layers); err == nil {
			t.Errorf("%s: %v was taken", tt.name, tt.layers)
		}
	}
	f := *s.f
	f.For.Wall = 20
	if _, err := LayerSolids(context.Background(), s.st, &f, []int{1}); err == nil {
		t.Error("a hollow that is not known was taken")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := LayerSolids(ctx, s.st, s.f, []int{1}); err != context.Canceled {
		t.Errorf("called off: got %v", err)
	}
}

// TestLayerSolidsSubset: a layer does not depend on which others are asked for.
func TestLayerSolidsSubset(t *testing.T) {
	s := divide(t, sample.Hare(60_000), both(thickness(t, 16), wall(20, job.Carved, 1, 1)))
	all := s.solids(t)
	some, err := LayerSolids(context.Background(), s.st, s.f, []int{7, 3})
	if err != nil {
		t.Fatal(err)
	}
	for i, n := range []int{7, 3} {
		if !slices.Equal(all[n-1].Points, some[i].Points) || !slices.Equal(all[n-1].Triangles, some[i].Triangles) {
			t.Errorf("layer %d is another when asked for alone", n)
		}
	}
}

func BenchmarkLayerSolids(b *testing.B) {
	m := solidtest.Bumpy(120, 1_000_000)
	for _, tt := range []struct {
		name string
		core func(*job.Settings)
	}{{"solid", wall(0, job.Carved, 0, 0)}, {"carved", wall(20, job.Carved, 1, 1)}, {"straight", wall(20, job.Straight, 1, 1)}} {
		s := divide(b, m, both(tt.core, func(s *job.Settings) {
			box := m.Box().Size().Z
			thickness(b, box/16)(s)
		}))
		b.Run(fmt.Sprintf("%s/%d layers", tt.name, len(s.f.Layers)), func(b *testing.B) {
			n := 0
			for b.Loop() {
				n = 0
				for _, m := range s.solids(b) {
					n += len(m.Triangles)
				}
			}
			b.ReportMetric(float64(n), "triangles")
		})
	}
}
