package field

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// still is a placement that leaves a piece where it is.
var still = geom.Placement{Turn: geom.NoTurn(), Scale: 1}

func build(t testing.TB, m *mesh.Mesh, cells int) *Grid {
	t.Helper()
	g, err := Build(context.Background(), m, cells, nil)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func table(t testing.TB, g *Grid, pl geom.Placement, height float64) *Table {
	t.Helper()
	tb, err := NewTable(context.Background(), g, pl, height)
	if err != nil {
		t.Fatal(err)
	}
	return tb
}

// stood turns a piece and stands it with its turned box on the floor.
func stood(g *Grid, turn geom.Turn, scale float64) (geom.Placement, float64) {
	pl := geom.Placement{Turn: turn, Scale: scale}
	b := g.standBox(pl)
	pl.Shift.Z = -b.Min.Z
	return pl, b.Size().Z
}

// node is where a node lies in the piece's frame.
func (g *Grid) node(n int) geom.Vec {
	p := geom.Vec{X: float64(n % g.nx), Y: float64(n / g.nx % g.ny), Z: float64(n / g.nx / g.ny)}
	return g.origin.Add(p.Scale(g.step))
}

// distance is the slow obvious twin: the least distance from p to any facet, each measured by pieces that are plain to see:
// the plane where p's foot lies within, and the three sides.
func distance(m *mesh.Mesh, p geom.Vec) float64 {
	best := math.Inf(1)
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		best = min(best, toSide(p, a, b), toSide(p, b, c), toSide(p, c, a))
		n := b.Sub(a).Cross(c.Sub(a)).Unit()
		within := n != geom.Vec{}
		for _, s := range [][2]geom.Vec{{a, b}, {b, c}, {c, a}} {
			within = within && s[1].Sub(s[0]).Cross(p.Sub(s[0])).Dot(n) >= 0
		}
		if within {
			best = min(best, math.Abs(p.Sub(a).Dot(n)))
		}
	}
	return best
}

func toSide(p, a, b geom.Vec) float64 {
	d := b.Sub(a)
	t := 0.0
	if l := d.Dot(d); l > 0 {
		t = clamp(p.Sub(a).Dot(d)/l, 0, 1)
	}
	return p.Sub(a.Add(d.Scale(t))).Len()
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.6g, want %.6g within %.3g", what, got, want, within)
	}
}
