package mend

import (
	"context"

	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

// span is how many facets one piece of parallel work takes.
const span = 1 << 14

// moments are integrals over facets about a middle: of the normal n, of x·n and of x·x·n.
type moments struct {
	middle geom.Vec
	area   float64
	radius float64
	n      [3]float64
	xn     [3][3]float64 // [place][normal]
	xxn    [6][3]float64 // places xx yy zz xy yz zx
}

// pairs are the places that the six entries of xxn stand for.
var pairs = [6][2]int{{0, 0}, {1, 1}, {2, 2}, {0, 1}, {1, 2}, {2, 0}}

// expand fills in the expansions from the leaves up: subtrees side by side, then the nodes above them.
func (t *windingTree) expand(ctx context.Context) error {
	var roots []int32
	for i := int32(0); int(i) < len(t.Nodes); {
		if n := &t.Nodes[i]; n.Stop-n.First <= span || n.Leaf {
			roots = append(roots, i)
			i = n.Skip
			continue
		}
		i++
	}
	done := make([]moments, len(roots))
	err := par.Spans(ctx, len(roots), 1, func(i, _ int) { done[i] = t.below(roots[i], nil) })
	if err != nil || len(t.Nodes) == 0 {
		return err
	}
	t.below(0, func(i int32) (moments, bool) {
		if len(roots) > 0 && roots[0] == i {
			m := done[0]
			roots, done = roots[1:], done[1:]
			return m, true
		}
		return moments{}, false
	})
	return nil
}

// below are the moments of node i about its middle, with those of all nodes below filled in; known gives those that are
// there already.
func (t *windingTree) below(i int32, known func(int32) (moments, bool)) moments {
	if known != nil {
		if m, ok := known(i); ok {
			return m
		}
	}
	var m moments
	if n := &t.Nodes[i]; n.Leaf {
		m = t.ofLeaf(n)
	} else {
		a, b := t.below(i+1, known), t.below(t.Nodes[i+1].Skip, known)
		m.area = a.area + b.area
		m.middle = a.middle.Add(b.middle).Scale(0.5)
		if m.area > 0 {
			m.middle = a.middle.Scale(a.area / m.area).Add(b.middle.Scale(b.area / m.area))
		}
		m.middle = rounded(m.middle)
		m.take(&a)
		m.take(&b)
		m.radius = min(m.radius, t.Boxes[i].Reach(m.middle))
	}
	t.far[i] = m.expansion()
	return m
}

// rounded is v as an expansion keeps it.
func rounded(v geom.Vec) geom.Vec {
	return geom.Vec{X: float64(float32(v.X)), Y: float64(float32(v.Y)), Z: float64(float32(v.Z))}
}

// take adds what o holds, moved to m's middle.
func (m *moments) take(o *moments) {
	d := o.middle.Sub(m.middle)
	m.radius = max(m.radius, o.radius+d.Len())
	s := [3]float64{d.X, d.Y, d.Z}
	for k := range 3 {
		m.n[k] += o.n[k]
		for i := range 3 {
			m.xn[i][k] += o.xn[i][k] + s[i]*o.n[k]
		}
		for e, p := range pairs {
			i, j := p[0], p[1]
			m.xxn[e][k] += o.xxn[e][k] + s[i]*o.xn[j][k] + s[j]*o.xn[i][k] + s[i]*s[j]*o.n[k]
		}
	}
}

// ofLeaf integrates over the facets of a leaf; second moments of a triangle are area/12 times the sum of the corners'
// products and nine times the middle's.
func (t *windingTree) ofLeaf(n *boxtree.Node) moments {
	var m moments
	for _, f := range t.Order[n.First:n.Stop] {
		a, b, c := t.Mesh.Corners(int(f))
		w := b.Sub(a).Cross(c.Sub(a)).Len()
		m.area += w
		m.middle = m.middle.Add(a.Add(b).Add(c).Scale(w / 3))
	}
	if m.area > 0 {
		m.middle = m.middle.Scale(1 / m.area)
	} else {
		m.middle, _, _ = t.Mesh.Corners(int(t.Order[n.First]))
	}
	m.middle = rounded(m.middle)
	for _, f := range t.Order[n.First:n.Stop] {
		a, b, c := t.Mesh.Corners(int(f))
		m.addFacet(a.Sub(m.middle), b.Sub(m.middle), c.Sub(m.middle))
	}
	return m
}

func (m *moments) addFacet(a, b, c geom.Vec) {
	m.radius = max(m.radius, a.Len(), b.Len(), c.Len())
	w := b.Sub(a).Cross(c.Sub(a)).Scale(0.5)
	n := [3]float64{w.X, w.Y, w.Z}
	v := [3][3]float64{{a.X, b.X, c.X}, {a.Y, b.Y, c.Y}, {a.Z, b.Z, c.Z}}
	var mid [3]float64
	for i := range 3 {
		mid[i] = (v[i][0] + v[i][1] + v[i][2]) / 3
	}
	for k := range 3 {
		m.n[k] += n[k]
		for i := range 3 {
			m.xn[i][k] += mid[i] * n[k]
		}
	}
	for e, p := range pairs {
		i, j := p[0], p[1]
		s := (v[i][0]*v[j][0] + v[i][1]*v[j][1] + v[i][2]*v[j][2] + 9*mid[i]*mid[j]) / 12
		for k := range 3 {
			m.xxn[e][k] += s * n[k]
		}
	}
}

// expansion turns moments into the forms of the series: with F(r) = r/|r|³ the second term is r²·tr − 3·rᵀMr over r⁵, the
// third half of 15·S(r,r,r) − 3·r²·g·r over r⁷.
func (m *moments) expansion() expansion {
	reach := opening * m.radius
	f := expansion{x: float32(m.middle.X), y: float32(m.middle.Y), z: float32(m.middle.Z), reach2: float32(reach * reach)}
	trace := m.xn[0][0] + m.xn[1][1] + m.xn[2][2]
	var g [3]float64
	at := [3][3]int{{0, 3, 5}, {3, 1, 4}, {5, 4, 2}}
	for j := range 3 {
		f.sum[j] = float32(m.n[j])
		f.second[j] = float32(trace - 3*m.xn[j][j])
		for i := range 3 {
			g[j] += 2*m.xxn[at[j][i]][i] + m.xxn[i][j]
		}
	}
	for e := 3; e < 6; e++ {
		i, j := pairs[e][0], pairs[e][1]
		f.second[e] = float32(-3 * (m.xn[i][j] + m.xn[j][i]))
	}
	cube := func(i int) float32 { return float32(7.5*m.xxn[i][i] - 1.5*g[i]) }
	square := func(i, j int) float32 { // xi·xi·xj
		return float32(7.5*(m.xxn[i][j]+2*m.xxn[at[i][j]][i]) - 1.5*g[j])
	}
	f.third = [10]float32{cube(0), cube(1), cube(2), square(0, 1), square(0, 2), square(1, 0), square(1, 2), square(2, 0), square(2, 1),
		float32(15 * (m.xxn[3][2] + m.xxn[4][0] + m.xxn[5][1]))}
	return f
}
