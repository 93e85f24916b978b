package cloud

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// A Cloud is a scan as points of a surface with what is known of each; all lists have the same length.
type Cloud struct {
	Points  []mesh.Point
	Normals []mesh.Point // out of the piece, length 1
	Areas   []float32    // of the surface that each point stands for
	Rim     []bool       // at the edge of what was seen
	Spacing float64      // middle distance between neighbours
	Loose   int          // bits of debris that were left out
}

// debrisShare is the share of the largest shell's area under which a shell is debris.
const debrisShare = 0.02

// span is how many points one goroutine takes at a time.
const span = 4096

// OfMesh is the cloud of a surface without its debris: its points and, where facets are much larger than is usual in it, places
// on these. A mesh without area gives a cloud without points.
func OfMesh(ctx context.Context, m *mesh.Mesh) (*Cloud, error) {
	keep, loose := shells(m)
	c := &Cloud{Loose: loose, Spacing: middleSide(m, keep)}
	large, apart := c.fillings(m, keep)
	number := make([]int32, len(m.Points))
	for i := range number {
		number[i] = -1
	}
	for i, t := range m.Triangles {
		if !keep[i] {
			continue
		}
		a, b, d := m.Corners(i)
		n := b.Sub(a).Cross(d.Sub(a))
		filled := longest(a, b, d) >= large && c.fillIn(a, b, d, apart)
		for _, p := range t {
			if number[p] < 0 {
				number[p] = int32(len(c.Points))
				c.add(m.Points[p], geom.Vec{}, 0, false)
			}
			q := number[p]
			c.Normals[q] = plus(c.Normals[q], n)
			if !filled {
				c.Areas[q] += float32(n.Len() / 6)
			}
		}
	}
	for h, twin := range m.Adjacency() {
		if t := m.Triangles[h/3]; twin < 0 && keep[h/3] {
			c.Rim[number[t[h%3]]], c.Rim[number[t[(h+1)%3]]] = true, true
		}
	}
	err := par.Spans(ctx, len(c.Normals), span, func(from, to int) {
		for i := from; i < to; i++ {
			c.Normals[i] = unit(c.Normals[i].Vec())
		}
	})
	if !(c.Area() > 0) {
		return &Cloud{Loose: loose}, err
	}
	return c, err
}

// middleSide is the mean length of the facets' sides.
func middleSide(m *mesh.Mesh, keep []bool) float64 {
	sum, sides := 0.0, 0
	for i := range m.Triangles {
		if keep[i] {
			a, b, c := m.Corners(i)
			sum += b.Sub(a).Len() + c.Sub(b).Len() + a.Sub(c).Len()
			sides += 3
		}
	}
	return sum / math.Max(1, float64(sides))
}

func (c *Cloud) add(p mesh.Point, n geom.Vec, area float32, rim bool) {
	c.Points, c.Normals = append(c.Points, p), append(c.Normals, mesh.PointOf(n))
	c.Areas, c.Rim = append(c.Areas, area), append(c.Rim, rim)
}

// mostFilled bounds how many places are put on one large facet along a side.
const mostFilled = 100

const (
	// uneven is how many times the usual side a facet's longest may be before it gets places of its own, even those apart.
	uneven, even = 6, 2
	// wide and close are the same by the reach of the surface: on a coarse one points alone say too little of where it is.
	wide, close = 0.12, 0.04
)

// fillings are the longest side from which on facets get places of their own, and how far apart these lie.
func (c *Cloud) fillings(m *mesh.Mesh, keep []bool) (large, apart float64) {
	middles := &Cloud{}
	for i := range m.Triangles {
		if keep[i] {
			a, b, d := m.Corners(i)
			middles.Points = append(middles.Points, mesh.PointOf(a.Add(b).Add(d).Scale(1.0/3)))
			middles.Areas = append(middles.Areas, float32(b.Sub(a).Cross(d.Sub(a)).Len()))
		}
	}
	_, reach := middles.Middle()
	return math.Min(uneven*c.Spacing, wide*reach), math.Min(even*c.Spacing, close*reach)
}

// fillIn puts places on a large facet, so far apart; these then stand for its area.
func (c *Cloud) fillIn(a, b, d geom.Vec, apart float64) bool {
	n := b.Sub(a).Cross(d.Sub(a))
	steps := min(mostFilled, int(longest(a, b, d)/apart))
	if steps < 3 {
		return false
	}
	each := float32(n.Len() / float64((steps-1)*(steps-2)))
	for u := 1; u < steps; u++ {
		for v := 1; u+v < steps; v++ {
			p := a.Add(b.Sub(a).Scale(float64(u) / float64(steps))).Add(d.Sub(a).Scale(float64(v) / float64(steps)))
			c.add(mesh.PointOf(p), n, each, false)
		}
	}
	return true
}

func longest(a, b, c geom.Vec) float64 {
	return math.Max(b.Sub(a).Len(), math.Max(c.Sub(b).Len(), a.Sub(c).Len()))
}

// shells says which facets belong to a shell that is no debris, and how many shells are.
func shells(m *mesh.Mesh) (keep []bool, loose int) {
	of := m.Together(nil)
	area := map[int32]float64{}
	most := 0.0
	for i, t := range m.Triangles {
		a, b, c := m.Corners(i)
		s := of.Find(t[0])
		area[s] += b.Sub(a).Cross(c.Sub(a)).Len()
		most = math.Max(most, area[s])
	}
	keep = make([]bool, len(m.Triangles))
	for i, t := range m.Triangles {
		keep[i] = area[of.Find(t[0])] >= debrisShare*most
	}
	for _, a := range area {
		if a < debrisShare*most {
			loose++
		}
	}
	return keep, loose
}

// Placed is the cloud as it lies once carried elsewhere.
func (c *Cloud) Placed(p geom.Placement) *Cloud {
	out := &Cloud{Points: make([]mesh.Point, len(c.Points)), Normals: make([]mesh.Point, len(c.Points)),
		Areas: make([]float32, len(c.Points)), Rim: c.Rim, Spacing: c.Spacing * p.Scale, Loose: c.Loose}
	for i, q := range c.Points {
		out.Points[i], out.Normals[i] = mesh.PointOf(p.Apply(q.Vec())), mesh.PointOf(p.Turn.Apply(c.Normals[i].Vec()))
		out.Areas[i] = c.Areas[i] * float32(p.Scale*p.Scale)
	}
	return out
}

// Mirrored is the cloud seen in a mirror across its X axis.
func (c *Cloud) Mirrored() *Cloud {
	out := &Cloud{Points: make([]mesh.Point, len(c.Points)), Normals: make([]mesh.Point, len(c.Points)), Areas: c.Areas, Rim: c.Rim, Spacing: c.Spacing, Loose: c.Loose}
	for i, q := range c.Points {
		n := c.Normals[i]
		out.Points[i], out.Normals[i] = mesh.Point{-q[0], q[1], q[2]}, mesh.Point{-n[0], n[1], n[2]}
	}
	return out
}

// Of is one cloud of several.
func Of(all ...*Cloud) *Cloud {
	out := &Cloud{}
	points := 0
	for _, c := range all {
		out.Points, out.Normals = append(out.Points, c.Points...), append(out.Normals, c.Normals...)
		out.Areas, out.Rim = append(out.Areas, c.Areas...), append(out.Rim, c.Rim...)
		out.Spacing += c.Spacing * float64(len(c.Points))
		out.Loose += c.Loose
		points += len(c.Points)
	}
	out.Spacing /= math.Max(1, float64(points))
	return out
}

// Kept is the cloud of the points that keep says, by place.
func (c *Cloud) Kept(keep func(geom.Vec) bool) *Cloud {
	return c.Keeping(func(i int) bool { return keep(c.Points[i].Vec()) })
}

// Keeping is the cloud of the points that keep says, by number.
func (c *Cloud) Keeping(keep func(i int) bool) *Cloud {
	out := &Cloud{Spacing: c.Spacing, Loose: c.Loose}
	for i, p := range c.Points {
		if keep(i) {
			out.add(p, c.Normals[i].Vec(), c.Areas[i], c.Rim[i])
		}
	}
	return out
}

// Area is that of the whole surface.
func (c *Cloud) Area() float64 {
	sum := 0.0
	for _, a := range c.Areas {
		sum += float64(a)
	}
	return sum
}

// Middle is the middle of the surface, and Reach the root of the mean squared distance from it: a size that a few far points
// change little.
func (c *Cloud) Middle() (middle geom.Vec, reach float64) {
	sum := 0.0
	for i, p := range c.Points {
		w := float64(c.Areas[i])
		middle, sum = middle.Add(p.Vec().Scale(w)), sum+w
	}
	if !(sum > 0) {
		return geom.Vec{}, 0
	}
	middle = middle.Scale(1 / sum)
	for i, p := range c.Points {
		d := p.Vec().Sub(middle)
		reach += float64(c.Areas[i]) * d.Dot(d)
	}
	return middle, math.Sqrt(reach / sum)
}

// Box is the smallest box round all points.
func (c *Cloud) Box() geom.Box { return (&mesh.Mesh{Points: c.Points}).Box() }

func unit(v geom.Vec) mesh.Point { return mesh.PointOf(v.Unit()) }

func plus(p mesh.Point, v geom.Vec) mesh.Point { return mesh.PointOf(p.Vec().Add(v)) }
