package job

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
	"grainstack/slicing/plane"
	"grainstack/slicing/stack"
)

const (
	silhouetteRows    = 512  // heights at which the silhouette is taken
	silhouetteColumns = 512  // places across in which gaps are looked for: narrower gaps close
	silhouetteSpan    = 4096 // facets that one goroutine takes at a time
)

// silhouette is the piece seen from the front, along Y: X across and Z up, mm. Outlines run counter-clockwise, what can be
// seen through clockwise. At each of 512 heights it is the union of what the facets cover there: across it is exact to
// a third of a 512th of the width, up and down to a 512th of the height; gaps and bodies smaller than that are left out. A surface
// that is not closed shows only where it is.
func silhouette(p *stack.Placed) geom.Region {
	size := p.Box.Size()
	if !(size.X > 0) || !(size.Z > 0) {
		return nil
	}
	v := view{
		left: float32(p.Box.Min.X), bottom: float32(p.Box.Min.Z),
		across: float32(silhouetteColumns / size.X), up: float32(silhouetteRows / size.Z),
	}
	screens := make([]*screen, par.Count())
	work := func(worker, from, to int) {
		if screens[worker] == nil {
			screens[worker] = newScreen()
		}
		for _, t := range p.Mesh.Triangles[from:to] {
			screens[worker].cover(v.see(p.Mesh.Points[t[0]]), v.see(p.Mesh.Points[t[1]]), v.see(p.Mesh.Points[t[2]]))
		}
	}
	_ = par.Workers(context.Background(), len(p.Mesh.Triangles), silhouetteSpan, work) // without a deadline it has no error
	var all *screen
	for _, s := range screens {
		all = all.join(s)
	}
	if all == nil {
		return nil
	}
	rings := trace(all.spans())
	cell := geom.Vec2{X: size.X / silhouetteColumns, Y: size.Z / silhouetteRows}
	for _, r := range rings {
		for i, q := range r {
			r[i] = geom.Vec2{X: p.Box.Min.X + (q.X+0.5)*cell.X, Y: p.Box.Min.Z + (q.Y+0.5)*cell.Y}
		}
	}
	return rings
}

// A view turns points in mm into columns and rows, whole numbers at the middle of a cell.
type view struct{ left, bottom, across, up float32 }

// A seen point lies across at u, up at v; row is the highest one that it is not below.
type seen struct {
	u, v float32
	row  int
}

func (w view) see(p mesh.Point) seen {
	v := (p[2]-w.bottom)*w.up - 0.5
	return seen{(p[0]-w.left)*w.across - 0.5, v, int(v+1) - 1}
}

// A screen gathers what the facets cover. It does not matter in which order they come.
type screen struct {
	covered [silhouetteRows][silhouetteColumns / 64]uint64 // whether the middle of a cell is covered
	// ends are how far covers reach, at k between the middles of the cells k-1 and k: left where k is the first middle
	// covered, right where k-1 is the last.
	ends [silhouetteRows][silhouetteColumns + 1]struct{ left, right float32 }
}

func newScreen() *screen {
	s := new(screen)
	for i := range s.ends {
		for k := range s.ends[i] {
			s.ends[i][k].left, s.ends[i][k].right = math.MaxFloat32, -math.MaxFloat32
		}
	}
	return s
}

// cover adds a facet at every row that it crosses. An edge's crossing is reckoned from its lower end, so that both its
// facets come to the same place and leave no gap.
func (s *screen) cover(a, b, c seen) {
	if a.row > b.row {
		a, b = b, a
	}
	if b.row > c.row {
		b, c = c, b
	}
	if a.row > b.row {
		a, b = b, a
	}
	if a.row == c.row {
		return
	}
	for row := max(a.row+1, 0); row <= min(c.row, silhouetteRows-1); row++ {
		from, to := a, b
		if row > b.row {
			from, to = b, c
		}
		s.put(row, crossing(a, c, row), crossing(from, to, row))
	}
}

func crossing(low, high seen, row int) float32 {
	return low.u + (high.u-low.u)*((float32(row)-low.v)/(high.v-low.v))
}

// put covers from a to b, in either order: the middles right of the one and not right of the other.
func (s *screen) put(row int, a, b float32) {
	if a > b {
		a, b = b, a
	}
	first, past := int(a+1), int(b+1) // neither a nor b is below -0.5
	if first < 0 || past > silhouetteColumns || first > past {
		return
	}
	ends := &s.ends[row]
	if e := &ends[first]; a < e.left {
		e.left = a
	}
	if e := &ends[past]; b > e.right {
		e.right = b
	}
	if first < past {
		plane.SetBits(s.covered[row][:], first, past)
	}
}

// join is a screen with what the other has gathered, too; either may be none.
func (s *screen) join(o *screen) *screen {
	if s == nil || o == nil {
		if s == nil {
			return o
		}
		return s
	}
	for i := range s.covered {
		for w, bits := range o.covered[i] {
			s.covered[i][w] |= bits
		}
		for k, e := range o.ends[i] {
			s.ends[i][k].left, s.ends[i][k].right = min(s.ends[i][k].left, e.left), max(s.ends[i][k].right, e.right)
		}
	}
	return s
}

// spans are the stretches of each row, from the left.
func (s *screen) spans() [][]plane.Stretch {
	rows := make([][]plane.Stretch, silhouetteRows)
	for i := range rows {
		is := func(k int) bool { return s.covered[i][k/64]>>(k%64)&1 == 1 }
		for k := 0; k < silhouetteColumns; k++ {
			if !is(k) {
				continue
			}
			first := k
			for k+1 < silhouetteColumns && is(k+1) {
				k++
			}
			rows[i] = append(rows[i], plane.Stretch{Left: float64(s.ends[i][first].left), Right: float64(s.ends[i][k+1].right)})
		}
	}
	return rows
}

const (
	// traceTolerance is how far, in cells, a silhouette's line may pass from where it was measured.
	traceTolerance = 0.3
	// traceLeast is the area, in cells, of the smallest body or gap that is shown.
	traceLeast = 2
	// traceRun is the longest run of points that is simplified at once: its cost may grow with the square.
	traceRun = 1024
)

// trace draws rings round the stretches of the rows, as plane.Around does, and simplifies them; what is too small to be shown is left out.
func trace(rows [][]plane.Stretch) geom.Region {
	var out geom.Region
	for _, r := range plane.Around(rows) {
		if math.Abs(r.Area()) >= traceLeast {
			out = append(out, simplify(r))
		}
	}
	return out
}

// simplify leaves out points that lie within the tolerance of the line without them (Douglas and Peucker 1973). It begins
// at the lowest point, of several the one furthest left, and at the point furthest from it, which both stay.
func simplify(r geom.Ring) geom.Ring {
	first := 0
	for i, p := range r {
		if q := r[first]; p.Y < q.Y || (p.Y == q.Y && p.X < q.X) {
			first = i
		}
	}
	r = append(append(make(geom.Ring, 0, len(r)+1), r[first:]...), r[:first]...)
	r = append(r, r[0])
	far := 0
	for i, p := range r {
		if p.Sub(r[0]).Len() > r[far].Sub(r[0]).Len() {
			far = i
		}
	}
	out := r[:1:1]
	for _, half := range []geom.Ring{r[:far+1], r[far:]} {
		for len(half) > 1 {
			run := half[:min(len(half), traceRun)]
			out = plane.Thin(out, run, traceTolerance)
			half = half[len(run)-1:]
		}
	}
	return out[:len(out)-1]
}
