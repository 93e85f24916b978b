package scans

import (
	"context"
	"fmt"
	"math"
	"path/filepath"

	"grainstack/slicing/cloud"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/phrase"
)

// Face is the surface of a scan as it can be looked at, in its own units: what its cuts leave, and of bare points small facets that lie as
// the surface does there.
func (s Source) Face(ctx context.Context) (*mesh.Mesh, mesh.Raw, error) {
	file, err := mesh.OpenScan(s.File)
	if err != nil {
		return nil, file.Raw, err
	}
	m := file.Mesh
	if m == nil {
		c, err := cloud.OfPoints(ctx, file.Points.At, whole(file.Points.Normals))
		if err != nil {
			return nil, file.Raw, err
		}
		m = scales(c)
	}
	if len(s.Cuts) > 0 {
		left := &mesh.Mesh{Points: m.Points}
		for i, t := range m.Triangles {
			a, b, c := m.Corners(i)
			if keepsAll(s.Cuts, a.Add(b).Add(c).Scale(1.0/3)) {
				left.Triangles = append(left.Triangles, t)
			}
		}
		if m = left.Compact(); len(m.Triangles) == 0 {
			return nil, file.Raw, fmt.Errorf("nothing is left of %s: the cut takes all of it away", phrase.Name(filepath.Base(s.File)))
		}
	}
	return m, file.Raw, ctx.Err()
}

// scales are the points of a cloud as equilateral facets, each a little larger than what it stands for.
func scales(c *cloud.Cloud) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i, p := range c.Points {
		n := c.Normals[i].Vec()
		side := geom.Vec{X: 1}
		if math.Abs(n.X) > 0.7 {
			side = geom.Vec{Y: 1}
		}
		u := n.Cross(side).Unit()
		v := n.Cross(u)
		first := int32(len(m.Points))
		for k := range 3 {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / 3)
			m.Points = append(m.Points, mesh.PointOf(p.Vec().Add(u.Scale(cos*c.Spacing)).Add(v.Scale(sin*c.Spacing))))
		}
		m.Triangles = append(m.Triangles, mesh.Triangle{first, first + 1, first + 2})
	}
	return m
}
