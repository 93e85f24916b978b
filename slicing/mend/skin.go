package mend

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

const (
	// inset is how near to the side of its cell the middle of its meetings may lie, in steps: facets keep some area.
	inset = 0.02
	// beyond is how far outside its cell a point may lie, in steps, so that corners and creases that pass close by are met;
	// where facets cross or fold over for that it is drawn back.
	beyond = 0.35
	// stiffness holds a point to the middle of the meetings round it, against the facets' planes.
	stiffness = 0.01
)

// A skin is a surface under construction: for each plane of cells the active ones in order and their points.
type skin struct {
	*lattice
	tree  *windingTree
	cells [][]int32 // number within the plane, y·nx + x
	base  []int32   // of the first point of each plane
	at    []mesh.Point
	place []geom.Vec // of each point within its cell, steps
}

// newSkin puts a point into each cell through which the surface runs.
func newSkin(ctx context.Context, l *lattice, t *windingTree, report func(float64)) (*skin, error) {
	nz := l.n[2] - 1
	s := &skin{lattice: l, tree: t, cells: make([][]int32, nz), base: make([]int32, nz+1)}
	err := par.Spans(ctx, nz, 1, func(z, _ int) {
		for y := range l.n[1] - 1 {
			n := (z*l.n[1] + y) * l.n[0]
			for x := range l.n[0] - 1 {
				if c := l.code(n + x); c != 0 && c != 255 {
					s.cells[z] = append(s.cells[z], int32(y*l.n[0]+x))
				}
			}
		}
	})
	if err != nil {
		return nil, err
	}
	for z := range nz {
		s.base[z+1] = s.base[z] + int32(len(s.cells[z]))
	}
	s.at, s.place = make([]mesh.Point, s.base[nz]), make([]geom.Vec, s.base[nz])
	done := newShare(nz, 0, 1, report)
	err = par.Spans(ctx, nz, 1, func(z, _ int) {
		for i, c := range s.cells[z] {
			if i&255 == 0 && ctx.Err() != nil {
				return
			}
			s.put(s.base[z]+int32(i), int(c)%l.n[0], int(c)/l.n[0], z, stiffness)
		}
		done.add()
	})
	return s, err
}

// put places the point of a cell; with an infinite stiffness in the middle of the meetings.
func (s *skin) put(p int32, x, y, z int, stiff float64) {
	v := s.solve(x, y, z, stiff)
	s.place[p] = v
	s.at[p] = mesh.PointOf(s.node(float64(x)+v.X, float64(y)+v.Y, float64(z)+v.Z))
}

// edges of a cell: axis and the corner from which they run.
var cellEdges = [12][2]uint8{{0, 0}, {0, 2}, {0, 4}, {0, 6}, {1, 0}, {1, 1}, {1, 4}, {1, 5}, {2, 0}, {2, 1}, {2, 2}, {2, 3}}

// solve is the place in a cell that lies nearest to the planes of the facets met by the cell's edges.
func (s *skin) solve(x, y, z int, stiff float64) geom.Vec {
	code := s.code((z*s.n[1]+y)*s.n[0] + x)
	var at, normal [12]geom.Vec
	n := 0
	middle := geom.Vec{}
	for _, e := range cellEdges {
		a, from := int(e[0]), e[1]
		if code>>from&1 == code>>(from+1<<a)&1 {
			continue
		}
		dx, dy, dz := int(from&1), int(from>>1&1), int(from>>2&1)
		t, nrm := s.edge(a, x+dx, y+dy, z+dz)
		q := [3]float64{float64(dx), float64(dy), float64(dz)}
		q[a] = t
		at[n], normal[n] = geom.Vec{X: q[0], Y: q[1], Z: q[2]}, nrm
		middle = middle.Add(at[n])
		n++
	}
	middle = middle.Scale(1 / float64(n))
	d := geom.Vec{}
	if !math.IsInf(stiff, 1) {
		d = leastSquares(at[:n], normal[:n], middle, stiff)
	}
	return kept(middle, d)
}

// kept is middle + d, drawn back towards the middle until it lies in or near the cell.
func kept(middle, d geom.Vec) geom.Vec {
	m := [3]float64{middle.X, middle.Y, middle.Z}
	w := [3]float64{d.X, d.Y, d.Z}
	f := 1.0
	for k := range 3 {
		m[k] = min(max(m[k], inset), 1-inset)
		if to := m[k] + w[k]; to > 1+beyond {
			f = min(f, (1+beyond-m[k])/w[k])
		} else if to < -beyond {
			f = min(f, (-beyond-m[k])/w[k])
		}
	}
	return geom.Vec{X: m[0] + f*w[0], Y: m[1] + f*w[1], Z: m[2] + f*w[2]}
}

// leastSquares is the shift from the middle to where the squared distances from the planes, and stiff times that from the
// middle, are least.
func leastSquares(at, normal []geom.Vec, middle geom.Vec, stiff float64) geom.Vec {
	var xx, yy, zz, xy, yz, zx float64
	var r geom.Vec
	for i, n := range normal {
		w := n.Dot(at[i].Sub(middle))
		r = r.Add(n.Scale(w))
		xx, yy, zz = xx+n.X*n.X, yy+n.Y*n.Y, zz+n.Z*n.Z
		xy, yz, zx = xy+n.X*n.Y, yz+n.Y*n.Z, zx+n.Z*n.X
	}
	xx, yy, zz = xx+stiff, yy+stiff, zz+stiff
	// Cramer's rule for the symmetric matrix (xx xy zx; xy yy yz; zx yz zz).
	a, b, c := yy*zz-yz*yz, zx*yz-xy*zz, xy*yz-yy*zx
	det := xx*a + xy*b + zx*c
	e, f, g := xx*zz-zx*zx, xy*zx-xx*yz, xx*yy-xy*xy
	return geom.Vec{X: a*r.X + b*r.Y + c*r.Z, Y: b*r.X + e*r.Y + f*r.Z, Z: c*r.X + f*r.Y + g*r.Z}.Scale(1 / det)
}

// edge is how far along the edge from node x, y, z along axis a the surface lies, and its normal there; where no facet is
// met the winding number tells how far, and the normal is zero.
func (s *skin) edge(a, x, y, z int) (float64, geom.Vec) {
	at := [3]int{x, y, z}
	from := float32(at[a])
	n := (z*s.n[1]+y)*s.n[0] + x
	into := s.inside[n] == 0
	best := -1
	meets := s.lines[a].of(at[(a+1)%3], at[(a+2)%3])
	for i := range meets {
		m := &meets[i]
		if m.at <= from {
			continue
		}
		if m.at > from+1 {
			break
		}
		if m.into == into {
			best = i
			if into {
				break
			}
		}
	}
	if best < 0 {
		return s.bare(a, at, into), geom.Vec{}
	}
	c := cornersOf(s.m, s.m.Triangles[meets[best].facet])
	return float64(meets[best].at - from), normalOf(&c)
}

// bare is where the winding number passes one half on an edge that meets no facet; the middle where it does not.
func (s *skin) bare(a int, at [3]int, into bool) float64 {
	value := func(t float64) float64 {
		p := [3]float64{float64(at[0]), float64(at[1]), float64(at[2])}
		p[a] += t
		w := s.tree.winding(s.node(p[0], p[1], p[2])) - 0.5
		if into {
			return -w
		}
		return w
	}
	lo, hi := 0.0, 1.0
	vlo, vhi := value(lo), value(hi)
	if !(vlo > 0 && vhi < 0) {
		return 0.5
	}
	t := 0.5
	for range 4 { // regula falsi, kept off the ends
		t = min(max(lo+(hi-lo)*vlo/(vlo-vhi), lo+0.05*(hi-lo)), hi-0.05*(hi-lo))
		if v := value(t); v > 0 {
			lo, vlo = t, v
		} else {
			hi, vhi = t, v
		}
	}
	return t
}

// facets joins the points round each edge that the surface crosses.
func (s *skin) facets(ctx context.Context) (*mesh.Mesh, error) {
	nz := s.n[2] - 1
	lists := make([][]mesh.Triangle, nz)
	maps := make([][2][]int32, par.Count())
	err := par.Workers(ctx, nz, 1, func(w, z, _ int) {
		if maps[w][0] == nil {
			for k := range maps[w] {
				maps[w][k] = make([]int32, s.n[0]*s.n[1])
			}
		}
		if z > 0 {
			s.number(z-1, maps[w][0])
		}
		s.number(z, maps[w][1])
		lists[z] = s.plane(z, maps[w][0], maps[w][1])
	})
	out := &mesh.Mesh{Points: s.at}
	total := 0
	for _, l := range lists {
		total += len(l)
	}
	out.Triangles = make([]mesh.Triangle, 0, total)
	for _, l := range lists {
		out.Triangles = append(out.Triangles, l...)
	}
	return out, err
}

// number writes the numbers of a plane's points; cells without a point keep what was there and are not asked for.
func (s *skin) number(z int, into []int32) {
	for i, c := range s.cells[z] {
		into[c] = s.base[z] + int32(i)
	}
}

// plane makes the facets round the edges that begin at nodes of cells in plane z: below and here give the points' numbers in
// the planes z-1 and z.
func (s *skin) plane(z int, below, here []int32) []mesh.Triangle {
	out := make([]mesh.Triangle, 0, 2*len(s.cells[z])+64)
	nx, plane := s.n[0], s.n[0]*s.n[1]
	for _, c := range s.cells[z] {
		n := z*plane + int(c)
		in := s.inside[n]
		x, y := int(c)%nx, int(c)/nx
		if s.inside[n+1] != in {
			out = s.quad(out, 0, x, y, z, in == 1, below[int(c)-nx], below[c], here[c], here[int(c)-nx])
		}
		if s.inside[n+nx] != in {
			out = s.quad(out, 1, x, y, z, in == 1, below[c-1], here[c-1], here[c], below[c])
		}
		if s.inside[n+plane] != in {
			out = s.quad(out, 2, x, y, z, in == 1, here[int(c)-nx-1], here[int(c)-nx], here[c], here[c-1])
		}
	}
	return out
}

// quad adds two facets over the points a, b, c, d round an edge; they run counter-clockwise seen from the edge's end when
// their order is a b c d. The diagonal is taken that lies nearer to the surface where the edge meets it.
func (s *skin) quad(out []mesh.Triangle, axis, x, y, z int, leaves bool, a, b, c, d int32) []mesh.Triangle {
	if !leaves {
		b, d = d, b
	}
	t, n := s.edge(axis, x, y, z)
	at := [3]float64{float64(x), float64(y), float64(z)}
	at[axis] += t
	p := s.node(at[0], at[1], at[2])
	va, vb, vc, vd := s.at[a].Vec(), s.at[b].Vec(), s.at[c].Vec(), s.at[d].Vec()
	ac, bd := va.Add(vc).Scale(0.5).Sub(p), vb.Add(vd).Scale(0.5).Sub(p)
	short := va.Sub(vc).Len() <= vb.Sub(vd).Len()
	first := short
	if u, v := abs(n.Dot(ac)), abs(n.Dot(bd)); abs(u-v) > 0.02*s.step {
		first = u < v
	}
	if first {
		return append(out, mesh.Triangle{a, b, c}, mesh.Triangle{a, c, d})
	}
	return append(out, mesh.Triangle{b, c, d}, mesh.Triangle{b, d, a})
}
