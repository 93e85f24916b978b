package hours_test

import (
	"context"
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/carve"
	"grainstack/slicing/field"
	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/mesh"
	"grainstack/slicing/sample"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
)

// A piece is a solid laid out for the router: the figures of its layers for the estimate, both sides of each for the
// simulation.
type piece struct {
	layers  []hours.Layer
	grounds []*hours.Ground // up and down side of each layer in turn

	columns     []carve.LayerColumns
	rough, fine []carve.LayerCut
}

// ground lays out one side of layer i; every second layer is turned.
func (p *piece) ground(t testing.TB, i int, side carve.Side, s hours.Setup) *hours.Ground {
	seat := hours.Seat{Skim: skim, Turned: i%2 == 1}
	g, ok := hours.NewGround(&p.columns[i], side, &p.rough[i].Sides[side], &p.fine[i].Sides[side], seat, s)
	if !ok {
		t.Errorf("layer %d: no ground", i+1)
	}
	return g
}

const (
	thick = 16.0
	skim  = 0.9
)

// cut stands a solid up, slices it into layers of 16 mm, every second one turned, and hollows it behind a wall (0 for none)
// between a solid layer at either end.
func cut(t testing.TB, m *mesh.Mesh, wall, step float64, s hours.Setup) piece {
	t.Helper()
	ctx := context.Background()
	fail := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	placed, err := stack.Place(ctx, m, stack.Stand{Turn: geom.NoTurn(), Scale: 1})
	fail(err)
	height := placed.Box.Size().Z
	slabs, err := stack.Layers(height, thick, thick)
	fail(err)
	profile, err := stack.NewProfile(ctx, placed.Mesh)
	fail(err)
	division, err := stack.Divide(ctx, stack.NewSlicer(placed.Mesh, placed.Mesh.Adjacency()), slabs)
	fail(err)
	parts := division.Parts
	o := carve.Options{Step: step, Thickness: thick}
	var table *field.Table
	if wall > 0 && len(slabs) > 2 {
		g, err := field.Build(ctx, m, 128, nil)
		fail(err)
		table, err = field.NewTable(ctx, g, placed.Placement, height)
		fail(err)
		o.Hollow = carve.Carved{Grid: g, Placement: placed.Placement, Wall: wall, Bottom: slabs[0].Top, Top: slabs[len(slabs)-1].Bottom}
	}
	var p piece
	p.columns, err = carve.Reach(ctx, placed.Mesh, slabs, o)
	fail(err)
	p.rough, err = carve.Cuts(ctx, p.columns, carve.Work{Cutter: s.Rough, Leave: s.Leave, Past: 5, Rough: true}, nil)
	fail(err)
	p.fine, err = carve.Cuts(ctx, p.columns, carve.Work{Cutter: s.Finish, Past: 5, Rough: true}, nil)
	fail(err)
	for i, slab := range slabs {
		turned := i%2 == 1
		hollow := table
		if i == 0 || i == len(slabs)-1 {
			hollow = nil
		}
		p.layers = append(p.layers, figures(profile, hollow, slab, wall, turned != s.AcrossGrain, max(len(parts[i]), 1)))
		for side := carve.Up; side <= carve.Down; side++ {
			p.grounds = append(p.grounds, p.ground(t, i, side, s))
		}
		hours.Facing(p.grounds[2*i], p.grounds[2*i+1])
	}
	return p
}

// on is the first setup on another machine.
func on(t testing.TB, machine string) hours.Setup {
	t.Helper()
	c := stocktest.Catalogue(t)
	_, s := first(t)
	m, ok := c.Machine(machine)
	if !ok {
		t.Fatalf("no machine %q", machine)
	}
	s.Machine = m
	return s
}

// figures are what the estimate is told of a layer.
func figures(p *stack.Profile, hollow *field.Table, slab stack.Slab, wall float64, turned bool, parts int) hours.Layer {
	widest, area := p.Widest(slab.Bottom, slab.Top)
	low, high := slab.PanelBottom, slab.PanelBottom+thick
	h := hours.Layer{
		Thickness: thick, Skim: skim, Outline: area, Perimeter: p.Perimeter(widest), Wood: p.Volume(slab.Bottom, slab.Top), Parts: parts,
		Up:   hours.Side{Rows: p.Rows(low, high, true, !turned), Section: p.AreaBelow(slab.Top)},
		Down: hours.Side{Rows: p.Rows(low, high, false, !turned), Section: p.Area(slab.Bottom)},
	}
	if hollow == nil {
		return h
	}
	h.Core = hours.Core{Volume: hollow.CoreVolume(slab.Bottom, slab.Top, wall), Skin: hollow.CoreSurface(slab.Bottom, slab.Top, wall)}
	h.Up.Core, h.Down.Core = hollow.CoreArea(slab.Top, wall), hollow.CoreArea(slab.Bottom, wall)
	if most := max(h.Up.Core, h.Down.Core); area > 0 {
		h.Core.Perimeter = h.Perimeter * math.Sqrt(most/area)
	}
	return h
}

// sized stretches a solid to a size.
func sized(m *mesh.Mesh, x, y, z float64) *mesh.Mesh {
	s := m.Box().Size()
	return solidtest.Stretch(m, x/s.X, y/s.Y, z/s.Z)
}

// solids are the test pieces.
func solids() map[string]func() *mesh.Mesh {
	return map[string]func() *mesh.Mesh{
		"sphere":    func() *mesh.Mesh { return solidtest.Sphere(120, 20_000) },
		"ellipsoid": func() *mesh.Mesh { return solidtest.Ellipsoid(200, 150, 120, 40_000) },
		"bumpy":     func() *mesh.Mesh { return sized(solidtest.Bumpy(100, 80_000), 400, 300, 250) },
		"torus":     func() *mesh.Mesh { return solidtest.Torus(120, 50, 300, 150) },
		"hare":      func() *mesh.Mesh { return sample.Hare(60_000) },
	}
}
