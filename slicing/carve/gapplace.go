package carve

import (
	"grainstack/slicing/geom"
	"grainstack/slicing/sets"
)

// A GapPlace is the gaps about some places of a piece.
type GapPlace struct {
	gaps   []gap
	before [][]int32 // for each gap those before it whose columns touch its own
	cell   float64
}

// Near are the gaps within reach mm of any of some places of the piece, in its own frame.
func (g *Gaps) Near(own []geom.Vec, reach float64) *GapPlace {
	at := make([]geom.Vec, len(own))
	for i, p := range own {
		at[i] = g.turn.Apply(p).Scale(g.scale)
		at[i].Z -= g.low
	}
	near := &GapPlace{cell: g.cell}
	for _, a := range g.all {
		for _, p := range at {
			dx, dy := float64(a.x)-p.X, float64(a.y)-p.Y
			dz := max(float64(a.from)-p.Z, p.Z-float64(a.to), 0)
			if dx*dx+dy*dy+dz*dz <= reach*reach {
				near.gaps = append(near.gaps, a)
				break
			}
		}
	}
	near.touch()
	return near
}

// touch finds which gaps' columns touch.
func (p *GapPlace) touch() {
	column := map[[2]int32][]int32{}
	p.before = make([][]int32, len(p.gaps))
	for n, a := range p.gaps { // row by row, so that what touches and comes before lies in four columns and its own
		for _, d := range [5][2]int32{{0, 0}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}} {
			p.before[n] = append(p.before[n], column[[2]int32{a.i + d[0], a.j + d[1]}]...)
		}
		k := [2]int32{a.i, a.j}
		column[k] = append(column[k], int32(n))
	}
}

// Largest is the largest connected place that a stack would trap here, mm³: columns of one layer that touch at a side or a
// corner are connected, as for a finding. extra are joints that come to those between the layers, mm above the floor.
func (p *GapPlace) Largest(thickness, firstJoint float64, extra ...float64) float64 {
	places := sets.New(len(p.gaps))
	trapped := make([]bool, len(p.gaps))
	layer := make([]float64, len(p.gaps))
	sum := make([]float64, len(p.gaps)) // of a place, at its first gap
	most := 0.0
	for n, a := range p.gaps {
		k, in := jointIn(float64(a.from), float64(a.to), thickness, firstJoint)
		k, in = parted(a, k, in, extra)
		if in {
			continue
		}
		trapped[n], layer[n], sum[n] = true, k, float64(a.to-a.from)
		for _, b := range p.before[n] {
			if !trapped[b] || layer[b] != k {
				continue
			}
			if one, other := places.Find(b), places.Find(int32(n)); one != other {
				places.Join(one, other)
				sum[min(one, other)] = sum[one] + sum[other]
			}
		}
		most = max(most, sum[places.Find(int32(n))])
	}
	return most * p.cell
}
