package carve

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
	"grainstack/slicing/stack"
)

// Gaps are the stretches of air between wood, column by column, of a piece that stands in a certain way. A stretch is out of
// reach from both sides exactly where no joint lies in it; so what any thickness and any first joint would trap is a sum over
// the gaps, and many of them can be compared for the price of one.
type Gaps struct {
	all    []gap
	cell   float64 // mm² that a column stands for
	turn   geom.Turn
	scale  float64
	low    float64 // what the piece was raised by, to stand on the floor
	Height float64 // mm
}

// A gap is one stretch of air; i and j are its column.
type gap struct {
	from, to, x, y float32
	i, j           int32
}

// FindGaps takes the columns of a piece, step mm apart. m is in its own frame; for comparing stands let it be thinned out
// (mesh.Thin). It runs on one goroutine: try several stands side by side.
func FindGaps(ctx context.Context, m *mesh.Mesh, s stack.Stand, step float64) (*Gaps, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	q, err := stand(m, s)
	if err != nil {
		return nil, err
	}
	l, err := newLattice(q.box, step)
	if err != nil {
		return nil, err
	}
	placed := &mesh.Mesh{Points: q.points, Triangles: m.Triangles}
	strips, err := l.bin(par.Only(ctx, 1), placed)
	if err != nil {
		return nil, err
	}
	g := &Gaps{cell: step * step, turn: s.Turn, scale: s.Scale, low: q.low, Height: q.height}
	w := newStrip(l, nil, nil, nil)
	for n := range len(strips.start) - 1 {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		j0, j1 := w.cross(placed, strips.of(n), n)
		for j := j0; j < j1; j++ {
			for i := range l.nx {
				cell := (j-j0)*l.nx + i
				if a, b := w.start[cell], w.start[cell+1]; b-a > 2 {
					g.column(gap{x: float32(l.x(i)), y: float32(l.y(j)), i: int32(i), j: int32(j)}, w.sorted[a:b])
				}
			}
		}
	}
	return g, nil
}

// column notes the gaps of one column.
func (g *Gaps) column(at gap, cs []crossing) {
	top, sum, from := float32(0), int32(0), float32(0)
	any := false
	upwards(cs)
	for _, c := range cs {
		was := sum > 0
		sum += c.enter
		if now := sum > 0; now && !was {
			from = c.z
		} else if was && !now && c.z-from > least {
			if any && from-top > least {
				at.from, at.to = top, from
				g.all = append(g.all, at)
			}
			any, top = true, c.z
		}
	}
}

// Trapped is what a stack would trap, mm³: layers of a thickness, the first joint at firstJoint above the floor.
func (g *Gaps) Trapped(thickness, firstJoint float64) float64 {
	sum := 0.0
	for _, a := range g.all {
		if _, in := jointIn(float64(a.from), float64(a.to), thickness, firstJoint); !in {
			sum += float64(a.to - a.from)
		}
	}
	return sum * g.cell
}

// ByJoint is what stacks of layers of one thickness would trap, mm³, with the first joint at every multiple of step below the
// thickness, and last at the thickness itself: all for about the price of one Trapped.
func (g *Gaps) ByJoint(thickness, step float64) (joints, trapped []float64) {
	for k := 1.0; k*step < thickness; k++ {
		joints = append(joints, k*step)
	}
	joints = append(joints, thickness)
	last := len(joints) - 1
	change := make([]float64, len(joints)+1)  // of what is trapped, from one joint to the next
	free := func(low, high, length float64) { // joints from low to high are in the gap
		from, to := int(max(math.Ceil(low/step), 1))-1, int(math.Floor(high/step)) // of the multiples, behind the last
		if to = min(to, last); from < to {
			change[from] -= length
			change[to] += length
		}
	}
	all := 0.0
	for _, a := range g.all {
		length := float64(a.to - a.from)
		if length >= thickness {
			continue // a joint lies in it wherever the first is
		}
		all += length
		low := math.Mod(float64(a.from), thickness)
		high := low + length
		free(low, high, length)
		free(0, high-thickness, length)
		if low == 0 || high >= thickness {
			change[last] -= length
			change[last+1] += length
		}
	}
	trapped = make([]float64, len(joints))
	for k := range joints {
		all += change[k]
		trapped[k] = max(all*g.cell, 0)
	}
	return joints, trapped
}

// jointIn reports whether a joint lies in a stretch, and the number of the first joint that isn't below it, from 0.
func jointIn(from, to, thickness, firstJoint float64) (joint float64, in bool) {
	k := max(math.Ceil((from-firstJoint)/thickness), 0)
	return k, firstJoint+k*thickness <= to
}
