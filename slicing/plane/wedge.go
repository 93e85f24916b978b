package plane

import (
	"math"

	"grainstack/slicing/geom"
)

// fewer draws a line with as few corners as a single pass finds so that no point lies further than within from it: a corner
// is put where the wedge of directions that meet all points' discs closes (Williams, "Bounded straight-line approximation of
// digitized planar curves and lines", Computer Graphics and Image Processing 16, 1981; from memory). Of a closed line the
// first point is kept.
func fewer(out, line []geom.Vec2, closed bool, within float64) []geom.Vec2 {
	if len(line) < 3 {
		return append(out, line...)
	}
	n := len(line)
	if closed {
		n++
	}
	at := func(k int) geom.Vec2 { return line[k%len(line)] }
	anchor := at(0)
	out = append(out, anchor)
	var wedge wedge
	for k := 1; k < n; k++ {
		p := at(k)
		if !wedge.takes(anchor, p, within) {
			anchor = at(k - 1)
			out = append(out, anchor)
			wedge.open = false
			wedge.takes(anchor, p, within)
		}
	}
	if !closed {
		out = append(out, at(n-1))
	}
	return out
}

// A wedge is the directions from an anchor that pass all points near enough.
type wedge struct {
	open        bool // something has been taken
	left, right geom.Vec2
}

// takes narrows the wedge by p, or says that p lies outside.
func (w *wedge) takes(anchor, p geom.Vec2, within float64) bool {
	d := p.Sub(anchor)
	far2 := d.Dot(d)
	if w.open && (w.right.Cross(d) < 0 || d.Cross(w.left) < 0 || d.Dot(w.right) < 0) {
		return false
	}
	if far2 <= within*within {
		return true
	}
	t := within / math.Sqrt(far2-within*within)
	across := geom.Vec2{X: -d.Y, Y: d.X}.Scale(t)
	left, right := d.Add(across), d.Sub(across)
	if !w.open {
		*w = wedge{true, left, right}
		return true
	}
	if left.Cross(w.left) > 0 {
		w.left = left
	}
	if w.right.Cross(right) > 0 {
		w.right = right
	}
	return true
}
