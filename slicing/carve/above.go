package carve

import (
	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// Above is where a map's figures are above a level of 0 or more, as outlines: counter-clockwise, holes clockwise. A column
// beside one that holds nothing counts for half the way to it. A map that holds nothing has none.
func (m *HeightMap) Above(level float64) geom.Region {
	if m.Z == nil {
		return nil
	}
	w, h := m.W+2, m.H+2 // one more on every side, where nothing is
	v := make([]float32, w*h)
	for j := range h {
		for i := range w {
			v[j*w+i] = m.over(i-1, j-1, float32(level))
		}
	}
	g := plane.Grid{Origin: m.Place(-1, -1), Step: m.Step, NX: w, NY: h, V: v}
	return g.Contours()
}

// over is a column's figure above a level, as outlines want it: where a column holds nothing it is the highest of its
// neighbours turned over, so that the line runs half-way between them.
func (m *HeightMap) over(i, j int, level float32) float32 {
	if i >= 0 && j >= 0 && i < m.W && j < m.H && m.At(i, j) != 0 {
		return m.At(i, j) - level
	}
	high := float32(0)
	for y := max(j-1, 0); y <= min(j+1, m.H-1); y++ {
		for x := max(i-1, 0); x <= min(i+1, m.W-1); x++ {
			high = max(high, m.At(x, y))
		}
	}
	return min(level-high, -leastResidue)
}
