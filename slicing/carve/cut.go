package carve

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"
	"grainstack/slicing/stock"
)

// Work is a cutter and how it is used on a side.
type Work struct {
	Cutter stock.Cutter
	Leave  float64 // wood left on every surface for a later cutter, mm, not negative
	Past   float64 // how far beyond the panel's far face the tip may go where there is no wood, mm; negative stops short of it
	Rough  bool    // tip maps only, no residue
	Sums   bool    // figures only, no maps: for comparing stands
}

// A LayerCut is what a cutter does to one layer.
type LayerCut struct {
	Sides   [2]Cut  // Up, Down
	Through Residue // what both sides together leave in columns without wood
}

// A Cut is what a cutter does to one side of a layer.
type Cut struct {
	// Tip is the lowest that the cutter's tip may go without touching wood that stays, in mm above the panel's far face; the
	// map is larger than the layer by the cutter's radius all round, and beyond it the tip is at -Past. Columns are those of
	// the stand, seen from above for either side.
	Tip     HeightMap
	Residue Residue // what stays on this side's wood where the cutter doesn't fit
	Depth   float64 // the deepest that the tip goes below the panel's near face, mm
	DepthAt geom.Vec
}

// Seen is the layer as the cutter of one side sees it: the wood's height in mm above the panel's far face, NoWood where there
// is none. Columns stay where they are.
func (l *LayerColumns) Seen(s Side) HeightMap {
	m := l.of(s)
	z := make([]float32, len(m.Z))
	far, sign := l.far(s)
	for i, v := range m.Z {
		z[i] = NoWood
		if v != NoWood {
			z[i] = sign * (v - far)
		}
	}
	return m.like(z)
}

// of is the map that a side sees.
func (l *LayerColumns) of(s Side) *HeightMap {
	if s == Down {
		return &l.Bottom
	}
	return &l.Top
}

// far is the height of the panel's far face, and the way from there towards the cutter.
func (l *LayerColumns) far(s Side) (z, sign float32) {
	if s == Down {
		return float32(l.PanelTop), -1
	}
	return float32(l.PanelBottom), 1
}

// thickness of the panel, mm.
func (l *LayerColumns) thickness() float64 { return l.PanelTop - l.PanelBottom }

// height is a height of the stand for one that a side measures from the panel's far face.
func (l *LayerColumns) height(s Side, above float64) float64 {
	if s == Down {
		return l.PanelTop - above
	}
	return l.PanelBottom + above
}

// Cuts works both sides of every layer: the tip's surface is the upper envelope of the cutter turned over at every column of
// wood, and the residue is the closing of the wood by the cutter, less the wood. Figures are told to a 32767th of panel and
// cutter height together (a micrometre or so); wood is taken to be as high around a column as in it, so that walls may stand
// half a step off. It looks at ctx every few milliseconds. progress may be nil.
func Cuts(ctx context.Context, layers []LayerColumns, w Work, progress func(float64)) ([]LayerCut, error) {
	if err := w.check(layers); err != nil {
		return nil, err
	}
	out := make([]LayerCut, len(layers))
	benches := make([]bench, par.Count())
	done := meter(progress, len(layers))
	err := par.Workers(ctx, len(layers), 1, func(worker, k, _ int) {
		if layers[k].Top.Z != nil {
			b := &benches[worker]
			b.stop = func() bool { return ctx.Err() != nil }
			out[k] = b.work(&layers[k], w)
		}
		done()
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// widest is the greatest diameter of a cutter, in columns.
const widest = 1000

// check refuses figures that can't be worked with.
func (w Work) check(layers []LayerColumns) error {
	c := &w.Cutter
	switch _, ok := c.Profile(0); {
	case !ok || !(c.Diameter > 0):
		return errors.New("carve: the cutter has no diameter")
	case c.Shape == stock.Taper && !(c.TaperDeg > 0 && c.TaperDeg < 90):
		return fmt.Errorf("carve: a tapered cutter of %g degrees has no edge", c.TaperDeg)
	case !(w.Leave >= 0) || math.IsInf(w.Leave, 0):
		return fmt.Errorf("carve: %g mm can't be left", w.Leave)
	case math.IsNaN(w.Past) || math.IsInf(w.Past, 0):
		return fmt.Errorf("carve: the tip can't go %g mm past the panel", w.Past)
	}
	for i := range layers {
		if l := &layers[i]; l.Top.Z != nil && (c.Diameter+2*w.Leave)/l.Top.Step > widest {
			return fmt.Errorf("carve: a cutter of %g mm is too wide for columns every %g mm", c.Diameter, l.Top.Step)
		}
	}
	return nil
}

// A bench is the scratch memory of one goroutine.
type bench struct {
	wood, tip, air, left raster
	row                  []byte
	closed               [2][]float32 // of each side, above its far face
	passing              [2][]float32 // tips of each side that aren't kept
	how                  [2]closing
	stop                 func() bool
}

// A scale carries mm above the panel's far face to lanes: (mm + past)·per.
type scale struct{ past, per float64 }

func (s scale) lane(mm float32) uint16 {
	return uint16(min(max((float64(mm)+s.past)*s.per+0.5, 0), laneMax))
}

func (b *bench) work(l *LayerColumns, w Work) LayerCut {
	var out LayerCut
	for s := Up; s <= Down; s++ {
		out.Sides[s] = b.side(l, s, w)
		if b.stop() {
			return LayerCut{}
		}
	}
	if !w.Rough {
		for s := Up; s <= Down; s++ {
			out.Sides[s].Residue = l.residue(s, b.closed[s], b.closing(l, s, w, &out.Sides[s].Tip))
		}
		out.Through = l.through(b.closed, &b.how)
	}
	if w.Sums {
		out.Through.Map.Z = nil
		for s := range out.Sides {
			out.Sides[s].Tip.Z, out.Sides[s].Residue.Map.Z = nil, nil
		}
	}
	return out
}

// heights are n figures of a map that is kept, or goes once all is summed up.
func (b *bench) heights(s Side, n int, keep bool) []float32 {
	if keep {
		return make([]float32, n)
	}
	b.passing[s] = slices.Grow(b.passing[s][:0], n)[:n]
	return b.passing[s]
}

// side finds the tip's surface of one side, and the closed surface into b.closed.
func (b *bench) side(l *LayerColumns, s Side, w Work) Cut {
	c := w.Cutter.Grown(w.Leave)
	past := w.Past + w.Leave // a tip that leaves wood is lowered to touch nothing, then raised by as much
	span := max(l.thickness()+past, least)
	edge, _ := c.Profile(c.Diameter / 2)
	edge = min(edge, span)
	q := scale{past, laneMax / (span + edge)}
	tip := uint16(edge * q.per)
	d := newDisc(c, l.Top.Step, span, q.per, tip)
	m := l.of(s)
	b.load(l, m, s, q, 2*d.radius)
	b.tip.shape(m.W+2*d.radius, m.H+2*d.radius)
	b.row = d.dilate(&b.tip, &b.wood, b.row, b.stop)
	cut := Cut{Tip: HeightMap{
		Origin: m.Place(-d.radius, -d.radius), Step: m.Step, W: b.tip.w, H: b.tip.h, Z: b.heights(s, b.tip.w*b.tip.h, !w.Sums),
	}}
	b.tip.read(cut.Tip.Z, w.Leave-past-float64(tip)/q.per, 1/q.per)
	cut.Depth, cut.DepthAt = l.deepest(s, &cut.Tip)
	if w.Rough {
		return cut
	}
	b.air.turnOver(&b.tip, laneMax)
	b.left.shape(m.W, m.H)
	b.row = d.dilate(&b.left, &b.air, b.row, b.stop)
	if n := m.W * m.H; cap(b.closed[s]) < n {
		b.closed[s] = make([]float32, n)
	}
	b.closed[s] = b.closed[s][:m.W*m.H]
	b.left.read(b.closed[s], laneMax/q.per-past, -1/q.per)
	return cut
}

// load brings a side's wood into lanes with a margin of nothing.
func (b *bench) load(l *LayerColumns, m *HeightMap, s Side, q scale, margin int) {
	b.wood.shape(m.W+2*margin, m.H+2*margin)
	far, sign := l.far(s)
	for j := range m.H {
		for i, v := range m.Z[j*m.W:][:m.W] {
			if v != NoWood {
				b.wood.set(i+margin, j+margin, q.lane(sign*(v-far)))
			}
		}
	}
}

// read carries the raster to mm: from what lane 0 stands for, and with what each step of the lanes does.
func (p *raster) read(z []float32, from, step float64) {
	for j := range p.h {
		row := p.row(j)
		for i := range z[:p.w] {
			z[i] = float32(from + step*float64(binary.LittleEndian.Uint16(row[i*laneSize:])))
		}
		z = z[p.w:]
	}
}

// deepest is how far the tip goes below the panel's near face, and where: of like places the one nearest the middle.
func (l *LayerColumns) deepest(s Side, tip *HeightMap) (depth float64, at geom.Vec) {
	low := tip.lowest()
	z := float64(tip.Z[low])
	p := tip.Place(low%tip.W, low/tip.W)
	return l.thickness() - z, geom.Vec{X: p.X, Y: p.Y, Z: l.height(s, z)}
}

// lowest is the column with the least figure; of like ones the one nearest the map's middle.
func (m *HeightMap) lowest() int {
	best, least, apart := 0, float32(math.MaxFloat32), 0
	for j := range m.H {
		for i, v := range m.Z[j*m.W:][:m.W] {
			if v > least {
				continue
			}
			dx, dy := 2*i-m.W+1, 2*j-m.H+1
			if d := dx*dx + dy*dy; v < least || d < apart {
				best, least, apart = j*m.W+i, v, d
			}
		}
	}
	return best
}
