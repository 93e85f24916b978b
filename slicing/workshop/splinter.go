package workshop

import (
	"context"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/par"
	"grainstack/slicing/plane"
)

// A Splinter is wood of a part that hangs on the rest by a neck too narrow to last, or by nothing once the hollow is carved right
// through the layer: it comes off while the part is carved from both sides. It is counted in with the part's wood.
type Splinter struct {
	Box    geom.Box2 // on the stand, mm
	Volume float64   // mm³
}

const (
	// neckColumns is how many columns wide wood has to be to hold on to what is behind it: with so many it holds wherever the
	// columns of a panel lie.
	neckColumns = 3
	// neckWidth is that in mm; a veneer is about as thick, and narrower wood breaks off under the cutter (common practice, no
	// source).
	neckWidth = neckColumns * coverStep
	// leastSplinter is the volume from which on what comes off is told, mm³; less is dust (common practice, no source).
	leastSplinter = 1.0
)

// findSplinters finds what comes off the parts.
func (w *Workshop) findSplinters(ctx context.Context) error {
	return par.Spans(ctx, len(w.Parts), 1, func(i, _ int) { w.Parts[i].findSplinters() })
}

// findSplinters takes the part's wood wherever it is wide enough, seen from above; the largest piece that the hollow leaves of that,
// with what is about it, is the part, all else are splinters.
func (p *Part) findSplinters() {
	k := p.columns
	wood := make([]bool, len(k.low))
	for i := range wood {
		wood[i] = k.low[i] <= k.high[i] && onSide(k.middle(i), p.Halves)
	}
	mine := k.body(wood)
	if p.through != nil {
		for i, gone := range p.through {
			wood[i], mine[i] = wood[i] && !gone, mine[i] && !gone
		}
		mine = k.largest(mine)
	}
	labels, n := plane.Components(k.nx, k.ny, func(i int) bool { return wood[i] && !mine[i] })
	all := make([]Splinter, n)
	for i := range all {
		all[i].Box = geom.EmptyBox2()
	}
	half := geom.Vec2{X: k.step / 2, Y: k.step / 2}
	for i, l := range labels {
		if l > 0 {
			s, at := &all[l-1], k.middle(i)
			s.Volume += k.column(i) * p.woodShare(i)
			s.Box = s.Box.Add(at.Sub(half)).Add(at.Add(half))
		}
	}
	p.Splinters, p.loose = nil, make([]bool, len(wood))
	for _, s := range all {
		if s.Volume >= leastSplinter {
			p.Splinters = append(p.Splinters, s)
		}
	}
	for i, l := range labels {
		p.loose[i] = l > 0 && all[l-1].Volume >= leastSplinter
	}
}

// column is the wood of a column, mm³.
func (k *columns) column(i int) float64 { return float64(k.high[i]-k.low[i]) * k.step * k.step }

// body is the largest piece of what is wide enough, and the wood within a neck's width of it.
func (k *columns) body(wood []bool) []bool {
	room := plane.Distances(k.nx, k.ny, func(i int) bool { return !wood[i] }, true)
	const wide = (neckColumns + 1) / 2
	in := make([]bool, len(wood))
	for i, r := range room {
		in[i] = r >= wide*wide
	}
	mine := k.largest(in)
	var rim []int
	for i, m := range mine {
		if m {
			rim = append(rim, i)
		}
	}
	for range neckColumns {
		rim = k.spread(mine, wood, rim)
	}
	return mine
}

// largest is the connected piece of some columns that holds most wood.
func (k *columns) largest(in []bool) []bool {
	labels, n := plane.Components(k.nx, k.ny, func(i int) bool { return in[i] })
	volumes := make([]float64, n+1)
	most := int32(0)
	for i, l := range labels {
		if l > 0 {
			if volumes[l] += k.column(i); volumes[l] > volumes[most] {
				most = l
			}
		}
	}
	out := make([]bool, len(in))
	for i, l := range labels {
		out[i] = l > 0 && l == most
	}
	return out
}

// pierced are the columns in which the hollow of the part's layer leaves nothing of it, nil where it leaves something everywhere.
func (p *Part) pierced(f *job.Figures, l *job.Layer) (out []bool) {
	k := p.columns
	if made, _ := f.Made(); !f.Hollowed(made, l) {
		return nil
	}
	mark := func(i int) {
		if out == nil {
			out = make([]bool, len(k.low))
		}
		out[i] = true
	}
	if f.For.Core == job.Straight {
		if l.PocketBottom <= l.Bottom && l.PocketTop >= l.Top {
			k.middles(l.Pocket, mark)
		}
		return out
	}
	for i := range k.low {
		if k.low[i] <= float32(l.Bottom) && k.high[i] >= float32(l.Top) && p.allHollow(k.middle(i)) {
			mark(i)
		}
	}
	return out
}

// allHollow reports whether the hollow takes the whole layer at a place.
func (p *Part) allHollow(at geom.Vec2) bool {
	for n := range partHeights {
		if !p.hollow(at, p.height(n)) {
			return false
		}
	}
	return true
}

// height is the n-th of the heights at which the part's cover is known, mm on the stand.
func (p *Part) height(n int) float64 {
	return p.slab.Bottom + (p.slab.Top-p.slab.Bottom)*float64(n)/(partHeights-1)
}

// woodShare is the share of a column that isn't hollow.
func (p *Part) woodShare(i int) float64 {
	at, low, high := p.columns.middle(i), float64(p.columns.low[i]), float64(p.columns.high[i])
	n := 0
	for k := range partHeights {
		if !p.hollow(at, low+(high-low)*(float64(k)+0.5)/partHeights) {
			n++
		}
	}
	return float64(n) / partHeights
}

// spread takes in the wood that touches what was taken in last, and gives it back. The raster's outermost cells are free.
func (k *columns) spread(mine, wood []bool, rim []int) (next []int) {
	for _, i := range rim {
		for _, row := range [3]int{i - k.nx, i, i + k.nx} {
			for j := row - 1; j <= row+1; j++ {
				if wood[j] && !mine[j] {
					mine[j] = true
					next = append(next, j)
				}
			}
		}
	}
	return next
}

// Splinters is how many places there are at which wood comes off.
func (w *Workshop) Splinters() (n int) {
	for _, p := range w.Parts {
		n += len(p.Splinters)
	}
	return n
}

// onSplinter reports whether a tab holds a splinter of the part, and not the part.
func (p *Part) onSplinter(t panel.Tab) bool {
	i, ok := p.columns.cell(t.At.Sub(t.Out.Scale(t.Root + beyondRoot)))
	return ok && p.loose[i]
}

// saySplinters names the wood that comes off.
func (w *Workshop) saySplinters() {
	var places []finding.Place
	for _, p := range w.Parts {
		for _, s := range p.Splinters {
			at := finding.Place{Layer: p.Layer, Size: s.Volume, Reach: s.Box.Size().Len() / 2}
			if number, on, ok := w.Layout.Find(p.ID); ok {
				b := on.ApplyBox(s.Box)
				middle := b.Min.Add(b.Max).Scale(0.5)
				at.Panel, at.More = number, [2]float64{middle.X, middle.Y}
			}
			if l := p.Layer - 1; l >= 0 && l < len(w.Figures.Layers) {
				middle := s.Box.Min.Add(s.Box.Max).Scale(0.5)
				at.At, at.Placed = geom.Vec{X: middle.X, Y: middle.Y, Z: (w.Figures.Layers[l].Bottom + w.Figures.Layers[l].Top) / 2}, true
				at.Where = finding.Whereabouts(at.At, w.Figures.Size)
			}
			places = append(places, at)
		}
	}
	if len(places) > 0 {
		w.tell(finding.Of(finding.Splinter, places...).With(neckWidth))
	}
}
