package workshop

import (
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/plane"
)

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

// findSplinters takes the part's wood wherever the outside and the hollow leave it wide enough, seen from above; the largest piece
// of that, with what is about it, is the part, all else are splinters.
func (p *Part) findSplinters() {
	k := p.columns
	wood := make([]bool, len(k.low))
	for i := range wood {
		wood[i] = k.low[i] <= k.high[i] && (p.through == nil || !p.through[i]) && onSide(k.middle(i), p.Halves)
	}
	mine := k.body(wood)
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

// onSplinter reports whether a tab holds a splinter of the part, and not the part.
func (p *Part) onSplinter(t panel.Tab) bool {
	i, ok := p.columns.cell(t.At.Sub(t.Out.Scale(t.Root + beyondRoot)))
	return ok && p.loose[i]
}
