package toolpath_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/proof"
	"grainstack/slicing/stock"
	"grainstack/slicing/toolpath"
)

// addHold draws the collet nut, clamps inside, over and beside the border of the panel, and what is left of tabs.
func (c *chance) addHold(rnd *rand.Rand) {
	between := func(low, high float64) float64 { return low + (high-low)*rnd.Float64() }
	p := &c.panel
	p.Nut = between(12, 30)
	for range rnd.IntN(4) {
		wide, deep, at := between(15, 60), between(10, 50), rnd.Float64()
		beyond := between(-25, deep+5) // how much of it lies over the border: less than none is inside it, more than all beside the panel
		low := geom.Vec2{X: at * (p.X - wide), Y: -beyond}
		size := geom.Vec2{X: wide, Y: deep}
		switch rnd.IntN(4) {
		case 1:
			low.Y = p.Y - deep + beyond
		case 2:
			low, size = geom.Vec2{X: -beyond, Y: at * (p.Y - wide)}, geom.Vec2{X: deep, Y: wide}
		case 3:
			low, size = geom.Vec2{X: p.X - deep + beyond, Y: at * (p.Y - wide)}, geom.Vec2{X: deep, Y: wide}
		}
		p.Clamps = append(p.Clamps, toolpath.Clamp{Box2: geom.Box2{Min: low, Max: low.Add(size)}, Height: between(5, 40)})
	}
	if rnd.IntN(2) == 0 {
		p.TabLeft = between(0.3, 2)
	}
}

// keepToWood moves pins that lie in a ring's hole over to the ring: a layout has none in the waste.
func (c *chance) keepToWood() {
	p := &c.panel
	part := standing(*p)
	for i := range p.Holes {
		h := &p.Holes[i]
		wood := func(y float64) bool { return within(geom.Vec{X: h.At.X, Y: y, Z: p.Thickness / 2}, part) }
		if wood(h.At.Y) {
			continue
		}
		low := h.At.Y
		for !wood(low) && low < p.Y {
			low += 0.25
		}
		high := low
		for wood(high) {
			high += 0.25
		}
		h.At.Y, h.Diameter = (low+high)/2, min(h.Diameter, max(high-low-2, 1))
	}
}

// addHollow has a wall stand round a hollow instead of the solid in one of three jobs: upright inside and sawn out, or wider towards
// one face and carved, or with a floor. Pins keep to the wall.
func (c *chance) addHollow(t testing.TB, rnd *rand.Rand) {
	if rnd.IntN(3) > 0 {
		return
	}
	between := func(low, high float64) float64 { return low + (high-low)*rnd.Float64() }
	p := &c.panel
	outer, wall := between(20, 40), between(6, 14)
	inner, n := outer-wall, 24+rnd.IntN(40)
	foot := inner + wall*between(0.6, 1)
	profile := []geom.Vec2{{X: foot}, {X: outer, Y: p.Thickness}, {X: inner, Y: p.Thickness}, {X: inner}}
	kind := rnd.IntN(3)
	switch kind {
	case 0:
		profile[3].X, profile[0].X = inner, outer
	case 1:
		profile[3].X = inner * between(0.6, 0.95)
	case 2:
		floor := p.Thickness * between(0.2, 0.6)
		profile = append(profile[:3], geom.Vec2{X: inner * between(0.8, 1), Y: floor}, geom.Vec2{Y: floor}, geom.Vec2{})
	}
	solid := lathed(profile, n)
	again := laid(t, solid)
	p.Parts = again.Parts
	for i := range p.Tabs {
		p.Tabs[i].At, p.Tabs[i].Root = again.Tabs[i].At, again.Tabs[i].Root
	}
	if kind == 0 {
		ring := make(geom.Ring, n)
		for i := range ring {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			ring[i] = p.Parts[0].At.Add(geom.Vec2{X: inner * cos, Y: inner * sin})
		}
		p.Cores = geom.Region{ring}
	}
	for i := range p.Holes {
		p.Holes[i].At = p.Parts[0].At.Add(geom.Vec2{Y: (inner + foot) / 2})
		p.Holes[i].Diameter = min(p.Holes[i].Diameter, max(foot-inner-2, 1))
	}
}

// lathed turns a profile of radii and heights, counterclockwise as it is seen with the axis at its left, about Z in n steps. Where it
// touches the axis at radius 0 all steps share a point.
func lathed(profile []geom.Vec2, n int) *mesh.Mesh {
	m := &mesh.Mesh{}
	at := make([][]int32, len(profile))
	for j, v := range profile {
		for i := range n {
			if v.X == 0 && i > 0 {
				at[j] = append(at[j], at[j][0])
				continue
			}
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			at[j] = append(at[j], int32(len(m.Points)))
			m.Points = append(m.Points, mesh.PointOf(geom.Vec{X: v.X * cos, Y: v.X * sin, Z: v.Y}))
		}
	}
	for j := range profile {
		a, b := at[j], at[(j+1)%len(profile)]
		for i := range n {
			k := (i + 1) % n
			for _, f := range []mesh.Triangle{{a[i], a[k], b[k]}, {a[i], b[k], b[i]}} {
				if f[0] != f[1] && f[1] != f[2] && f[2] != f[0] {
					m.Triangles = append(m.Triangles, f)
				}
			}
		}
	}
	return m
}

// TestLathed: a wall and a cup are closed, and hold what they say.
func TestLathed(t *testing.T) {
	for _, tt := range []struct {
		profile []geom.Vec2
		want    float64 // of the true one over π
	}{
		{[]geom.Vec2{{X: 5}, {X: 5, Y: 3}, {X: 4, Y: 3}, {X: 4}}, 3 * (25 - 16)},
		{[]geom.Vec2{{X: 5}, {X: 5, Y: 3}, {X: 4, Y: 3}, {X: 4, Y: 1}, {Y: 1}, {}}, 3*25 - 2*16},
	} {
		m := lathed(tt.profile, 400)
		if got := m.Volume() / math.Pi; math.Abs(got-tt.want) > 1e-3*tt.want {
			t.Errorf("%v holds %.4f π, want %.4f", tt.profile, got, tt.want)
		}
		if found := mesh.Inspect(m, m.Adjacency()); !found.Solid() {
			t.Errorf("%v is no solid: %+v", tt.profile, found)
		}
	}
}

// crowded reports whether a clamp lies nearer to the part than the carve boundary, whichever side is up: a layout allows
// no such place. A clamp that stands higher than the collet nut is when the cutter is through the board has to keep half the nut's
// width from where the cutter's axis goes.
func (c *chance) crowded() bool {
	p, s := &c.panel, &c.setup
	near := func(k toolpath.Clamp) float64 {
		room := s.Margin()
		for _, one := range []stock.Cutter{s.Rough, s.Finish} {
			if one.Reach-(p.Thickness+2*p.Skim) < k.Height {
				room = max(room, s.Margin()-one.Diameter/2+p.Nut/2)
			}
		}
		return room
	}
	return slices.ContainsFunc(alongEdges(standing(*p)), func(at geom.Vec2) bool {
		return slices.ContainsFunc([]geom.Vec2{at, p.Register.TurnOver(at)}, func(q geom.Vec2) bool {
			return slices.ContainsFunc(p.Clamps, func(k toolpath.Clamp) bool {
				return math.Hypot(max(k.Min.X-q.X, 0, q.X-k.Max.X), max(k.Min.Y-q.Y, 0, q.Y-k.Max.Y)) < near(k)
			})
		})
	})
}

// alongEdges are places along the edges of a solid, half a millimetre apart or nearer, as they are seen from above.
func alongEdges(m *mesh.Mesh) (out []geom.Vec2) {
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		for _, e := range [3][2]geom.Vec{{a, b}, {b, c}, {c, a}} {
			way := geom.Vec2{X: e[1].X - e[0].X, Y: e[1].Y - e[0].Y}
			steps := math.Ceil(way.Len()/0.5) + 1
			for k := range int(steps) {
				out = append(out, geom.Vec2{X: e[0].X, Y: e[0].Y}.Add(way.Scale(float64(k)/steps)))
			}
		}
	}
	return out
}

// onlyClamps reports whether clamps are all that is in the way.
func onlyClamps(faults []proof.Fault) bool {
	return !slices.ContainsFunc(faults, func(f proof.Fault) bool { return f.What != proof.IntoClamp })
}
