package field

import (
	"context"
	"errors"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"
	"grainstack/slicing/sets"
)

// A Hollow is what the cores of one layer come to. Volumes are counted in whole cells of the grid: take them as shares of
// Table.CoreVolume where a weight is wanted.
type Hollow struct {
	Open, Closed float64 // mm³ of the bodies a cutter can reach, and of those that close off inside the layer
	Bodies       int     // connected core bodies, small ones included
	ClosedBodies int
	Small        int     // open bodies of less than the least volume; they are not in Open
	SmallVolume  float64 // mm³
}

// maxSlabs bounds a stack so that a slab's number fits the runs.
const maxSlabs = math.MaxInt16

// Pockets finds for each slab the connected bodies of core within its heights. Bodies are joined through faces of the
// grid's cells. A body that reaches neither the lower nor the upper face of its slab closes off inside: no cutter gets in
// and the wood stays. To reach a face means to have a neighbour of core beyond it, so a body that ends within a step of a
// face may be taken either way. Open bodies of less than least mm³ are counted apart. Slabs go from the bottom up and do
// not overlap.
func (g *Grid) Pockets(ctx context.Context, pl geom.Placement, slabs []Slab, wall, least float64) ([]Hollow, error) {
	if !(pl.Scale > 0) {
		return nil, errors.New("field: a stand needs a scale above zero")
	}
	if len(slabs) > maxSlabs {
		return nil, errors.New("field: too many layers")
	}
	for i, s := range slabs {
		if !(s.Bottom <= s.Top) || i > 0 && s.Bottom < slabs[i-1].Top-1e-9 {
			return nil, errors.New("field: layers must go from the bottom up and not overlap")
		}
	}
	runs, rows, err := g.runs(ctx, pl, slabs, max(wall, 0)/pl.Scale)
	if err != nil {
		return nil, err
	}
	bodies, err := g.join(ctx, runs, rows)
	if err != nil {
		return nil, err
	}
	cell := math.Pow(g.step*pl.Scale, 3)
	return gather(runs, bodies, len(slabs), cell, least), nil
}

// A run is a row's unbroken stretch of core nodes in one slab. level is 2·slab+1 within a slab and even between slabs, so
// that levels grow with height.
type run struct {
	from, to int32
	level    int32
	open     bool
}

// runs cuts every row into runs; rows holds where each row begins, and one past the last.
func (g *Grid) runs(ctx context.Context, pl geom.Placement, slabs []Slab, wall float64) ([]run, []int32, error) {
	var edges []float64
	for _, s := range slabs {
		edges = append(edges, s.Bottom, s.Top)
	}
	_, _, rz := g.rises(pl)
	planes := make([][]run, g.nz)
	rows := make([]int32, g.ny*g.nz+1)
	err := par.Spans(ctx, g.nz, 1, func(k, _ int) {
		var out []run
		for j := range g.ny {
			before := len(out)
			out = addRuns(out, g.depth[(k*g.ny+j)*g.nx:][:g.nx], float32(wall), rz.of(j, k), rz.dx, edges)
			rows[k*g.ny+j+1] = int32(len(out) - before)
		}
		planes[k] = out
	})
	if err != nil {
		return nil, nil, err
	}
	for i := range g.ny * g.nz {
		rows[i+1] += rows[i]
	}
	all := slices.Concat(planes...)
	return all, rows, nil
}

// addRuns appends the runs of one row that begins at height z and rises dz a node.
func addRuns(out []run, row []float32, wall float32, z, dz float64, edges []float64) []run {
	for i := 0; i < len(row); {
		if row[i] <= wall {
			i++
			continue
		}
		at := z + float64(i)*dz
		level := levelOf(at, edges)
		lo, hi := span(level, edges)
		from := i
		for i++; i < len(row) && row[i] > wall; i++ {
			if h := z + float64(i)*dz; h < lo || h >= hi {
				break
			}
		}
		out = append(out, run{from: int32(from), to: int32(i), level: int32(level)})
	}
	return out
}

// levelOf is how many edges lie at or below z: odd within a slab.
func levelOf(z float64, edges []float64) int {
	n, _ := slices.BinarySearchFunc(edges, z, func(e, z float64) int {
		if e <= z {
			return -1
		}
		return 1
	})
	return n
}

// span is the range of heights of a level.
func span(level int, edges []float64) (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	if level > 0 {
		lo = edges[level-1]
	}
	if level < len(edges) {
		hi = edges[level]
	}
	return lo, hi
}

// join gives the bodies of runs that touch within a slab, and marks as open those that touch core of another level.
func (g *Grid) join(ctx context.Context, runs []run, rows []int32) (sets.Sets, error) {
	bodies := sets.New(len(runs))
	for k := range g.nz {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		for j := range g.ny {
			r := k*g.ny + j
			for i := rows[r] + 1; i < rows[r+1]; i++ {
				if runs[i-1].to == runs[i].from {
					runs[i-1].open, runs[i].open = true, true
				}
			}
			if j > 0 {
				touching(runs, bodies, rows[r-1], rows[r], rows[r], rows[r+1])
			}
			if k > 0 {
				touching(runs, bodies, rows[r-g.ny], rows[r-g.ny+1], rows[r], rows[r+1])
			}
		}
	}
	return bodies, nil
}

// touching joins the runs of two rows side by side.
func touching(runs []run, bodies sets.Sets, a, aEnd, b, bEnd int32) {
	for a < aEnd && b < bEnd {
		p, q := &runs[a], &runs[b]
		if p.from < q.to && q.from < p.to {
			if p.level == q.level {
				bodies.Join(a, b)
			} else {
				p.open, q.open = true, true
			}
		}
		if p.to < q.to {
			a++
		} else {
			b++
		}
	}
}

// gather adds the runs up to bodies and the bodies to layers.
func gather(runs []run, of sets.Sets, slabs int, cell, least float64) []Hollow {
	type body struct {
		nodes int
		open  bool
	}
	bodies := make([]body, len(runs))
	for i := range runs {
		b := &bodies[of.Find(int32(i))]
		b.nodes += int(runs[i].to - runs[i].from)
		b.open = b.open || runs[i].open
	}
	out := make([]Hollow, slabs)
	for i, b := range bodies {
		if b.nodes == 0 || runs[i].level%2 == 0 {
			continue
		}
		h, v := &out[runs[i].level/2], float64(b.nodes)*cell
		h.Bodies++
		switch {
		case !b.open:
			h.ClosedBodies++
			h.Closed += v
		case v < least:
			h.Small++
			h.SmallVolume += v
		default:
			h.Open += v
		}
	}
	return out
}
