package export

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
)

// TestPanelFaceWithin: every column away from where wood ends finds its own top and bottom on the solid, within the bound
// that is stated, and the solid has a fraction of the triangles that two a cell and face would be.
func TestPanelFaceWithin(t *testing.T) {
	p := harePlan(t, 9)
	p.Tabs = []PanelTab{{At: geom.Vec2{X: 300, Y: 262}, Way: geom.Vec2{Y: 1}, Length: 30, Width: 12, Bottom: 3, Top: 9, Root: 5}}
	p.Holes = append(p.Holes, PanelHole{At: geom.Vec2{X: 200, Y: 60}, Diameter: 8, FromAbove: 10})
	m := model(t, p)
	s := m.Solid(panel.SideA)
	sound(t, "side A", s)
	found := make([][2]bool, m.nx*m.ny)
	worst := 0.0
	for i := range s.Triangles {
		a, b, c := s.Corners(i)
		area := b.Sub(a).Cross(c.Sub(a)).Z
		if math.Abs(area) < 1e-6 { // an upright wall
			continue
		}
		ends, side := m.bottom, 0
		if area > 0 {
			ends, side = m.top, 1
		}
		box := geom.EmptyBox2()
		for _, v := range []geom.Vec{a, b, c} {
			box = box.Add(geom.Vec2{X: v.X, Y: v.Y})
		}
		m.each(box, func(n int, at geom.Vec2) {
			v := geom.Vec{X: at.X, Y: at.Y}
			u := b.Sub(v).Cross(c.Sub(v)).Z / area
			w := c.Sub(v).Cross(a.Sub(v)).Z / area
			if least := min(u, w, 1-u-w); least < -1e-9 || !inner(m, n) {
				return
			}
			z := u*a.Z + w*b.Z + (1-u-w)*c.Z
			found[n][side] = true
			worst = max(worst, math.Abs(z-float64(ends[n])))
		})
	}
	missing, cells := 0, 0
	for n, f := range found {
		if inner(m, n) {
			cells++
			if !f[0] || !f[1] {
				missing++
			}
		}
	}
	t.Logf("%d triangles over %d cells, worst %.4f mm", len(s.Triangles), cells, worst)
	if worst > within+1e-4 || worst == 0 {
		t.Errorf("a column's end lies %.4f mm off the solid, the bound is %g", worst, within)
	}
	if missing > 0 {
		t.Errorf("%d of %d columns are not covered", missing, cells)
	}
	if len(s.Triangles) > cells {
		t.Errorf("%d triangles for %d cells", len(s.Triangles), cells)
	}
}

// inner reports whether a column has cells all round, so that it stays where it is.
func inner(m *PanelModel, n int) bool {
	x, y := n%m.nx, n/m.nx
	if x < 2 || y < 2 || x > m.nx-3 || y > m.ny-3 {
		return false
	}
	for dy := -2; dy <= 2; dy++ {
		for dx := -2; dx <= 2; dx++ {
			if !m.wood(n + dy*m.nx + dx) {
				return false
			}
		}
	}
	return true
}

// TestSquareHalves: the diagonals of a square's quarters meet in its middle, and the two triangles are counter-clockwise
// with their longest side last to be divided.
func TestSquareHalves(t *testing.T) {
	for _, at := range []spot{{0, 0}, {4, 0}, {0, 4}, {4, 4}} {
		for _, s := range squareHalves(at, 4) {
			if s.a != (spot{4, 4}) && s.b != (spot{4, 4}) {
				t.Errorf("the quarter at %v is cut from %v to %v", at, s.a, s.b)
			}
			if area := (s.b.x-s.a.x)*(s.c.y-s.a.y) - (s.b.y-s.a.y)*(s.c.x-s.a.x); area != 16 {
				t.Errorf("%v has an area of %d halves, want 16", s, area)
			}
			for _, u := range s.halves() {
				if u.c != middle(s.a, s.b) {
					t.Errorf("%v is halved at %v", s, u.c)
				}
			}
		}
	}
}

// TestStraightWalls: a panel without a part has no corners but its own and those of a gap's edges, and loses nothing by it: the
// solid holds what its columns do.
func TestStraightWalls(t *testing.T) {
	frame := func(at geom.Vec2) bool { return at.X < 40 || at.X > 60 || at.Y < 20 || at.Y > 50 }
	for _, tt := range []struct {
		name   string
		stays  func(geom.Vec2) bool
		points int
		volume float64
	}{
		{"whole", nil, 8, 100 * 80 * 16},
		{"with an opening", frame, 16, (100*80 - 21*31) * 16}, // the last columns that stay are half a millimetre off either way
	} {
		s := model(t, PanelPlan{X: 100, Y: 80, Thickness: 16, Stays: tt.stays}).Solid(panel.SideA)
		sound(t, tt.name, s)
		if len(s.Points) != tt.points || math.Abs(s.Volume()-tt.volume) > 0.01 {
			t.Errorf("%s: %d points, %.3f mm³, want %d and %g", tt.name, len(s.Points), s.Volume(), tt.points, tt.volume)
		}
	}
}
