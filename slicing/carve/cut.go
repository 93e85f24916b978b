package carve

import (
	"context"
	"errors"

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

// A Residue is wood that ought to go and that the cutter leaves.
type Residue struct {
	Map    HeightMap // mm in each column, on the columns of the layer; Z is nil where nothing stays
	Max    float64   // mm
	Mean   float64   // mm, over all columns that have this side's wood
	Volume float64   // mm³
	At     geom.Vec  // where Max is
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
	if _, ok := w.Cutter.Profile(0); !ok || !(w.Cutter.Diameter > 0) || !(w.Leave >= 0) {
		return nil, errors.New("carve: the cutter has no diameter, or wood to leave is no number")
	}
	out := make([]LayerCut, len(layers))
	benches := make([]bench, par.Count())
	done := meter(progress, len(layers))
	err := par.Workers(ctx, len(layers), 1, func(worker, k, _ int) {
		if layers[k].Top.Z == nil {
			return
		}
		b := &benches[worker]
		b.stop = func() bool { return ctx.Err() != nil }
		out[k] = b.work(&layers[k], w)
		done()
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// A bench is the scratch memory of one goroutine.
type bench struct {
	wood, tip, air, left plane
	row                  []byte
	closed               [2][]float32 // of each side, above its far face
	stop                 func() bool
}

// A scale carries mm above the panel's far face to lanes: (mm + past)·per.
type scale struct{ past, per float64 }

func (s scale) lane(mm float32) uint16 {
	return uint16(min(max((float64(mm)+s.past)*s.per+0.5, 0), laneMax))
}

func (s scale) mm(lane float64) float32 { return float32(lane/s.per - s.past) }

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
			out.Sides[s].Residue = l.residue(s, b.closed[s])
		}
		out.Through = l.through(&b.closed)
	}
	return out
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
		Origin: m.Place(-d.radius, -d.radius), Step: m.Step, W: b.tip.w, H: b.tip.h, Z: make([]float32, b.tip.w*b.tip.h),
	}}
	b.tip.read(cut.Tip.Z, func(v uint16) float32 { return q.mm(float64(v)-float64(tip)) + float32(w.Leave) })
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
	b.left.read(b.closed[s], func(v uint16) float32 { return q.mm(laneMax - float64(v)) })
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

// read carries the raster to mm.
func (p *plane) read(z []float32, mm func(uint16) float32) {
	for j := range p.h {
		for i := range p.w {
			z[j*p.w+i] = mm(p.at(i, j))
		}
	}
}

// deepest is how far the tip goes below the panel's near face, and where.
func (l *LayerColumns) deepest(s Side, tip *HeightMap) (depth float64, at geom.Vec) {
	lowest := 0
	for i, v := range tip.Z {
		if v < tip.Z[lowest] {
			lowest = i
		}
	}
	z := float64(tip.Z[lowest])
	p := tip.Place(lowest%tip.W, lowest/tip.W)
	return l.thickness() - z, geom.Vec{X: p.X, Y: p.Y, Z: l.height(s, z)}
}

// residue is what the closed surface leaves on one side's wood.
func (l *LayerColumns) residue(s Side, closed []float32) Residue {
	m := l.of(s)
	far, sign := l.far(s)
	return m.gather(func(i int) (mm float32, z float64, ok bool) {
		v := m.Z[i]
		return closed[i] - sign*(v-far), float64(v), v != NoWood
	})
}

// through is what neither side takes out of columns without wood.
func (l *LayerColumns) through(closed *[2][]float32) Residue {
	thick := float32(l.thickness())
	return l.Top.gather(func(i int) (mm float32, z float64, ok bool) {
		lo, hi := max(thick-closed[Down][i], 0), min(closed[Up][i], thick)
		return hi - lo, l.PanelBottom + float64(lo+hi)/2, l.Top.Z[i] == NoWood
	})
}

// leastResidue is what counts as residue, mm: a few steps of the lanes.
const leastResidue = 0.005

// gather sums up what stays in the columns that are ok; z is its height on the stand.
func (m *HeightMap) gather(of func(i int) (mm float32, z float64, ok bool)) Residue {
	r := Residue{Map: m.like(nil)}
	sum, n := 0.0, 0
	for i := range m.Z {
		mm, z, ok := of(i)
		if !ok {
			continue
		}
		n++
		if mm <= leastResidue {
			continue
		}
		if r.Map.Z == nil {
			r.Map.Z = make([]float32, len(m.Z))
		}
		r.Map.Z[i] = mm
		sum += float64(mm)
		if float64(mm) > r.Max {
			p := m.Place(i%m.W, i/m.W)
			r.Max, r.At = float64(mm), geom.Vec{X: p.X, Y: p.Y, Z: z}
		}
	}
	if n > 0 {
		r.Mean = sum / float64(n)
	}
	r.Volume = sum * m.Step * m.Step
	return r
}
