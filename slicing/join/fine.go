package join

import (
	"cmp"
	"context"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

const (
	// edge is the number of nodes along a block's edge, block that of all its nodes.
	edge, block = 8, edge * edge * edge
	// mostBlocks bounds the memory: 10 kB each while the surface is laid.
	mostBlocks = 80_000
	// unseen is the weight of what the coarse grid says, against about 1 for points that are trusted wholly.
	unseen = 0.03
	// leastReach and mostReach are how far a point tells where the surface is at the least and at the most, in steps.
	leastReach, mostReach = 1.8, 8.0
)

// A place of a block: node i along each axis lies in block i / edge.
type spot [3]int32

// A field is the signed distance from the joined surface on the nodes of a fine grid, in blocks where the surface may be.
type field struct {
	low    geom.Vec
	step   float64
	coarse *grid
	at     []spot         // of the blocks, in order
	number map[spot]int32 // of the block there
	away   [][block]float32
	seen   [][block]float32 // what points say, by weight
	points [][]int32        // of each block the witnesses that reach it
}

// newField finds where the surface may be: near points, and where the coarse grid passes one half.
func newField(ctx context.Context, witnesses []witness, coarse *grid, step float64) (*field, error) {
	f := &field{low: coarse.low, step: step, coarse: coarse, number: map[spot]int32{}}
	for i := range witnesses {
		w := &witnesses[i]
		w.reach = float32(math.Max(leastReach*step, math.Min(mostReach*step, float64(w.reach))))
		f.blocks(w.at.Vec(), float64(w.reach)+2*step, func(s spot) {
			f.number[s] = 0
		})
	}
	for z := range coarse.n[2] - 1 {
		for y := range coarse.n[1] - 1 {
			for x := range coarse.n[0] - 1 {
				if coarse.crossed((z*coarse.n[1]+y)*coarse.n[0] + x) {
					middle := coarse.low.Add(geom.Vec{X: float64(x) + 0.5, Y: float64(y) + 0.5, Z: float64(z) + 0.5}.Scale(coarse.step))
					f.blocks(middle, coarse.step/2+2*step, func(s spot) { f.number[s] = 0 })
				}
			}
		}
	}
	if len(f.number) > mostBlocks {
		return nil, errTooFine
	}
	for s := range f.number {
		f.at = append(f.at, s)
	}
	slices.SortFunc(f.at, func(a, b spot) int {
		return cmp.Or(cmp.Compare(a[2], b[2]), cmp.Compare(a[1], b[1]), cmp.Compare(a[0], b[0]))
	})
	for i, s := range f.at {
		f.number[s] = int32(i)
	}
	f.points = make([][]int32, len(f.at))
	for i := range witnesses {
		w := &witnesses[i]
		f.blocks(w.at.Vec(), float64(w.reach), func(s spot) {
			n := f.number[s]
			f.points[n] = append(f.points[n], int32(i))
		})
	}
	f.away, f.seen = make([][block]float32, len(f.at)), make([][block]float32, len(f.at))
	sums := make([]*[block]sum, par.Count())
	err := par.Workers(ctx, len(f.at), 8, func(worker, from, to int) {
		if sums[worker] == nil {
			sums[worker] = new([block]sum)
		}
		for b := from; b < to; b++ {
			f.fill(b, witnesses, sums[worker])
		}
	})
	f.points = nil
	return f, err
}

// crossed reports whether the function passes one half in the cell above a node.
func (g *grid) crossed(node int) bool {
	sx, sy := g.n[0], g.n[0]*g.n[1]
	in := g.v[node] > 0.5
	for _, at := range [7]int{1, sx, sx + 1, sy, sy + 1, sy + sx, sy + sx + 1} {
		if (g.v[node+at] > 0.5) != in {
			return true
		}
	}
	return false
}

// blocks visits the blocks that have nodes nearer to p than r along every axis.
func (f *field) blocks(p geom.Vec, r float64, visit func(spot)) {
	q := p.Sub(f.low)
	var from, to [3]int32
	for k, x := range [3]float64{q.X, q.Y, q.Z} {
		from[k] = int32(math.Floor(math.Ceil((x-r)/f.step) / edge))
		to[k] = int32(math.Floor(math.Floor((x+r)/f.step) / edge))
	}
	for z := from[2]; z <= to[2]; z++ {
		for y := from[1]; y <= to[1]; y++ {
			for x := from[0]; x <= to[0]; x++ {
				visit(spot{x, y, z})
			}
		}
	}
}

// node is the place of a block's node, numbered along each axis.
func (f *field) node(s spot, x, y, z int) geom.Vec {
	return f.low.Add(geom.Vec{X: float64(int(s[0])*edge + x), Y: float64(int(s[1])*edge + y), Z: float64(int(s[2])*edge + z)}.Scale(f.step))
}

// A sum is what the points round a node say, by their weights: how far it lies from their planes, their normals, and the way from them
// to it.
type sum struct {
	seen, away  float32
	normal, way [3]float32
}

// fill works a block out: the mean of the distances of each node from the surface as the points round it tell, weighted by their worth,
// by how near they are and how near the node is to their plane; what the coarse grid says makes up for what is missing.
func (f *field) fill(b int, witnesses []witness, sums *[block]sum) {
	*sums = [block]sum{}
	low := f.node(f.at[b], 0, 0, 0)
	for _, i := range f.points[b] {
		f.tell(low, &witnesses[i], sums)
	}
	for z := range edge {
		for y := range edge {
			for x := range edge {
				at := (z*edge+y)*edge + x
				d := float32(f.coarse.distance(f.node(f.at[b], x, y, z)))
				s := &sums[at]
				f.seen[b][at] = s.seen
				f.away[b][at] = (s.distance()*float32(f.step) + unseen*d) / (s.seen + unseen)
			}
		}
	}
}

// distance is the sum of distances, in steps. Where the surface bends, the planes of the points round a node lie on one side of it and
// the plane square to their mean normal on the other, as far, and their mean on it: for a ball that is exact.
func (s *sum) distance() float32 {
	n := s.normal
	long := float32(math.Sqrt(float64(n[0]*n[0] + n[1]*n[1] + n[2]*n[2])))
	if !(long > 0.5*s.seen) { // round a crease, or in a thin wall, a mean normal tells nothing
		return s.away
	}
	return (s.away + (n[0]*s.way[0]+n[1]*s.way[1]+n[2]*s.way[2])/long) / 2
}

// tell adds what one witness says to the nodes of a block that begins at low.
func (f *field) tell(low geom.Vec, w *witness, sums *[block]sum) {
	p, r := w.at.Vec().Sub(low).Scale(1/f.step), float64(w.reach)/f.step
	n := w.normal
	worth := w.area * w.trust / (w.reach * w.reach)
	flat := float32(1 / (r * r))
	z0, z1 := bound(p.Z, r)
	y0, y1 := bound(p.Y, r)
	x0, x1 := bound(p.X, r)
	for z := z0; z <= z1; z++ {
		dz := float32(float64(z) - p.Z)
		for y := y0; y <= y1; y++ {
			dy := float32(float64(y) - p.Y)
			left := 1 - (dz*dz+dy*dy)*flat
			if left <= 0 {
				continue
			}
			at := (z*edge + y) * edge
			for x := x0; x <= x1; x++ {
				dx := float32(float64(x) - p.X)
				k := left - dx*dx*flat
				if k <= 0 {
					continue
				}
				d := dx*n[0] + dy*n[1] + dz*n[2]
				k *= k * worth / (1 + d*d)
				s := &sums[at+x]
				s.seen += k
				s.away += k * d
				s.normal[0], s.normal[1], s.normal[2] = s.normal[0]+k*n[0], s.normal[1]+k*n[1], s.normal[2]+k*n[2]
				s.way[0], s.way[1], s.way[2] = s.way[0]+k*dx, s.way[1]+k*dy, s.way[2]+k*dz
			}
		}
	}
}

// bound is the nodes of a block nearer to p than r along an axis.
func bound(p, r float64) (from, to int) {
	return max(0, int(math.Ceil(p-r))), min(edge-1, int(math.Floor(p+r)))
}

// value is the distance at a node anywhere, numbered from the grid's lowest.
func (f *field) value(x, y, z int32) float32 {
	s := spot{x >> 3, y >> 3, z >> 3}
	if b, ok := f.number[s]; ok {
		return f.away[b][((z&7)*edge+y&7)*edge+x&7]
	}
	return float32(f.coarse.distance(f.node(spot{}, int(x), int(y), int(z))))
}
