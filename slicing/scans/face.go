package scans

import (
	"context"
	"math"

	"grainstack/slicing/cloud"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// Face is the surface of a scan's file as it can be looked at, in the scan's own units: of bare points small facets that lie as the
// surface does there.
func Face(ctx context.Context, path string) (*mesh.Mesh, mesh.Raw, error) {
	file, err := mesh.OpenScan(path)
	if err != nil || file.Mesh != nil {
		return file.Mesh, file.Raw, err
	}
	c, err := cloud.OfPoints(ctx, file.Points.At, whole(file.Points.Normals))
	if err != nil {
		return nil, file.Raw, err
	}
	return scales(c), file.Raw, ctx.Err()
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
