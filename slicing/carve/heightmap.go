package carve

import (
	"math"

	"grainstack/slicing/geom"
)

// NoWood is the height of a column without wood. It is lower than any height of a piece and is compared with ==.
const NoWood float32 = -1 << 30

// A Side is where the cutter comes from.
type Side uint8

const (
	Up   Side = iota // from above, as the piece stands
	Down             // from below
	Both             // findings only: either side, or neither in particular
)

func (s Side) String() string {
	switch s {
	case Up:
		return "top side"
	case Down:
		return "underside"
	}
	return "both sides"
}

// A HeightMap holds one figure for each column of a regular grid, x fastest, then y. It is never changed after it was made.
type HeightMap struct {
	Origin geom.Vec2 // of column 0, 0
	Step   float64   // between neighbouring columns, along x and y
	W, H   int
	Z      []float32 // W·H figures; nil stands for all the same: nothing
}

// At is the figure of column i, j, which must be in the map.
func (m *HeightMap) At(i, j int) float32 { return m.Z[j*m.W+i] }

// Place is where column i, j stands.
func (m *HeightMap) Place(i, j int) geom.Vec2 {
	return geom.Vec2{X: m.Origin.X + float64(i)*m.Step, Y: m.Origin.Y + float64(j)*m.Step}
}

// Nearest is the column nearest to p; ok is false where p lies more than half a step outside the map.
func (m *HeightMap) Nearest(p geom.Vec2) (i, j int, ok bool) {
	x, y := math.Round((p.X-m.Origin.X)/m.Step), math.Round((p.Y-m.Origin.Y)/m.Step)
	if !(x >= 0 && y >= 0 && x < float64(m.W) && y < float64(m.H)) {
		return 0, 0, false
	}
	return int(x), int(y), true
}

// Around visits the up to four columns that p lies between, by their places in Z.
func (m *HeightMap) Around(p geom.Vec2, visit func(k int)) {
	x, y := math.Floor((p.X-m.Origin.X)/m.Step), math.Floor((p.Y-m.Origin.Y)/m.Step)
	if !(x >= -1 && y >= -1 && x < float64(m.W) && y < float64(m.H)) {
		return
	}
	i, j := int(x), int(y)
	for b := max(j, 0); b <= min(j+1, m.H-1); b++ {
		for a := max(i, 0); a <= min(i+1, m.W-1); a++ {
			visit(b*m.W + a)
		}
	}
}

// like is a map of the same columns with other figures.
func (m *HeightMap) like(z []float32) HeightMap {
	return HeightMap{Origin: m.Origin, Step: m.Step, W: m.W, H: m.H, Z: z}
}
