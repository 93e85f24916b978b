package join

import (
	"context"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// leastShare keeps a point of the surface off the nodes, by the edge: facets keep some area.
const leastShare = 0.03

// A skin is the surface under construction.
type skin struct {
	*field
	shapes  *shapes
	corners [][]int32 // of each block that has any: for each edge that begins at a node of it, its point
	base    []int32   // of the first point of each block
	points  []mesh.Point
	seenAt  []bool // of each point whether it is where scans saw the surface
}

// surface is where the field passes zero, and which of its points scans saw.
func (f *field) surface(ctx context.Context) (*mesh.Mesh, []bool, error) {
	s := &skin{field: f, shapes: newShapes(), corners: make([][]int32, len(f.at)), base: make([]int32, len(f.at)+1)}
	if err := s.lay(ctx); err != nil {
		return nil, nil, err
	}
	facets := make([][]mesh.Triangle, len(f.at))
	err := par.Spans(ctx, len(f.at), 8, func(from, to int) {
		for b := from; b < to; b++ {
			facets[b] = s.facets(b)
		}
	})
	if err != nil {
		return nil, nil, err
	}
	total := 0
	for _, some := range facets {
		total += len(some)
	}
	m := &mesh.Mesh{Points: s.points, Triangles: make([]mesh.Triangle, 0, total)}
	for _, some := range facets {
		m.Triangles = append(m.Triangles, some...)
	}
	return m, s.seenAt, nil
}

// lay puts a point on each edge that the surface crosses.
func (s *skin) lay(ctx context.Context) error {
	points, seen := make([][]mesh.Point, len(s.at)), make([][]bool, len(s.at))
	err := par.Spans(ctx, len(s.at), 8, func(from, to int) {
		for b := from; b < to; b++ {
			s.cells(b, func(x, y, z int, c *cube) {
				for axis := range 3 {
					v, w := c[0], c[1<<axis]
					if (v < 0) == (w < 0) {
						continue
					}
					if s.corners[b] == nil {
						s.corners[b] = make([]int32, 3*block)
					}
					at := (z*edge+y)*edge + x
					s.corners[b][3*at+axis] = int32(len(points[b]))
					points[b] = append(points[b], s.point(b, x, y, z, axis, float64(v/(v-w))))
					seen[b] = append(seen[b], s.seen[b][at] > unseen)
				}
			})
		}
	})
	for b := range points {
		s.base[b+1] = s.base[b] + int32(len(points[b]))
	}
	s.points, s.seenAt = make([]mesh.Point, 0, s.base[len(s.at)]), make([]bool, 0, s.base[len(s.at)])
	for b := range points {
		s.points, s.seenAt = append(s.points, points[b]...), append(s.seenAt, seen[b]...)
	}
	return err
}

func (s *skin) point(b, x, y, z, axis int, share float64) mesh.Point {
	share = min(max(share, leastShare), 1-leastShare) * s.step
	p := s.node(s.at[b], x, y, z)
	switch axis {
	case 0:
		p.X += share
	case 1:
		p.Y += share
	default:
		p.Z += share
	}
	return mesh.PointOf(p)
}

// facets are those in the cells above the nodes of a block.
func (s *skin) facets(b int) []mesh.Triangle {
	var out []mesh.Triangle
	s.cells(b, func(x, y, z int, c *cube) {
		var ring [12]int32
		n := 0
		for _, e := range s.shapes[c.code()] {
			ring[n] = s.on(b, x+int(e.from&1), y+int(e.from>>1&1), z+int(e.from>>2), int(e.axis))
			n++
		}
		out = s.fan(out, ring[:n])
	})
	return out
}

// on is the point on the edge from a node, numbered within a block or just beyond it, along an axis.
func (s *skin) on(b, x, y, z, axis int) int32 {
	if x|y|z >= edge {
		at := s.at[b]
		b = int(s.number[spot{at[0] + int32(x>>3), at[1] + int32(y>>3), at[2] + int32(z>>3)}])
		x, y, z = x&7, y&7, z&7
	}
	return s.base[b] + s.corners[b][3*((z*edge+y)*edge+x)+axis]
}

// fan cuts a polygon into triangles from the corner whose diagonals are shortest together.
func (s *skin) fan(out []mesh.Triangle, ring []int32) []mesh.Triangle {
	n := len(ring)
	if n < 3 {
		return out
	}
	best, least := 0, 0.0
	if n > 3 {
		for i := range ring {
			sum := 0.0
			for k := 2; k < n-1; k++ {
				sum += s.way(ring[i], ring[(i+k)%n])
			}
			if i == 0 || sum < least {
				best, least = i, sum
			}
		}
	}
	for k := 1; k+1 < n; k++ {
		out = append(out, mesh.Triangle{ring[best], ring[(best+k)%n], ring[(best+k+1)%n]})
	}
	return out
}

func (s *skin) way(a, b int32) float64 {
	var d geom.Vec = s.points[a].Vec().Sub(s.points[b].Vec())
	return d.Dot(d)
}
