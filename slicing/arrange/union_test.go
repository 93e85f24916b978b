package arrange

import (
	"math"
	"math/rand"
	"testing"

	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// heap is a random heap of two to five solids, about 100 across, most of which overlap: by number spheres, boxes in any position,
// tori, boxes that share planes, the same solid twice, and all of these together.
func heap(seed int64) []*mesh.Mesh {
	rnd := rand.New(rand.NewSource(seed))
	kind := int(seed % 6)
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rnd.Float64() }
	moved := func(m *mesh.Mesh) *mesh.Mesh {
		return solidtest.Moved(m, geom.Vec{X: between(-35, 35), Y: between(-35, 35), Z: between(-35, 35)})
	}
	turn := func() geom.Turn { return geom.TurnXYZ(between(0, 360), between(0, 360), between(0, 360)) }
	solid := func(kind int) *mesh.Mesh {
		switch kind {
		case 0:
			return moved(solidtest.Sphere(between(20, 50), 200+rnd.Intn(3000)))
		case 1:
			return moved(solidtest.Turned(solidtest.Box(between(30, 80), between(30, 80), between(30, 80)), turn()))
		case 2:
			return moved(solidtest.Turned(solidtest.Torus(between(25, 40), between(5, 15), 20+rnd.Intn(60), 8+rnd.Intn(20)), turn()))
		}
		step := func() float64 { return 10 * float64(rnd.Intn(6)) }
		return solidtest.Moved(solidtest.Box(10+step(), 10+step(), 10+step()), geom.Vec{X: step(), Y: step(), Z: step()})
	}
	n := 2 + rnd.Intn(4)
	var out []*mesh.Mesh
	for i := range n {
		switch {
		case kind == 4 && i > 0:
			out = append(out, out[rnd.Intn(len(out))])
		case kind < 4:
			out = append(out, solid(kind))
		default:
			out = append(out, solid(rnd.Intn(4)))
		}
	}
	return out
}

func crossingsIn(t testing.TB, m *mesh.Mesh) int {
	t.Helper()
	tree, err := boxtree.New(t.Context(), m)
	if err != nil {
		t.Fatal(err)
	}
	pairs, err := Crossings(t.Context(), tree, false)
	if err != nil {
		t.Fatal(err)
	}
	return len(pairs)
}

// heapVolumes are the volumes of the unions of the heaps' solids by the npm package manifold-3d, 3.5.4 (Manifold.union of one
// Manifold a solid, then volume).
func heapVolumes() [100]float64 {
	return [100]float64{
		661535.78, 456045.35, 163971.06, 22000.000, 115958.27, 664822.27, 761106.98, 529371.71, 151078.05, 168000.00,
		454234.85, 193643.35, 224047.39, 319275.09, 98256.042, 85000.000, 72000.000, 514843.28, 880723.06, 678107.78,
		184981.68, 58000.000, 150000.00, 459390.27, 518835.47, 699156.85, 253495.56, 76000.000, 121224.77, 765722.45,
		724128.52, 321950.04, 268312.94, 84000.000, 311699.85, 635985.67, 329612.61, 743787.77, 70095.710, 55000.000,
		110163.86, 160000.00, 400125.73, 833619.61, 182688.06, 125000.00, 72000.000, 66144.256, 680696.81, 455396.04,
		139804.75, 130000.00, 2000.0000, 228200.00, 917495.23, 336390.88, 381371.80, 32000.000, 157472.18, 708975.11,
		530896.72, 701260.62, 316381.91, 149000.00, 62176.944, 522847.25, 577968.64, 214644.13, 208818.32, 39000.000,
		260735.06, 389399.90, 673018.86, 331935.25, 206794.05, 74000.000, 75000.000, 116145.75, 312690.90, 798825.34,
		110339.30, 30000.000, 192854.48, 374023.34, 594406.88, 399707.40, 246140.99, 124000.00, 255838.90, 89027.973,
		813083.29, 438083.05, 148435.97, 257000.00, 36000.000, 432487.55, 362113.26, 655694.64, 120154.66, 118000.00,
	}
}

// TestHeaps: of each heap comes a surface that is closed, agrees which side is out, runs nowhere through itself and holds what
// another library says that the solids hold together.
func TestHeaps(t *testing.T) {
	for seed, want := range heapVolumes() {
		m := solidtest.Join(heap(int64(seed))...)
		r := resolved(t, m)
		f := mesh.Inspect(r.Mesh, r.Mesh.Adjacency())
		if f.OpenEdges > 0 || f.FlippedEdges > 0 || f.InwardShells > 0 {
			t.Errorf("%d: open %d, flipped %d, inward %d", seed, f.OpenEdges, f.FlippedEdges, f.InwardShells)
		}
		if n := crossingsIn(t, r.Mesh); n > 0 {
			t.Errorf("%d: %d facets cross", seed, n)
		}
		if off := f.Volume/want - 1; math.Abs(off) > 1e-6 {
			t.Errorf("%d: volume %.8g, want %.8g: off by %.2g", seed, f.Volume, want, off)
		}
	}
}

// TestFarFacetsStay: facets that lie farther from every ball than the longest edge come back to the bit, in their order.
func TestFarFacetsStay(t *testing.T) {
	const balls = 5
	m := warty(60_000, balls)
	body := len(solidtest.Bumpy(100, 60_000).Triangles)
	var middles []geom.Vec
	for i := range balls {
		b := geom.EmptyBox()
		size := (len(m.Triangles) - body) / balls
		for f := body + i*size; f < body+(i+1)*size; f++ {
			x, y, z := m.Corners(f)
			b = b.Add(x).Add(y).Add(z)
		}
		middles = append(middles, b.Center())
	}
	longest := 0.0
	for i := range body {
		a, b, c := m.Corners(i)
		longest = max(longest, a.Sub(b).Len(), b.Sub(c).Len(), c.Sub(a).Len())
	}
	r := resolved(t, m)
	far, at := 0, 0
	for i := range body {
		a, b, c := m.Corners(i)
		near := false
		for _, o := range middles {
			near = near || a.Sub(o).Len() < 1.5+2*longest
		}
		if near {
			continue
		}
		far++
		for ; at < len(r.Mesh.Triangles); at++ {
			if x, y, z := r.Mesh.Corners(at); x == a && y == b && z == c {
				break
			}
		}
	}
	if at == len(r.Mesh.Triangles) || far < body/2 {
		t.Errorf("of %d facets %d are far from all balls; not all of them came back", body, far)
	}
	if r.Touched > body/20 || r.Lines != balls {
		t.Errorf("%d facets were touched along %d lines, want %d lines", r.Touched, r.Lines, balls)
	}
}
