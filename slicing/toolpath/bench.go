package toolpath

import (
	"context"
	"math"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/mesh"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
)

// A Bench is a panel readied for its programs. It is used by one goroutine at a time.
type Bench struct {
	panel  *Panel
	setup  hours.Setup
	step   float64
	layer  carve.LayerColumns
	solids [2]solid // the parts, the tabs
}

type solid struct {
	mesh   *mesh.Mesh
	across mesh.Adjacency
}

const (
	// widest is how far apart columns may lie, mm: tips are exact on them, and looked at in between where they bend.
	widest = 0.3
	// mostColumns bounds them; rows that lie closer than that are looked at place by place.
	mostColumns = 12 << 20
)

// clear is how far cutters keep clear of parts, mm, for what lines between the places of a path cut off.
const clear = 0.008

// stepFor is how far apart columns lie: a whole share of the distance of finish rows, so that every row lies on columns.
func stepFor(over, x, y float64) float64 {
	return max(over/math.Ceil(over/widest), math.Sqrt(x*y/mostColumns))
}

// NewBench takes the columns of a panel.
func NewBench(ctx context.Context, p *Panel, s hours.Setup) (*Bench, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if err := s.Check(); err != nil {
		return nil, err
	}
	b := &Bench{panel: p, setup: s, step: stepFor(s.Finish.Stepover, p.X, p.Y)}
	for i, m := range []*mesh.Mesh{p.wood(), p.bridges()} {
		b.solids[i] = solid{m, m.Adjacency()}
	}
	slab := stack.Slab{Number: 1, Top: p.Thickness}
	layers, err := carve.Reach(ctx, b.solids[0].mesh, []stack.Slab{slab}, carve.Options{Step: b.step, Thickness: p.Thickness})
	if err != nil {
		return nil, err
	}
	b.layer = layers[0]
	return b, nil
}

// reach is how deep a cutter may go below the raw face: no deeper than to the collet nut, nor than its edge where the shank
// above it is wider.
func reach(c stock.Cutter) float64 {
	deep := math.Inf(1)
	if c.Reach > 0 {
		deep = c.Reach
	}
	if c.Shank > c.Diameter && c.CutLength > 0 {
		deep = min(deep, c.CutLength)
	}
	return deep
}

// ground lays out one side as both cutters find it.
func (b *Bench) ground(ctx context.Context, side carve.Side) (*hours.Ground, bool) {
	p, s := b.panel, b.setup
	stop := func() bool { return ctx.Err() != nil }
	var cuts [2]carve.Cut
	seat := hours.Seat{Skim: p.Skim, Pocket: p.Cores}
	pad := int(math.Ceil((s.Margin()+max(s.Rough.Diameter, s.Finish.Diameter)/2+s.Leave)/b.step)) + 6
	seen := &b.layer.Top
	area := carve.HeightMap{Origin: seen.Place(-pad, -pad), Step: b.step, W: seen.W + 2*pad, H: seen.H + 2*pad}
	for pass, one := range [2]struct {
		cutter stock.Cutter
		leave  float64
	}{{s.Rough, max(s.Leave, clear)}, {s.Finish, clear}} {
		f := newForm(one.cutter.Grown(one.leave))
		spacing := min(max(one.leave, 0.1), 0.4)
		c := newCanvas(area, stop)
		var probes []*probe
		for _, m := range b.solids {
			w := newWood(m.mesh, m.across, p.Thickness, side == carve.Down)
			c.draw(w, &f, spacing)
			probes = append(probes, newProbe(w, f))
		}
		if stop() {
			return nil, false
		}
		lowest := p.Thickness + p.Skim - reach(one.cutter)
		for i, z := range c.Z {
			c.Z[i] = max(z+float32(one.leave), float32(lowest))
		}
		cuts[pass].Tip = *c.HeightMap
		seat.Exact[pass] = func(x, y, least float64) float64 {
			least = max(least, lowest) - one.leave
			return probes[1].at(x, y, probes[0].at(x, y, least)) + one.leave
		}
	}
	return hours.NewGround(&b.layer, side, &cuts[0], &cuts[1], seat, s)
}

// lies carries a place of side A to where it lies once a side is up.
func (b *Bench) lies(at geom.Vec, side carve.Side) geom.Vec {
	if side == carve.Down {
		q := b.panel.Register.TurnOver(geom.Vec2{X: at.X, Y: at.Y})
		at.X, at.Y = q.X, q.Y
	}
	return at
}
