package export

import (
	"context"
	"math"

	"grainstack/slicing/decimate"
	"grainstack/slicing/field"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// tetra is scratch for meshing a layer's hollow by marching tetrahedra over the nodes of a block. The cube above a node is cut
// into field.CubePaths, so that faces fit; an edge goes from its lower node in one of seven ways, which are the sums of
// x = 1, y = 2, z = 4.
type tetra struct {
	field.Block
	ways [8]int  // from a node to the one in each way, in nodes
	made []int32 // per node and way one more than the number of the point on that edge, 0 for none
	set  []int32 // entries of made that are set
}

// carved adds the hollow's skin to the layer.
func (b *bench) carved(ctx context.Context) error {
	h, t := b.hollow, &b.tetra
	if !t.Cut(h, b.z[lower], b.z[upper]) {
		return nil
	}
	points, triangles := len(b.out.Points), len(b.out.Triangles)
	for w := range t.ways {
		t.ways[w] = w&1 + w>>1&1*h.NX + w>>2*h.NX*h.NY
	}
	for _, e := range t.set {
		t.made[e] = 0
	}
	t.set = t.set[:0]
	if n := 8 * len(t.V); len(t.made) < n {
		t.made = make([]int32, n)
	}
	for k := range len(t.Z) - 1 {
		for j := range h.NY - 1 {
			b.cubes(j, k)
		}
	}
	return b.thin(ctx, points, triangles)
}

// skinOff is how far the hollow's skin may lie from what the lattice gives, as a share of the lattice's step: little beside what
// the lattice itself is off, and yet most of its facets aren't needed for it.
const skinOff = 1.0 / 200

// thin takes facets out of what was added to the layer from a point and a triangle on. Where that is open, on the layer's planes,
// it keeps its points, and those beside them: else sides that run from rim to rim could be those of the flat faces too.
func (b *bench) thin(ctx context.Context, points, triangles int) error {
	if len(b.out.Triangles) == triangles {
		return nil
	}
	first := int32(points)
	skin := &mesh.Mesh{Points: b.out.Points[points:], Triangles: b.out.Triangles[triangles:]}
	shift := func(ts []mesh.Triangle, by int32) {
		for i, t := range ts {
			ts[i] = mesh.Triangle{t[0] + by, t[1] + by, t[2] + by}
		}
	}
	shift(skin.Triangles, -first)
	adj := skin.Adjacency()
	onRim, beside := make([]bool, len(skin.Points)), make([]bool, len(skin.Points))
	for h, twin := range adj {
		if t := skin.Triangles[h/3]; twin < 0 {
			onRim[t[h%3]], onRim[t[(h+1)%3]] = true, true
		}
	}
	for _, t := range skin.Triangles {
		if onRim[t[0]] || onRim[t[1]] || onRim[t[2]] {
			beside[t[0]], beside[t[1]], beside[t[2]] = true, true, true
		}
	}
	thinned, number, err := decimate.Keeping(ctx, skin, adj, skinOff*b.hollow.Step, func(p int) bool { return beside[p] })
	if err != nil {
		return err
	}
	shift(thinned.Triangles, first)
	b.out.Points = append(b.out.Points[:points], thinned.Points...)
	b.out.Triangles = append(b.out.Triangles[:triangles], thinned.Triangles...)
	for _, rim := range b.rims {
		for i := range rim {
			if e := &rim[i]; e.from >= first {
				e.from, e.to = first+number[e.from-first], first+number[e.to-first]
			}
		}
	}
	return nil
}

// cubes meshes one row of cubes.
func (b *bench) cubes(j, k int) {
	h, t := b.hollow, &b.tetra
	row := (k*h.NY + j) * h.NX
	for i := row; i < row+h.NX-1; i++ {
		kind := 0
		for w, d := range t.ways {
			if t.V[i+d] > 0 {
				kind |= 1 << w
			}
		}
		if kind == 0 || kind == 255 {
			continue
		}
		for _, s := range cubeSkins[kind] {
			var p mesh.Triangle
			for e := range p {
				p[e] = b.onEdge(i+t.ways[s[e].from], int(s[e].way))
			}
			b.out.Triangles = append(b.out.Triangles, p)
			for e := range p {
				b.hollowRim(k, s[e], s[(e+1)%3], p[e], p[(e+1)%3])
			}
		}
	}
}

// hollowRim notes a side of the hollow's skin that lies on a plane of the layer.
func (b *bench) hollowRim(k int, from, to latticeEdge, p, q int32) {
	const up = 4
	if k == 0 && (from.from|from.way|to.from|to.way)&up == 0 {
		b.rims[lower] = append(b.rims[lower], rimEdge{p, q, unknown})
	}
	if k == len(b.tetra.Z)-2 && from.from&to.from&up != 0 {
		b.rims[upper] = append(b.rims[upper], rimEdge{p, q, unknown})
	}
}

// nearEnd keeps the skin's points off the lattice's nodes, as a share of an edge, so that no two fall into one.
const nearEnd = 1.0 / 512

// onEdge is the number in out of the point where the skin crosses a lattice edge.
func (b *bench) onEdge(node, way int) int32 {
	t, h := &b.tetra, b.hollow
	e := node*8 + way
	if n := t.made[e]; n > 0 {
		return n - 1
	}
	other := node + t.ways[way]
	from, to := float64(t.V[node]), float64(t.V[other])
	a := t.place(h, node)
	at := min(max(from/(from-to), nearEnd), 1-nearEnd)
	p := a.Add(t.place(h, other).Sub(a).Scale(at))
	n := int32(len(b.out.Points))
	b.out.Points = append(b.out.Points, mesh.PointOf(p))
	t.made[e] = n + 1
	t.set = append(t.set, int32(e))
	return n
}

func (t *tetra) place(h *field.Lattice, node int) geom.Vec {
	i, j, k := node%h.NX, node/h.NX%h.NY, node/(h.NX*h.NY)
	return geom.Vec{X: h.X0 + float64(i)*h.Step, Y: h.Y0 + float64(j)*h.Step, Z: t.Z[k]}
}

// A latticeEdge is an edge of a cube: its lower corner and its way.
type latticeEdge struct{ from, way uint8 }

// cubeSkins are the triangles between hollow and wood for each choice of hollow corners of a cube, turned to the hollow.
var cubeSkins = makeCubeSkins()

func makeCubeSkins() (out [256][][3]latticeEdge) {
	for kind := range out {
		for _, path := range field.CubePaths {
			out[kind] = append(out[kind], tetraSkin([4]uint8{0, path[0], path[1], 7}, kind)...)
		}
	}
	return out
}

// tetraSkin are the triangles within one tetrahedron, none, one or two.
func tetraSkin(corners [4]uint8, kind int) [][3]latticeEdge {
	var in, outside []uint8
	for _, c := range corners {
		if kind>>c&1 == 1 {
			in = append(in, c)
		} else {
			outside = append(outside, c)
		}
	}
	var ring []latticeEdge
	switch len(in) {
	case 1:
		for _, o := range outside {
			ring = append(ring, edgeOf(in[0], o))
		}
	case 2:
		ring = []latticeEdge{edgeOf(in[0], outside[0]), edgeOf(in[0], outside[1]), edgeOf(in[1], outside[1]), edgeOf(in[1], outside[0])}
	case 3:
		for _, i := range in {
			ring = append(ring, edgeOf(i, outside[0]))
		}
	}
	var out [][3]latticeEdge
	for n := 2; n < len(ring); n++ {
		t := [3]latticeEdge{ring[0], ring[n-1], ring[n]}
		a, b, c := t[0].middle(), t[1].middle(), t[2].middle()
		if b.Sub(a).Cross(c.Sub(a)).Dot(cubeCorner(in[0]).Sub(a)) < 0 {
			t[1], t[2] = t[2], t[1]
		}
		out = append(out, t)
	}
	return out
}

func edgeOf(a, b uint8) latticeEdge { return latticeEdge{a & b, a ^ b} }

func cubeCorner(c uint8) geom.Vec {
	return geom.Vec{X: float64(c & 1), Y: float64(c >> 1 & 1), Z: float64(c >> 2)}
}

func (e latticeEdge) middle() geom.Vec {
	a := cubeCorner(e.from)
	return a.Add(cubeCorner(e.way).Scale(math.Ldexp(1, -1)))
}
