package register

import (
	"errors"
	"fmt"
	"math"

	"grainstack/slicing/geom"

	"gonum.org/v1/gonum/mat"
)

const (
	// narrowest is how wide a set of matching points has to be, by its length: picked points are off by a hundredth of the piece.
	narrowest = 0.03
	// mirrorGain is how many times nearer matching points have to come in a mirror for the scan to be told to be mirrored.
	mirrorGain = 4
	// deepest is the share of their length that points must reach out of a plane to tell a scan from its mirror image.
	deepest = 0.1
)

// Errors of matching points, sentences for a maker.
var (
	errFew      = errors.New("three matching points are needed at least, and not in the same place")
	errLine     = errors.New("the matching points lie on one line, so the scan could still be turned about it: choose one well beside the line")
	errMirrored = errors.New("the matching points fit the mirror image: mirror one of the scans in the program that made it, or check which points belong together")
)

// FromPoints is the placement that carries points of one scan nearest to their partners on another, by least squares, and the root of
// the mean squared distance that is left. Three partners at least are needed, not on a line.
func FromPoints(from, to []geom.Vec) (geom.Placement, float64, error) {
	if len(from) != len(to) {
		return geom.Placement{}, 0, fmt.Errorf("%d points on one scan have %d partners on the other: each needs one", len(from), len(to))
	}
	if len(from) < 3 {
		return geom.Placement{}, 0, errFew
	}
	a, b := middled(from), middled(to)
	if !(a.reach > 0 && b.reach > 0) {
		return geom.Placement{}, 0, errFew
	}
	if a.spread[1] < narrowest*a.spread[0] || b.spread[1] < narrowest*b.spread[0] {
		return geom.Placement{}, 0, errLine
	}
	p, mirrored := similarity(a, b)
	left, other := apart(p, from, to), 0.0
	if a.spread[2] > deepest*a.spread[0] && b.spread[2] > deepest*b.spread[0] {
		for i, v := range from {
			d := mirrored.Apply(geom.Vec{X: -v.X, Y: v.Y, Z: v.Z}).Sub(to[i])
			other += d.Dot(d)
		}
		if other = math.Sqrt(other / float64(len(to))); mirrorGain*other < left {
			return p, left, errMirrored
		}
	}
	return p, left, nil
}

// apart is the root of the mean squared distance of points from their partners.
func apart(p geom.Placement, from, to []geom.Vec) float64 {
	sum := 0.0
	for i, v := range from {
		d := p.Apply(v).Sub(to[i])
		sum += d.Dot(d)
	}
	return math.Sqrt(sum / float64(len(to)))
}

// A set of points about its middle.
type set struct {
	at     []geom.Vec
	middle geom.Vec
	reach  float64    // root of the mean squared distance from the middle
	spread [3]float64 // along the axes in which the points reach farthest, widest first
}

func middled(points []geom.Vec) set {
	s := set{at: make([]geom.Vec, len(points))}
	for _, p := range points {
		s.middle = s.middle.Add(p.Scale(1 / float64(len(points))))
	}
	m := mat.NewDense(len(points), 3, nil)
	for i, p := range points {
		v := p.Sub(s.middle)
		s.at[i] = v
		s.reach += v.Dot(v) / float64(len(points))
		m.SetRow(i, []float64{v.X, v.Y, v.Z})
	}
	s.reach = math.Sqrt(s.reach)
	var d mat.SVD
	if d.Factorize(m, mat.SVDNone) {
		copy(s.spread[:], d.Values(nil))
	}
	return s
}

// similarity is the placement of least squares, and the one for the points' image in a mirror across the X axis (Umeyama, equations 38
// to 43).
func similarity(a, b set) (p, mirrored geom.Placement) {
	cov := mat.NewDense(3, 3, nil)
	for i, v := range a.at {
		w := b.at[i]
		x, y := [3]float64{w.X, w.Y, w.Z}, [3]float64{v.X, v.Y, v.Z}
		for r := range 3 {
			for c := range 3 {
				cov.Set(r, c, cov.At(r, c)+x[r]*y[c]/float64(len(a.at)))
			}
		}
	}
	var d mat.SVD
	if !d.Factorize(cov, mat.SVDFull) {
		return geom.NoPlacement(), geom.NoPlacement()
	}
	var u, v mat.Dense
	d.UTo(&u)
	d.VTo(&v)
	values := d.Values(nil)
	sign := 1.0
	if mat.Det(&u)*mat.Det(&v) < 0 {
		sign = -1
	}
	with := func(sign float64) geom.Placement {
		var turn mat.Dense
		turn.Product(&u, mat.NewDiagDense(3, []float64{1, 1, sign}), v.T())
		out := geom.Placement{Scale: (values[0] + values[1] + sign*values[2]) / (a.reach * a.reach)}
		for r := range 3 {
			for c := range 3 {
				out.Turn[r][c] = turn.At(r, c)
			}
		}
		out.Shift = b.middle.Sub(out.Turn.Apply(a.middle).Scale(out.Scale))
		return out
	}
	p, mirrored = with(sign), with(-sign)
	for r := range 3 {
		mirrored.Turn[r][0] *= -1
	}
	return p, mirrored
}
