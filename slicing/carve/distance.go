package carve

import (
	"math"

	"grainstack/slicing/plane"
)

// distances are how far each column lies from the nearest one that is out, in mm, between the columns' middles. With rim
// all that lies beyond the map is out too. Where nothing is out the distance is endless.
func (m *HeightMap) distances(out func(i int) bool, rim bool) []float32 {
	squared := plane.Distances(m.W, m.H, out, rim)
	d := make([]float32, len(squared))
	for i, s := range squared {
		if d[i] = math.MaxFloat32; s != plane.Endless {
			d[i] = float32(math.Sqrt(float64(s)) * m.Step)
		}
	}
	return d
}
