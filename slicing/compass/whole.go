package compass

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/stack"
)

// A Mark is what the maker has marked a facet as.
type Mark uint8

// The marks.
const (
	Unmarked  Mark = iota
	KeepWhole      // no joint is wanted through here
	SeenSide       // how stripes lie counts here above all
	DontCare       // how stripes lie doesn't count here
)

// seenWeight is how much more a facet of the seen side counts than an unmarked one of the same size.
const seenWeight = 4.0

// Marks are the marks of the facets of a piece's mesh, in their order; nil for a piece without marks.
type Marks []Mark

// weight is how much each facet counts for the look; nil where all count alike.
func (m Marks) weight() func(facet int) float64 {
	for _, k := range m {
		if k == SeenSide || k == DontCare {
			return func(i int) float64 {
				switch m[i] {
				case SeenSide:
					return seenWeight
				case DontCare:
					return 0
				}
				return 1
			}
		}
	}
	return nil
}

// A whole is the facets that no joint is wanted through.
type whole struct {
	points []mesh.Point
	facets []mesh.Triangle
}

func newWhole(m *mesh.Mesh, marks Marks) whole {
	var w whole
	number := map[int32]int32{}
	for i, k := range marks {
		if k != KeepWhole {
			continue
		}
		t := m.Triangles[i]
		for c, p := range t {
			n, ok := number[p]
			if !ok {
				n = int32(len(w.points))
				number[p] = n
				w.points = append(w.points, m.Points[p])
			}
			t[c] = n
		}
		w.facets = append(w.facets, t)
	}
	return w
}

// crossings are, for each joint between layers from the floor up, how many mm it runs through what is to be kept whole.
func (w *whole) crossings(place geom.Placement, layers []stack.Slab) []float64 {
	out := make([]float64, max(len(layers)-1, 0))
	if len(w.facets) == 0 || len(out) == 0 {
		return out
	}
	at := make([]geom.Vec, len(w.points))
	for i, p := range w.points {
		at[i] = place.Apply(p.Vec())
	}
	thick := math.Inf(1)
	if len(layers) > 2 {
		thick = layers[2].Bottom - layers[1].Bottom
	}
	first := layers[1].Bottom
	for _, t := range w.facets {
		a, b, c := at[t[0]], at[t[1]], at[t[2]]
		low, high := min(a.Z, b.Z, c.Z), max(a.Z, b.Z, c.Z)
		k := 0
		if !math.IsInf(thick, 1) {
			k = max(int(math.Ceil((low-first)/thick)), 0)
		}
		for ; k < len(out) && layers[k+1].Bottom < high; k++ {
			if z := layers[k+1].Bottom; z > low {
				out[k] += cut(a, b, c, z)
			}
		}
	}
	return out
}

// cut is how long the line is in which the plane at height z cuts a triangle.
func cut(a, b, c geom.Vec, z float64) float64 {
	var ends []geom.Vec
	for _, e := range [3][2]geom.Vec{{a, b}, {b, c}, {c, a}} {
		if (e[0].Z < z) != (e[1].Z < z) {
			ends = append(ends, e[0].Add(e[1].Sub(e[0]).Scale((z-e[0].Z)/(e[1].Z-e[0].Z))))
		}
	}
	if len(ends) != 2 {
		return 0
	}
	return ends[1].Sub(ends[0]).Len()
}

// crossed counts the joints that run through.
func crossed(mm []float64) (n int, sum float64) {
	for _, v := range mm {
		if v > 0 {
			n++
			sum += v
		}
	}
	return n, sum
}
