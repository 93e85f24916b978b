package export

import (
	"math"
	"testing"

	"github.com/unixpickle/model3d/model3d"

	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
	"grainstack/slicing/sample"
	"grainstack/slicing/solidtest"
)

// peer is a mesh for the general library, float32 places as they are.
func peer(m *mesh.Mesh) *model3d.Mesh {
	out := model3d.NewMesh()
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		out.Add(&model3d.Triangle{{X: a.X, Y: a.Y, Z: a.Z}, {X: b.X, Y: b.Y, Z: b.Z}, {X: c.X, Y: c.Y, Z: c.Z}})
	}
	return out
}

// TestPeer: github.com/unixpickle/model3d, which knows nothing of this package, finds every layer of real pieces closed, a
// manifold at edges and points, without flipped facets, and of the volume that this package says.
func TestPeer(t *testing.T) {
	hare := sample.Hare(20_000)
	for _, tt := range []struct {
		name   string
		mesh   *mesh.Mesh
		change func(*job.Settings)
		rays   bool // have the library find out by rays where each facet faces, which takes long
	}{
		{"hare, carved", hare, both(thickness(t, 16), wall(20, job.Carved, 1, 1)), false},
		{"hare, straight", hare, both(thickness(t, 16), wall(20, job.Straight, 0, 0)), true},
		{"hare on its side", hare, both(thickness(t, 16), wall(20, job.Carved, 0, 1), turned(80, 10, 0)), false},
		{"bumps", solidtest.Bumpy(90, 10_000), both(thickness(t, 20), wall(35, job.Carved, 0, 0)), true},
		{"steps", stepped(), both(thickness(t, 16), wall(0, job.Carved, 0, 0)), true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := divide(t, tt.mesh, tt.change)
			sum := 0.0
			for i, m := range s.solids(t) {
				p := peer(m)
				if n := len(p.TriangleSlice()); n != len(m.Triangles) {
					t.Errorf("layer %d: %d of %d triangles are left", i+1, n, len(m.Triangles))
				}
				if p.NeedsRepair() {
					t.Errorf("layer %d is not closed or no manifold at its edges", i+1)
				}
				if v := p.SingularVertices(); len(v) > 0 {
					t.Errorf("layer %d is no manifold at %v", i+1, v)
				}
				if tt.rays {
					if _, n := p.RepairNormals(1e-9); n > 0 {
						t.Errorf("layer %d: %d facets face the wrong way", i+1, n)
					}
				}
				if off(p.Volume(), m.Volume()) > 1e-6 {
					t.Errorf("layer %d: %.3f mm³, the library says %.3f", i+1, m.Volume(), p.Volume())
				}
				sum += p.Volume()
			}
			core := 0.0
			for _, l := range s.f.Layers {
				core += s.counted(l)
			}
			if whole := peer(s.st.Placed.Mesh).Volume(); math.Abs(sum+core-whole) > 1e-4*whole {
				t.Errorf("layers %.1f and hollow %.1f mm³, the piece %.1f", sum, core, whole)
			}
		})
	}
}

// TestPeerPanel: the panel's sides, too.
func TestPeerPanel(t *testing.T) {
	m := model(t, harePlan(t, 9))
	for _, side := range []panel.Face{panel.SideA, panel.SideB} {
		s := m.Solid(side)
		p := peer(s)
		if p.NeedsRepair() || len(p.SingularVertices()) > 0 {
			t.Errorf("side %v is no manifold", side)
		}
		if off(p.Volume(), s.Volume()) > 1e-6 {
			t.Errorf("side %v: %.1f mm³, the library says %.1f", side, s.Volume(), p.Volume())
		}
	}
}
