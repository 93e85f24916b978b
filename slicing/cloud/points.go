package cloud

import (
	"cmp"
	"context"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
	"grainstack/slicing/sets"

	"gonum.org/v1/gonum/mat"
)

const (
	// around is how many neighbours say how the surface lies at a point.
	around = 16
	// gap is the angle without neighbours, in radians, from which on a point is at the rim.
	gap = 2 * math.Pi / 3
	// strewn is how many spacings apart points may lie to hang together.
	strewn = 4
)

// OfPoints is the cloud of bare points without debris. normals is nil, or has one of length 1 for each point; where it is nil they are
// estimated from the points round each (Hoppe, DeRose, Duchamp, McDonald, Stuetzle, SIGGRAPH 1992) and turned out of the piece: away
// from the scan's middle, more than not.
func OfPoints(ctx context.Context, points, normals []mesh.Point) (*Cloud, error) {
	n := len(points)
	if n < around {
		return &Cloud{}, ctx.Err()
	}
	c := &Cloud{Points: points, Normals: normals, Areas: make([]float32, n), Rim: make([]bool, n)}
	if normals == nil {
		c.Normals = make([]mesh.Point, n)
	}
	tree := NewTree(points)
	near := make([]int32, n*around) // of each point its neighbours, itself first
	err := par.Spans(ctx, n, 512, func(from, to int) {
		var found []neighbour
		for i := from; i < to; i++ {
			found = tree.closest(points[i].Vec(), around, found)
			for k, f := range found {
				near[i*around+k] = f.Point
			}
			c.Areas[i] = float32(math.Pi * found[around-1].D2 / around)
			if normals == nil {
				c.Normals[i] = flattest(points, near[i*around:(i+1)*around])
			}
		}
	})
	if err != nil {
		return nil, err
	}
	areas := slices.Clone(c.Areas)
	slices.Sort(areas)
	c.Spacing = math.Sqrt(float64(areas[n/2]))
	if normals == nil {
		c.orient(near)
	}
	err = par.Spans(ctx, n, 512, func(from, to int) {
		for i := from; i < to; i++ {
			c.Rim[i] = c.atRim(i, near[i*around:(i+1)*around])
		}
	})
	if err != nil {
		return nil, err
	}
	return c.withoutDebris(near), nil
}

// flattest is the normal of the plane that lies nearest to points.
func flattest(points []mesh.Point, near []int32) mesh.Point {
	var middle geom.Vec
	for _, i := range near {
		middle = middle.Add(points[i].Vec().Scale(1 / float64(len(near))))
	}
	var m [9]float64
	for _, i := range near {
		v := points[i].Vec().Sub(middle)
		w := [3]float64{v.X, v.Y, v.Z}
		for r := range 3 {
			for k := range 3 {
				m[3*r+k] += w[r] * w[k]
			}
		}
	}
	var e mat.EigenSym
	if !e.Factorize(mat.NewSymDense(3, m[:]), true) {
		return mesh.Point{0, 0, 1}
	}
	var axes mat.Dense
	e.VectorsTo(&axes) // the least first
	return unit(geom.Vec{X: axes.At(0, 0), Y: axes.At(1, 0), Z: axes.At(2, 0)})
}

// orient turns normals that neighbours agree, along the neighbours that bend least, and then out of the piece.
func (c *Cloud) orient(near []int32) {
	type pair struct {
		i, j int32
		bend float32
	}
	var pairs []pair
	for i := range c.Points {
		for _, j := range near[i*around+1 : i*around+around/2] {
			if int32(i) != j {
				pairs = append(pairs, pair{int32(i), j, float32(1 - math.Abs(c.Normals[i].Vec().Dot(c.Normals[j].Vec())))})
			}
		}
	}
	slices.SortFunc(pairs, func(a, b pair) int {
		return cmp.Or(cmp.Compare(a.bend, b.bend), cmp.Compare(a.i, b.i), cmp.Compare(a.j, b.j))
	})
	of := sets.NewSided(len(c.Points))
	for _, p := range pairs {
		of.Join(p.i, p.j, c.Normals[p.i].Vec().Dot(c.Normals[p.j].Vec()) < 0)
	}
	least, against := of.Flat()
	middle, _ := c.Middle()
	out := map[int32]float64{}
	for i, p := range c.Points {
		if against[i] {
			c.Normals[i] = turned(c.Normals[i])
		}
		out[least[i]] += float64(c.Areas[i]) * c.Normals[i].Vec().Dot(p.Vec().Sub(middle))
	}
	for i := range c.Points {
		if out[least[i]] < 0 {
			c.Normals[i] = turned(c.Normals[i])
		}
	}
}

func turned(n mesh.Point) mesh.Point { return mesh.Point{-n[0], -n[1], -n[2]} }

// atRim reports whether the neighbours leave a wide gap round a point.
func (c *Cloud) atRim(i int, near []int32) bool {
	n := c.Normals[i].Vec()
	u := n.Cross(geom.Vec{X: 1}).Unit()
	if math.Abs(n.X) > 0.9 {
		u = n.Cross(geom.Vec{Y: 1}).Unit()
	}
	v := n.Cross(u)
	var angles [around]float64
	k := 0
	for _, j := range near {
		if d := c.Points[j].Vec().Sub(c.Points[i].Vec()); d != (geom.Vec{}) {
			angles[k] = math.Atan2(d.Dot(v), d.Dot(u))
			k++
		}
	}
	if k == 0 {
		return true
	}
	slices.Sort(angles[:k])
	wide := angles[0] + 2*math.Pi - angles[k-1]
	for a := 1; a < k; a++ {
		wide = math.Max(wide, angles[a]-angles[a-1])
	}
	return wide > gap
}

// withoutDebris is the cloud without the bits that hang together with few others.
func (c *Cloud) withoutDebris(near []int32) *Cloud {
	of := sets.New(len(c.Points))
	for i, p := range c.Points {
		for _, j := range near[i*around+1 : (i+1)*around] {
			if c.Points[j].Vec().Sub(p.Vec()).Len() < strewn*c.Spacing {
				of.Join(int32(i), j)
			}
		}
	}
	count, most := map[int32]int{}, 0
	for i := range c.Points {
		s := of.Find(int32(i))
		count[s]++
		most = max(most, count[s])
	}
	out := &Cloud{Spacing: c.Spacing}
	for _, n := range count {
		if float64(n) < debrisShare*float64(most) {
			out.Loose++
		}
	}
	for i, p := range c.Points {
		if float64(count[of.Find(int32(i))]) >= debrisShare*float64(most) {
			out.add(p, c.Normals[i].Vec(), c.Areas[i], c.Rim[i])
		}
	}
	return out
}
