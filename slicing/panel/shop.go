package panel

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

// The raster: cells of about cellWanted mm, a whole number of them to the margin so that parts with straight sides lose
// nothing, and not more than mostCells along the panel.
const (
	cellWanted = 2.0
	mostCells  = 640
)

// newGrid is the grid on a panel; its cells are about coarser times as wide as for a layout.
func newGrid(r Rules, coarser float64) *grid {
	g := &grid{x: r.PanelX - 2*r.Edge, y: r.PanelY - 2*r.Edge}
	if !(g.x > 0 && g.y > 0) {
		return &grid{step: 1}
	}
	long := math.Max(g.x, g.y)
	wanted := coarser * math.Max(math.Min(cellWanted, long/100), long/mostCells)
	g.step = wanted
	if r.Margin > wanted {
		g.step = r.Margin / math.Floor(r.Margin/wanted)
	}
	g.columns, g.rows = cells(g.x, g.step), cells(g.y, g.step)
	return g
}

// cells is how many cells a length touches.
func cells(length, step float64) int { return max(int(math.Ceil((length-hair)/step)), 1) }

// A shop has everything as cells: the grid, the parts in their turns, and the panel before any part lies on it.
type shop struct {
	bench  *Bench
	grid   *grid
	shapes [][2]shape
	bare   *sheet
	areas  []float64 // per part, in parts of the panel
}

func newShop(ctx context.Context, b *Bench, coarser float64) (*shop, error) {
	s := &shop{bench: b, grid: newGrid(b.rules, coarser), shapes: make([][2]shape, len(b.parts)), areas: make([]float64, len(b.parts))}
	err := par.Spans(ctx, 2*len(b.parts), 1, func(from, _ int) {
		s.shapes[from/2][from%2] = s.newShape(&b.cuts[from/2][from%2])
	})
	levels := 0
	for _, both := range s.shapes {
		levels = max(levels, both[0].levels, both[1].levels)
	}
	s.bare = newSheet(s.grid, levels)
	s.drawFixed()
	for i := range s.areas {
		s.areas[i] = b.cuts[i][0].area / (b.rules.PanelX * b.rules.PanelY)
	}
	return s, err
}

// corner is the corner of the grid on the panel.
func (s *shop) corner() geom.Vec2 { return geom.Vec2{X: s.bench.rules.Edge, Y: s.bench.rules.Edge} }

// drawFixed marks clamps and dowels.
func (s *shop) drawFixed() {
	m := newMask(s.grid.columns, s.grid.rows)
	shift := s.corner().Scale(-1)
	for _, c := range s.bench.rules.Clamps {
		o := boxOutline(c.Box2)
		m.draw(&o, shift, s.bench.rules.Margin, s.grid.step)
	}
	for _, d := range s.bench.rules.Dowels {
		at := d.At.Add(shift)
		m.drawEdge(edge{at, at}, s.bench.rules.Margin+d.Diameter/2, s.grid.step)
	}
	s.bare.mark(&m)
}

// mark takes the cells of a mask as large as the grid.
func (s *sheet) mark(m *mask) {
	for i := range m.H {
		col := s.column(i)
		for w, v := range m.Row(i) {
			col[w] |= v
		}
	}
	s.lift(0, m.H)
}

// drawPlaced marks what a part at any place, between cells too, keeps others from.
func (s *shop) drawPlaced(on *sheet, o *outline, at geom.Vec2) {
	m := newMask(s.grid.columns, s.grid.rows)
	m.draw(o, at.Sub(s.corner()), s.bench.rules.apart(), s.grid.step)
	on.mark(&m)
}

func (s *shop) newShape(o *outline) shape {
	g, margin := s.grid, s.bench.rules.apart()
	size := o.box.Size()
	p := shape{
		wide:    int(math.Floor((g.x - size.X + hair) / g.step)),
		tall:    int(math.Floor((g.y - size.Y + hair) / g.step)),
		extentX: int32(cells(math.Min(size.X, g.x), g.step)), extentY: int32(cells(math.Min(size.Y, g.y), g.step)),
	}
	p.fits = size.X <= g.x+hair && size.Y <= g.y+hair
	if !p.fits {
		return p
	}
	p.wide, p.tall = min(p.wide, g.columns-int(p.extentX)), min(p.tall, g.rows-int(p.extentY))
	low := o.box.Min.Scale(-1)
	touched := newMask(int(p.extentX), int(p.extentY))
	touched.draw(o, low, 0, g.step)
	p.touched = scatter(touched.runs())
	p.ask(g)
	p.reach = int32(math.Ceil((margin - hair) / g.step))
	grown := newMask(int(p.extentX+2*p.reach), int(p.extentY+2*p.reach))
	off := float64(p.reach) * g.step
	grown.draw(o, low.Add(geom.Vec2{X: off, Y: off}), margin, g.step)
	p.grown = grown.runs()
	return p
}

// scatter puts runs in an order where each next one lies far from those before, so that a few of them show a collision.
func scatter(runs []run) []run {
	out := make([]run, 0, len(runs))
	const far = 1 << 10
	for i := 0; i < len(runs); i += far {
		out = append(out, runs[i])
	}
	for stride := far; stride > 1; stride /= 2 {
		for i := stride / 2; i < len(runs); i += stride {
			out = append(out, runs[i])
		}
	}
	return out
}
