package carve

import (
	"cmp"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/sets"
)

// Within are the connected places that a layer from low to high, both joints or ends of the stack, would trap, the largest
// first: columns that touch at a side or a corner are connected, as for a finding.
func (g *Gaps) Within(low, high float64) []*GapPlace {
	all := &GapPlace{cell: g.cell}
	for _, a := range g.all {
		if float64(a.from) > low && float64(a.to) < high {
			all.gaps = append(all.gaps, a)
		}
	}
	all.touch()
	into := sets.New(len(all.gaps))
	for n := range all.gaps {
		for _, b := range all.before[n] {
			into.Join(b, int32(n))
		}
	}
	var out []*GapPlace
	which := map[int32]*GapPlace{}
	for n, a := range all.gaps {
		k := into.Find(int32(n))
		if which[k] == nil {
			which[k] = &GapPlace{cell: g.cell}
			out = append(out, which[k])
		}
		which[k].gaps = append(which[k].gaps, a)
	}
	for _, p := range out {
		p.touch()
	}
	slices.SortStableFunc(out, func(a, b *GapPlace) int { return cmp.Compare(b.Volume(), a.Volume()) })
	return out
}

// Volume is how much air there is here, mm³.
func (p *GapPlace) Volume() float64 {
	sum := 0.0
	for _, a := range p.gaps {
		sum += float64(a.to - a.from)
	}
	return sum * p.cell
}

// Center is the middle of the air here, on the stand.
func (p *GapPlace) Center() geom.Vec {
	var sum geom.Vec
	all := 0.0
	for _, a := range p.gaps {
		length := float64(a.to - a.from)
		sum = sum.Add(geom.Vec{X: float64(a.x), Y: float64(a.y), Z: float64(a.from+a.to) / 2}.Scale(length))
		all += length
	}
	return sum.Scale(1 / all)
}

// Freed is how much of the air here a joint lies in, mm³, for each of n joints: the first at a height, each step mm above the
// one before.
func (p *GapPlace) Freed(first, step float64, n int) []float64 {
	change := make([]float64, n+1) // from one joint to the next
	for _, a := range p.gaps {
		from := max(math.Ceil((float64(a.from)-first)/step), 0)
		to := min(math.Floor((float64(a.to)-first)/step)+1, float64(n))
		if from < to {
			length := float64(a.to - a.from)
			change[int(from)] += length
			change[int(to)] -= length
		}
	}
	freed := change[:n]
	sum := 0.0
	for k, v := range freed {
		sum += v
		freed[k] = max(sum*p.cell, 0)
	}
	return freed
}

// parted is the layer of a gap and whether a joint lies in it, where extra joints come to those that gave the layer: what
// lies between two of them counts as a layer of its own.
func parted(a gap, layer float64, in bool, extra []float64) (float64, bool) {
	above := 0
	for _, z := range extra {
		if float64(a.from) > z {
			above++
		} else if float64(a.to) >= z {
			in = true
		}
	}
	return layer + float64(above)/float64(len(extra)+1), in
}
