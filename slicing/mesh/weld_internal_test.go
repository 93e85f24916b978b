package mesh

import (
	"math/rand"
	"testing"
)

// BenchmarkWeld welds the facets of a million-triangle sheet in random order, spatial ordering not counted.
func BenchmarkWeld(b *testing.B) {
	const side = 707
	facets := make([]facet, 0, 2*side*side)
	for j := range side {
		for i := range side {
			at := func(i, j int) Point { return Point{float32(i), float32(j), float32((i * j) % 7)} }
			facets = append(facets, facet{at(i, j), at(i+1, j), at(i+1, j+1)}, facet{at(i, j), at(i+1, j+1), at(i, j+1)})
		}
	}
	rand.New(rand.NewSource(1)).Shuffle(len(facets), func(i, j int) { facets[i], facets[j] = facets[j], facets[i] })
	order := spatialOrder(facets, bounds(facets))
	b.ReportAllocs()
	for b.Loop() {
		if m, dropped := weld(facets, order); len(m.Points) != (side+1)*(side+1) || dropped != 0 {
			b.Fatalf("%d points, %d dropped", len(m.Points), dropped)
		}
	}
}
