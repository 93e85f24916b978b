package scans

import (
	"context"
	"fmt"
	"math"

	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/phrase"
)

// A Cut says what of a scan is used, in the scan's own units: of a plane what lies From along a direction or farther, of a box what lies
// in it, of strokes what they do not mark; or with Away the rest.
type Cut struct {
	Along geom.Vec     `json:"along,omitzero"`  // of a plane, not of length 0
	From  float64      `json:"from,omitempty"`  // by the direction's own length
	Box   *geom.Box    `json:"box,omitempty"`   // in place of the plane
	Chalk *chalk.Marks `json:"chalk,omitempty"` // in place of the plane
	Away  bool         `json:"away,omitempty"`  // the other side is used
}

// Keeps reports whether a place is used.
func (c Cut) Keeps(p geom.Vec) bool {
	if c.Box != nil {
		return (c.Box.Add(p) == *c.Box) != c.Away
	}
	if c.Chalk != nil {
		return (c.Chalk.At(p) == chalk.Unmarked) != c.Away
	}
	return (c.Along.Dot(p) >= c.From) != c.Away
}

// offPlane is how far in front of a plane through places of a scan it is cut, by the scan's longest side: what is scanned of a floor is
// not quite flat.
const offPlane = 0.01

// PlaneCut is the cut along a plane through three places of a scan's surface, a little in front of it: what more of the surface lies in
// front of stays. ok is false where the places lie in a line.
func PlaneCut(of *mesh.Mesh, a, b, c geom.Vec) (cut Cut, ok bool) {
	n := b.Sub(a).Cross(c.Sub(a))
	if !(n.Len() > leastAngle*b.Sub(a).Len()*c.Sub(a).Len()) {
		return Cut{}, false
	}
	n = n.Unit()
	before := 0
	for _, p := range of.Points {
		if n.Dot(p.Vec().Sub(a)) > 0 {
			before++
		}
	}
	if 2*before < len(of.Points) {
		n = n.Scale(-1)
	}
	return Cut{Along: n, From: n.Dot(a) + offPlane*longest(of)}, true
}

// leastAngle is the sine of the angle that three places have to make to lie in a plane.
const leastAngle = 0.02

// BoxCut is the cut that takes away what lies in the box round places of a scan's surface, a little larger than they reach.
func BoxCut(of *mesh.Mesh, places ...geom.Vec) Cut {
	b := geom.EmptyBox()
	for _, p := range places {
		b = b.Add(p)
	}
	off := offPlane * longest(of)
	grown := geom.Box{Min: b.Min.Sub(geom.Vec{X: off, Y: off, Z: off}), Max: b.Max.Add(geom.Vec{X: off, Y: off, Z: off})}
	return Cut{Box: &grown, Away: true}
}

// longest is the longest side of a surface's box.
func longest(m *mesh.Mesh) float64 {
	s := m.Box().Size()
	return math.Max(s.X, math.Max(s.Y, s.Z))
}

// Other is the same cut with its other side used.
func (c Cut) Other() Cut {
	c.Away = !c.Away
	return c
}

// check is an error, a sentence, for a cut that says nothing.
func (c Cut) check() error {
	if b := c.Box; b != nil {
		if !sane(b.Min) || !sane(b.Max) {
			return fmt.Errorf("a box that scans are cut with has no size")
		}
		return nil
	}
	if c.Chalk != nil { // was checked when it was read
		return nil
	}
	if !sane(c.Along) || !(math.Abs(c.From) <= math.MaxFloat32) || c.Along.Len() == 0 {
		return fmt.Errorf("a plane that scans are cut with has no direction")
	}
	return nil
}

// sane reports whether a place is one that a file may name.
func sane(v geom.Vec) bool {
	for _, c := range [3]float64{v.X, v.Y, v.Z} {
		if !(math.Abs(c) <= math.MaxFloat32) {
			return false
		}
	}
	return true
}

// Kept is the scan without what keep does not say, by place in its own units.
func (s Scan) Kept(keep func(geom.Vec) bool) (Scan, error) {
	s.Cloud = s.Cloud.Kept(keep)
	if len(s.Cloud.Points) == 0 {
		return s, fmt.Errorf("nothing is left of %s: the cut takes all of it away", phrase.Name(s.Name))
	}
	return s, nil
}

// opened is a source's scan with its cuts made.
func (s Source) opened(ctx context.Context) (Scan, error) {
	one, err := Open(ctx, s.File)
	if err != nil {
		return one, err
	}
	for _, c := range s.Cuts {
		if one, err = one.Kept(c.Keeps); err != nil {
			return one, err
		}
	}
	return one, nil
}
