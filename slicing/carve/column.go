package carve

import (
	"math"

	"grainstack/slicing/mesh"
	"grainstack/slicing/stack"
)

// least is the thickness in mm below which wood, or air between wood, counts as none: a few steps of float32 at the size of
// a piece.
const least = 0.001

// stripResult is what one strip of rows holds, layer by layer.
type stripResult struct{ layers []fragment }

// A fragment is what one strip holds of one layer: columns i0 up to i1 of rows j0 up to j1.
type fragment struct {
	i0, i1, j0, j1 int
	runs           []run
	top, bottom    []float32 // of the runs' columns, one after another
	low, high      float32   // of the wood
	wood           float64   // mm, summed over the columns
	trapped        []trappedCell
}

// A run is n columns with wood side by side.
type run struct{ i, j, n int32 }

// A trappedCell is what one column traps: mm of it, and how high its middle lies.
type trappedCell struct {
	i, j                int32
	outside, core       float32
	outsideMid, coreMid float32
}

// add takes the wood of one column; columns come row by row.
func (f *fragment) add(i, j int, bottom, top float32) {
	f.i0, f.i1 = min(f.i0, i), max(f.i1, i+1)
	f.j0, f.j1 = min(f.j0, j), max(f.j1, j+1)
	f.low, f.high = min(f.low, bottom), max(f.high, top)
	f.top, f.bottom = append(f.top, top), append(f.bottom, bottom)
	if n := len(f.runs) - 1; n >= 0 && int(f.runs[n].j) == j && int(f.runs[n].i+f.runs[n].n) == i {
		f.runs[n].n++
		return
	}
	f.runs = append(f.runs, run{int32(i), int32(j), 1})
}

// A strip takes the columns of a few rows through all layers. It is scratch of one goroutine.
type strip struct {
	lattice
	slabs  []stack.Slab
	hollow Hollow
	line   Line // of the row at hand, nil until asked for
	cast   caster
	start  []int32    // where each column's crossings start, and behind the last one where they end
	sorted []crossing // by column, then height
	frags  []fragment
	spans  []Span
	here   layerColumn
	stop   func() bool
}

func newStrip(l lattice, slabs []stack.Slab, hollow Hollow, stop func() bool) *strip {
	return &strip{lattice: l, slabs: slabs, hollow: hollow, start: make([]int32, stripRows*l.nx+1), stop: stop}
}

// cross finds the crossings of strip number n, rows j0 up to j1; the triangles are those that cross it.
func (s *strip) cross(m *mesh.Mesh, tris []int32, n int) (j0, j1 int) {
	j0, j1 = n*stripRows, min((n+1)*stripRows, s.ny)
	s.cast = caster{lattice: &s.lattice, j0: j0, j1: j1, out: s.cast.out[:0]}
	for _, i := range tris {
		t := &m.Triangles[i]
		s.cast.facet(&m.Points[t[0]], &m.Points[t[1]], &m.Points[t[2]])
	}
	s.sort()
	return j0, j1
}

// run takes the columns of strip number n. Once stop says so the rest is left out.
func (s *strip) run(m *mesh.Mesh, tris []int32, n int) stripResult {
	j0, j1 := s.cross(m, tris, n)
	s.begin()
	for j := j0; j < j1 && !s.stop(); j++ {
		s.line = nil
		for i := range s.nx {
			cell := (j-j0)*s.nx + i
			if a, b := s.start[cell], s.start[cell+1]; a < b {
				s.column(i, j, s.sorted[a:b])
			}
		}
	}
	return stripResult{s.frags}
}

// begin makes room for the strip's layers, about as much as the strip before took.
func (s *strip) begin() {
	frags := make([]fragment, len(s.slabs))
	for k := range frags {
		frags[k] = fragment{i0: s.nx, j0: s.ny, low: math.MaxFloat32, high: NoWood}
		if s.frags != nil {
			n := len(s.frags[k].top) * 9 / 8
			frags[k].top, frags[k].bottom = make([]float32, 0, n), make([]float32, 0, n)
		}
	}
	s.frags = frags
}

// sort brings the crossings into columns, and those of a column from the bottom up; at one height those that enter first.
func (s *strip) sort() {
	clear(s.start)
	for _, c := range s.cast.out {
		s.start[c.cell+1]++
	}
	for i := 1; i < len(s.start); i++ {
		s.start[i] += s.start[i-1]
	}
	if cap(s.sorted) < len(s.cast.out) {
		s.sorted = make([]crossing, len(s.cast.out)+len(s.cast.out)/4)
	}
	s.sorted = s.sorted[:len(s.cast.out)]
	for _, c := range s.cast.out {
		at := s.start[c.cell]
		s.sorted[at] = c
		s.start[c.cell]++
	}
	copy(s.start[1:], s.start)
	s.start[0] = 0
}

// upwards sorts a column's crossings from the bottom up; at one height those that enter come first.
func upwards(cs []crossing) {
	for n := 1; n < len(cs); n++ {
		c := cs[n]
		at := n
		for ; at > 0 && (cs[at-1].z > c.z || cs[at-1].z == c.z && cs[at-1].enter < c.enter); at-- {
			cs[at] = cs[at-1]
		}
		cs[at] = c
	}
}

// column walks up one column: solid is where more facets have been entered than left.
func (s *strip) column(i, j int, cs []crossing) {
	upwards(cs)
	s.here = layerColumn{layer: -1}
	sum, from := int32(0), 0.0
	for _, c := range cs {
		was := sum > 0
		sum += c.enter
		if now := sum > 0; now && !was {
			from = float64(c.z)
		} else if was && !now && float64(c.z)-from > least {
			s.solid(i, j, from, float64(c.z))
		}
	}
	s.flush(i, j)
}

// solid takes one stretch of solid, less the hollow in it, into the layers that it reaches.
func (s *strip) solid(i, j int, from, to float64) {
	s.spans = s.spans[:0]
	if s.hollow != nil {
		if s.line == nil {
			s.line = s.hollow.Row(s.y(j))
		}
		s.spans = s.line.Column(s.spans, s.x(i), from, to)
	}
	z := from
	for _, h := range s.spans {
		lo, hi := max(h.Bottom, z), min(h.Top, to)
		if !(lo < hi) {
			continue
		}
		s.wood(i, j, z, lo)
		s.empty(i, j, lo, hi)
		z = hi
	}
	s.wood(i, j, z, to)
}

// layerColumn is one column within one layer while it is walked up.
type layerColumn struct {
	layer         int
	bottom, top   float64
	wood          float64
	hollow        float64 // since the last wood
	outside, core gaps
	any           bool
}

// gaps are stretches of a column, summed.
type gaps struct{ length, moment float64 }

func (g *gaps) add(length, middle float64) {
	if length > least {
		g.length += length
		g.moment += length * middle
	}
}

// middle of them all.
func (g *gaps) middle() float32 {
	if g.length == 0 {
		return 0
	}
	return float32(g.moment / g.length)
}

// wood takes wood between two heights.
func (s *strip) wood(i, j int, from, to float64) {
	for k := s.first(from); k < len(s.slabs) && s.slabs[k].Bottom < to; k++ {
		lo, hi := max(from, s.slabs[k].Bottom), min(to, s.slabs[k].Top)
		if hi-lo <= least {
			continue
		}
		s.enter(i, j, k)
		h := &s.here
		if h.any {
			h.core.add(h.hollow, (lo+h.top)/2)
			h.outside.add(lo-h.top-h.hollow, (lo+h.top)/2)
		} else {
			h.any, h.bottom = true, lo
		}
		h.hollow, h.top = 0, hi
		h.wood += hi - lo
	}
}

// empty takes hollow between two heights.
func (s *strip) empty(i, j int, from, to float64) {
	for k := s.first(from); k < len(s.slabs) && s.slabs[k].Bottom < to; k++ {
		if lo, hi := max(from, s.slabs[k].Bottom), min(to, s.slabs[k].Top); lo < hi {
			s.enter(i, j, k)
			s.here.hollow += hi - lo
		}
	}
}

// first is the lowest layer, from the one at hand on, that reaches above a height.
func (s *strip) first(z float64) int {
	k := max(s.here.layer, 0)
	for k < len(s.slabs) && s.slabs[k].Top <= z {
		k++
	}
	return k
}

// enter goes on to layer k.
func (s *strip) enter(i, j, k int) {
	if k != s.here.layer {
		s.flush(i, j)
		s.here = layerColumn{layer: k}
	}
}

// flush puts the column at hand into its layer.
func (s *strip) flush(i, j int) {
	h := &s.here
	if !h.any {
		return
	}
	f := &s.frags[h.layer]
	f.add(i, j, float32(h.bottom), float32(h.top))
	f.wood += h.wood
	t := trappedCell{int32(i), int32(j), float32(h.outside.length), float32(h.core.length), h.outside.middle(), h.core.middle()}
	if t.outside > 0 || t.core > 0 {
		f.trapped = append(f.trapped, t)
	}
}
