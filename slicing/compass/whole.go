package compass

import (
	"math"

	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/stack"
)

// seenWeight is how much more a facet of the seen side counts than an unmarked one of the same size.
const seenWeight = 4.0

// weightOf is how much each facet counts for the look by its mark; nil where all count alike.
func weightOf(marks []chalk.Kind) func(facet int) float64 {
	for _, k := range marks {
		if k == chalk.SeenSide || k == chalk.DontCare {
			return func(i int) float64 {
				switch marks[i] {
				case chalk.SeenSide:
					return seenWeight
				case chalk.DontCare:
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

func newWhole(m *mesh.Mesh, marks []chalk.Kind) whole {
	var w whole
	number := map[int32]int32{}
	for i, k := range marks {
		if k != chalk.KeepWhole {
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

// crossings is how many joints between layers run through what is to be kept whole: those that cut a facet of it, or run
// between facets of it above and below. A joint along its edge doesn't.
func (w *whole) crossings(place geom.Placement, layers []stack.Slab) int {
	if len(w.facets) == 0 || len(layers) < 2 {
		return 0
	}
	heights := make([]float64, len(w.points))
	for i, p := range w.points {
		heights[i] = place.Apply(p.Vec()).Z
	}
	thick := math.Inf(1)
	if len(layers) > 2 {
		thick = layers[2].Bottom - layers[1].Bottom
	}
	const below, above = 1, 2
	sides := make([]uint8, len(layers)) // of each layer's lower joint
	for _, t := range w.facets {
		a, b, c := heights[t[0]], heights[t[1]], heights[t[2]]
		low, high := min(a, b, c), max(a, b, c)
		k := 1
		if !math.IsInf(thick, 1) {
			k = max(int((low-layers[1].Bottom)/thick), 1)
		}
		for ; k < len(layers) && layers[k].Bottom <= high; k++ {
			if z := layers[k].Bottom; z >= low {
				if low < z {
					sides[k] |= below
				}
				if high > z {
					sides[k] |= above
				}
			}
		}
	}
	n := 0
	for _, s := range sides {
		if s == below|above {
			n++
		}
	}
	return n
}
