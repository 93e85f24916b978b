package stack

import (
	"context"
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// A Section is what a plane cuts out of the piece, seen from above: outlines counter-clockwise, holes clockwise.
type Section struct {
	Z      float64
	Region geom.Region
	// Open counts the places where an outline breaks off because the mesh is open there. Breaks no wider than 2 mm are
	// bridged; outlines that cannot be closed so are left out of Region.
	Open int
}

// A Slicer cuts one mesh at any heights. It is safe for concurrent use.
type Slicer struct {
	mesh      *mesh.Mesh
	twins     mesh.Adjacency
	tolerance float64
}

// NewSlicer keeps a mesh in the frame of its stand and the adjacency of its triangles, which turning does not change. It
// panics when the adjacency is not that of a mesh with as many triangles.
func NewSlicer(m *mesh.Mesh, adj mesh.Adjacency) *Slicer {
	if len(adj) != 3*len(m.Triangles) {
		panic("stack: the adjacency belongs to another mesh")
	}
	return &Slicer{m, adj, flatRange(m.Box())}
}

// Sections cuts at the given heights, in any order, and returns the sections in that order. A vertex at a plane counts as
// above it, so that the section is the one just below: the upper end of the piece gives its top face, the lower end nothing.
// Rings come in the order of their first triangles.
func (s *Slicer) Sections(ctx context.Context, planes []float64) ([]Section, error) {
	return s.cut(ctx, planes, 0)
}

// SectionsBelow cuts just below the given heights: faces within a millionth of the piece's extent of a plane lie on it.
func (s *Slicer) SectionsBelow(ctx context.Context, planes []float64) ([]Section, error) {
	return s.cut(ctx, planes, -s.tolerance)
}

// SectionsAbove cuts just above the given heights: faces within a millionth of the piece's extent of a plane lie on it.
func (s *Slicer) SectionsAbove(ctx context.Context, planes []float64) ([]Section, error) {
	return s.cut(ctx, planes, s.tolerance)
}

func (s *Slicer) cut(ctx context.Context, planes []float64, shift float64) ([]Section, error) {
	order := make([]int, len(planes))
	for i, z := range planes {
		if math.IsNaN(z) || math.IsInf(z, 0) {
			return nil, fmt.Errorf("stack: plane %d is at no height", i+1)
		}
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return compare(planes[i], planes[j]) })
	heights := make([]float64, len(planes))
	for k, i := range order {
		heights[k] = planes[i] + shift
	}
	out := make([]Section, len(planes))
	err := s.sweep(ctx, heights, func(k int, w *walker) {
		i := order[k]
		out[i] = Section{planes[i], w.region(s.tolerance), w.breaks()}
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// sweep walks the outlines at rising heights and hands each plane's to use, several planes at once.
func (s *Slicer) sweep(ctx context.Context, heights []float64, use func(k int, w *walker)) error {
	classes, err := classify(ctx, s.mesh.Points, heights)
	if err != nil {
		return err
	}
	b, err := s.bucket(ctx, classes, len(heights))
	if err != nil {
		return err
	}
	walkers := make([]*walker, par.Count())
	return par.Workers(ctx, len(heights), 1, func(worker, k, _ int) {
		w := walkers[worker]
		if w == nil {
			w = &walker{slicer: s, classes: classes, stamps: make([]int32, len(s.mesh.Triangles))}
			walkers[worker] = w
		}
		w.walk(int32(k), heights[k], b.of(k))
		use(k, w)
	})
}

// classify gives for each point the number of heights at or below it, so that plane k is above the point where k >= class.
func classify(ctx context.Context, points []mesh.Point, heights []float64) ([]int32, error) {
	classes := make([]int32, len(points))
	if len(heights) == 0 {
		return classes, nil
	}
	low, top := heights[0], heights[len(heights)-1]
	scale := 0.0
	if top > low {
		scale = float64(4*len(heights)) / (top - low)
	}
	cell := func(z float64) int { return int((z - low) * scale) }
	first := make([]int32, 4*len(heights)+2) // per cell the number of heights in lower cells
	for _, h := range heights {
		first[cell(h)+1]++
	}
	for i := 1; i < len(first); i++ {
		first[i] += first[i-1]
	}
	err := par.Spans(ctx, len(points), pointSpan, func(from, to int) {
		for i, p := range points[from:to] {
			z := float64(p[2])
			k := int32(0)
			switch {
			case z >= top:
				k = int32(len(heights))
			case z >= low:
				k = first[cell(z)]
				for heights[k] <= z {
					k++
				}
			}
			classes[from+i] = k
		}
	})
	return classes, err
}

// A bucket lists the triangles that each plane cuts, in rising order.
type bucket struct {
	start     []int32
	triangles []int32
}

func (b *bucket) of(k int) []int32 { return b.triangles[b.start[k]:b.start[k+1]] }

// bucket is a counting sort in two passes. Each share of the triangles has its own counts, so that both run in parallel and
// the lists still come out in order.
func (s *Slicer) bucket(ctx context.Context, classes []int32, planes int) (*bucket, error) {
	n := len(s.mesh.Triangles)
	size := share(n)
	spans := (n + size - 1) / size
	counts := make([]int32, spans*(planes+1))
	err := par.Spans(ctx, n, size, func(from, to int) {
		count := counts[from/size*(planes+1):]
		for _, t := range s.mesh.Triangles[from:to] {
			a, b, c := classes[t[0]], classes[t[1]], classes[t[2]]
			for k, high := min(a, b, c), max(a, b, c); k < high; k++ {
				count[k]++
			}
		}
	})
	if err != nil {
		return nil, err
	}
	out := &bucket{start: make([]int32, planes+1)}
	total := int64(0)
	for k := range planes + 1 {
		out.start[k] = int32(total)
		for j := range spans {
			c := &counts[j*(planes+1)+k]
			*c, total = int32(total), total+int64(*c)
		}
		if total > math.MaxInt32 {
			return nil, fmt.Errorf("stack: %d planes cut too many triangles", planes)
		}
	}
	out.triangles = make([]int32, total)
	err = par.Spans(ctx, n, size, func(from, to int) {
		next := counts[from/size*(planes+1):]
		for i, t := range s.mesh.Triangles[from:to] {
			a, b, c := classes[t[0]], classes[t[1]], classes[t[2]]
			for k, high := min(a, b, c), max(a, b, c); k < high; k++ {
				out.triangles[next[k]] = int32(from + i)
				next[k]++
			}
		}
	})
	return out, err
}
