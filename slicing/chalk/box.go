package chalk

import (
	"math"

	"grainstack/slicing/geom"
)

// A box is an axis-parallel box at the precision of a mesh's points: there are thousands, and they are compared only.
type box struct{ min, max [3]float32 }

func emptyBox() box {
	far := float32(math.Inf(1))
	return box{[3]float32{far, far, far}, [3]float32{-far, -far, -far}}
}

func (b box) add(v geom.Vec) box {
	for i, c := range [3]float64{v.X, v.Y, v.Z} {
		b.min[i], b.max[i] = min(b.min[i], float32(c)), max(b.max[i], float32(c))
	}
	return b
}

// grown is the box with a margin all round, and a little more, since the rounding to float32 must not lose what lies at its edge.
func (b box) grown(by float64) box {
	for i := range b.min {
		slack := (math.Abs(float64(b.min[i])) + math.Abs(float64(b.max[i]))) * 1e-6
		b.min[i], b.max[i] = float32(float64(b.min[i])-by-slack), float32(float64(b.max[i])+by+slack)
	}
	return b
}

func (b box) union(o box) box {
	for i := range b.min {
		b.min[i], b.max[i] = min(b.min[i], o.min[i]), max(b.max[i], o.max[i])
	}
	return b
}

func (b *box) touches(o *box) bool {
	return b.min[0] <= o.max[0] && o.min[0] <= b.max[0] &&
		b.min[1] <= o.max[1] && o.min[1] <= b.max[1] &&
		b.min[2] <= o.max[2] && o.min[2] <= b.max[2]
}
