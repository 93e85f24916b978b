package mesh

import (
	"context"
	"math"
	"math/bits"
	"slices"

	"grainstack/slicing/par"
)

// A facet is a triangle as files hold it: three corners, nothing shared.
type facet [3]Point

// patch is how many facets are welded among themselves before patches are joined: its points fit the processor's cache.
const patch = 1 << 14

// weld makes equal corners one point, drops the facets that then have two equal corners and says how many those were.
// Points are equal when their coordinates are; -0 is 0. Facets come in the given order, points by first use.
func weld(facets []facet, order []uint64) (m *Mesh, dropped int) {
	triangles := make([]Triangle, len(facets))
	patches := make([]seam, (len(facets)+patch-1)/patch)
	scratch := make([]welder, par.Count())
	work := func(worker, from, to int) {
		patches[from/patch] = scratch[worker].patch(facets, order[from:to], triangles[from:to])
	}
	_ = par.Workers(context.Background(), len(facets), patch, work) // without a deadline it has no error
	m = &Mesh{Points: join(patches), Triangles: triangles}
	run(len(patches), 1, func(i, _ int) {
		global := patches[i].global
		part := triangles[i*patch:][:patches[i].kept]
		for j, t := range part {
			part[j] = Triangle{global[t[0]], global[t[1]], global[t[2]]}
		}
	})
	kept := 0
	for i, p := range patches {
		if from := i * patch; kept != from {
			copy(triangles[kept:], triangles[from:from+p.kept])
		}
		kept += p.kept
	}
	m.Triangles = triangles[:kept:kept]
	return m, len(facets) - kept
}

// A seam is a patch's own points and where they went in the whole mesh.
type seam struct {
	points []Point
	global []int32
	kept   int // triangles left
}

// A welder is one worker's scratch memory.
type welder struct {
	table  pointTable
	facets []facet
}

// patch welds the facets named by order among themselves; the triangles kept go to the front of out, in the patch's own
// numbers.
func (w *welder) patch(facets []facet, order []uint64, out []Triangle) seam {
	if w.facets == nil {
		w.facets = make([]facet, min(patch, len(facets)))
	}
	near := w.facets[:len(order)]
	for i, o := range order { // fetched first: they lie all over the file, and the waits for them overlap
		near[i] = facets[uint32(o)]
	}
	w.table.reset(3 * len(order))
	kept := 0
	for i := range near {
		f := &near[i]
		if f[0] == f[1] || f[1] == f[2] || f[2] == f[0] {
			continue
		}
		out[kept] = Triangle{w.table.number(f[0]), w.table.number(f[1]), w.table.number(f[2])}
		kept++
	}
	return seam{points: slices.Clone(w.table.points), kept: kept}
}

// join numbers the patches' points as one mesh, patch after patch.
func join(patches []seam) []Point {
	most := 0
	for _, p := range patches {
		most += len(p.points)
	}
	var table pointTable
	table.reset(most)
	numbers := make([]int32, most)
	for i := range patches {
		p := &patches[i]
		p.global, numbers = numbers[:len(p.points)], numbers[len(p.points):]
		for j, q := range p.points {
			p.global[j] = table.number(q)
		}
	}
	return table.points
}

// A pointTable numbers points by their coordinates in order of arrival: open addressing, linear probing, at most three
// quarters full.
type pointTable struct {
	points []Point
	slots  []int32 // number + 1, 0 for a free slot
	shift  int
}

// reset empties the table and makes room for n points.
func (t *pointTable) reset(n int) {
	b := max(4, bits.Len(uint(n+n/3)))
	if len(t.slots) != 1<<b {
		t.slots = make([]int32, 1<<b)
		t.points = make([]Point, 0, n)
		t.shift = 64 - b
		return
	}
	clear(t.slots)
	t.points = t.points[:0]
}

// number is p's number; a new point gets the next one.
func (t *pointTable) number(p Point) int32 {
	mask := uint64(len(t.slots) - 1)
	for i := hash(p) >> t.shift; ; i++ {
		s := t.slots[i&mask]
		if s == 0 {
			t.points = append(t.points, p)
			t.slots[i&mask] = int32(len(t.points))
			return int32(len(t.points) - 1)
		}
		if t.points[s-1] == p {
			return s - 1
		}
	}
}

// hash mixes the coordinates' bits by multiplication with large odd numbers; the high bits are the good ones. Readers
// have made every -0 a 0, so that equal points have equal bits.
func hash(p Point) uint64 {
	x, y, z := math.Float32bits(p[0]), math.Float32bits(p[1]), math.Float32bits(p[2])
	h := (uint64(x)<<32 | uint64(y)) * 0x9e3779b97f4a7c15
	h ^= h >> 29
	return (h ^ uint64(z)*0xd6e8feb86659fd93) * 0x94d049bb133111eb
}
