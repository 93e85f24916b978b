package job

import (
	"context"
	"math"

	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
	"grainstack/slicing/stack"
)

// A flank is how far the piece reaches at one height, across and front to back, mm. Where there is no wood min is more than
// max.
type flank struct{ minX, maxX, minY, maxY float32 }

// flankRows is how many heights the reach is kept at.
const flankRows = 512

// flanks are the extents of the piece in equal steps of height; row 0 begins at the floor.
func flanks(ctx context.Context, p *stack.Placed) ([]flank, error) {
	rows := noFlanks()
	perMM := float32(flankRows / p.Box.Size().Z)
	if !(p.Box.Size().Z > 0) {
		return rows, ctx.Err()
	}
	for _, q := range p.Mesh.Points {
		rows[flankAt(q, perMM)].widen(q[0], q[1])
	}
	parts := make([][]flank, par.Count())
	err := par.Workers(ctx, len(p.Mesh.Triangles), silhouetteSpan, func(worker, from, to int) {
		if parts[worker] == nil {
			parts[worker] = noFlanks()
		}
		part := parts[worker]
		for _, t := range p.Mesh.Triangles[from:to] {
			a, b, c := p.Mesh.Points[t[0]], p.Mesh.Points[t[1]], p.Mesh.Points[t[2]]
			i, k, l := flankAt(a, perMM), flankAt(b, perMM), flankAt(c, perMM)
			sweep(part, perMM, a, b, i, k)
			sweep(part, perMM, b, c, k, l)
			sweep(part, perMM, c, a, l, i)
		}
	})
	for _, part := range parts {
		for i, f := range part {
			if f.minX > f.maxX {
				continue
			}
			rows[i].widen(f.minX, f.minY)
			rows[i].widen(f.maxX, f.maxY)
		}
	}
	return rows, err
}

func noFlanks() []flank {
	const far = math.MaxFloat32
	rows := make([]flank, flankRows)
	for i := range rows {
		rows[i] = flank{far, -far, far, -far}
	}
	return rows
}

func flankAt(p mesh.Point, perMM float32) int { return max(0, min(flankRows-1, int(p[2]*perMM))) }

// sweep widens rows by where an edge from row i to row k passes from one to the next.
func sweep(rows []flank, perMM float32, a, b mesh.Point, i, k int) {
	if i > k {
		a, b, i, k = b, a, k, i
	}
	for ; i < k; i++ {
		f := (float32(i+1)/perMM - a[2]) / (b[2] - a[2])
		f = max(0, min(1, f))
		x, y := a[0]+f*(b[0]-a[0]), a[1]+f*(b[1]-a[1])
		rows[i].widen(x, y)
		rows[i+1].widen(x, y)
	}
}

func (f *flank) widen(x, y float32) {
	if x < f.minX {
		f.minX = x
	}
	if x > f.maxX {
		f.maxX = x
	}
	if y < f.minY {
		f.minY = y
	}
	if y > f.maxY {
		f.maxY = y
	}
}

// reach is the extent of the rows between two heights, both directions at once; ok is false where there is no wood.
func reach(rows []flank, height, bottom, top float64) (all flank, ok bool) {
	all = flank{minX: math.MaxFloat32, maxX: -math.MaxFloat32, minY: math.MaxFloat32, maxY: -math.MaxFloat32}
	step := height / float64(len(rows))
	for i, r := range rows {
		if r.minX <= r.maxX && float64(i+1)*step > bottom && float64(i)*step < top {
			all.widen(r.minX, r.minY)
			all.widen(r.maxX, r.maxY)
		}
	}
	return all, all.minX <= all.maxX
}
