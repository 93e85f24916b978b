package stack

import (
	"context"
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
	"grainstack/slicing/plane"
	"grainstack/slicing/sets"
)

// A Part is one connected piece of a layer.
type Part struct {
	Box    geom.Box
	Volume float64
	Below  float64 // area of its cut face or flat face at the layer's lower joint
	Above  float64 // the same at the upper joint
}

// A Division is a solid divided among layers: the one answer to which pieces a layer has, for its figures, sections, solids
// and lists. It never changes.
type Division struct {
	Parts   [][]Part // of each slab, the largest first
	Slivers [][]Part // pieces that are too small or too narrow to be made, and left out everywhere: see Divide

	cutter *cutter
	part   []int32         // per fragment its part's place among the slab's Parts, or one of the following
	ends   map[int32]int32 // the same of facets within the piece's level ends
}

// What a fragment is that belongs to no part.
const (
	nowhere = -1 - iota // in no slab
	left                // of a sliver
)

// Divide finds the connected pieces of the solid in each slab. Two pieces that only touch, or hang together by less than a
// millionth of the piece's extent above or below a joint, are two. A cavity is no part; its volume is not the part's. The
// slabs follow each other upwards, as Layers makes them; the mesh is closed, in the frame of its stand, and its shells do not
// cross each other. Pieces under 20 mm³, and those under 1 cm³ that are nowhere 2 mm wide, are slivers; the largest of a slab
// is always a part.
func Divide(ctx context.Context, s *Slicer, slabs []Slab) (*Division, error) {
	for i, s := range slabs {
		if !(s.Bottom < s.Top) || i > 0 && s.Bottom < slabs[i-1].Top {
			return nil, fmt.Errorf("stack: layer %d does not lie above the one before", i+1)
		}
	}
	c := &cutter{slicer: s, slabs: slabs}
	d := &Division{Parts: make([][]Part, len(slabs)), Slivers: make([][]Part, len(slabs)), cutter: c}
	if len(slabs) == 0 || len(s.mesh.Triangles) == 0 {
		return d, nil
	}
	if err := c.classify(ctx); err != nil {
		return nil, err
	}
	if err := c.link(ctx); err != nil {
		return nil, err
	}
	faces, err := c.cutFaces(ctx)
	if err != nil {
		return nil, err
	}
	pieces, ids, err := c.measure(ctx, faces)
	if err != nil {
		return nil, err
	}
	if err := c.hollow(ctx, pieces, ids); err != nil {
		return nil, err
	}
	narrow, err := c.narrow(ctx, pieces, ids)
	if err != nil {
		return nil, err
	}
	d.sort(pieces, narrow)
	d.label(pieces, ids)
	d.close()
	c.sets = nil
	return d, nil
}

// Of is the place among slab's Parts, from 0, of the part that a triangle of the mesh belongs to there, -1 where it is none's:
// a sliver's, or within a joint.
func (d *Division) Of(triangle, slab int) int {
	return int(max(d.of(int32(triangle), int32(slab)), -1))
}

// of is Of, or what else a facet is.
func (d *Division) of(t, slab int32) int32 {
	c := d.cutter
	if c.low[t] <= slab && slab <= c.high(t) {
		return d.part[c.fragment(t, slab)]
	}
	if part, ok := d.ends[t]; ok && slab == c.end(t) {
		return part
	}
	return nowhere
}

// Sliver reports whether what of a triangle lies in a slab belongs to a sliver.
func (d *Division) Sliver(triangle, slab int) bool {
	return d.of(int32(triangle), int32(slab)) == left
}

// Divides reports whether the division is that of a mesh.
func (d *Division) Divides(m *mesh.Mesh) bool { return d.cutter.slicer.mesh == m }

// Class says where a point of the mesh lies: 2i within slab i, 2i + 1 on the joint above it. Within a millionth of the piece's
// extent of a joint is on it.
func (d *Division) Class(point int32) int32 {
	return min(max(d.cutter.classes[point]-1, 0), int32(2*len(d.cutter.slabs)-2))
}

// A cutter divides the triangles among the slabs. What of a triangle lies in one slab is a fragment; fragments are numbered
// so that the lowest of triangle t is t, and the others follow from extra[t] on. A slab is taken a tolerance short of its
// joints, so that faces on a joint belong to no slab and no vertex is at its border but by the rule of the sections.
type cutter struct {
	slicer  *Slicer
	slabs   []Slab
	heights []float64 // two a slab
	classes []int32   // per vertex the number of heights at or below it: 2i+1 in slab i
	low     []int32   // per triangle the lowest slab that it reaches, -1 for none
	extra   []int32   // per triangle 0 when all of it is in one slab, its second fragment when in several, else -1
	spare   []int32   // per fragment from the second of a triangle on, its slab
	sets    sets.Sets
}

func (c *cutter) classify(ctx context.Context) error {
	t := c.slicer.tolerance
	for _, s := range c.slabs {
		middle := (s.Bottom + s.Top) / 2
		c.heights = append(c.heights, min(s.Bottom+t, middle), max(s.Top-t, middle))
	}
	var err error
	if c.classes, err = classify(ctx, c.slicer.mesh.Points, c.heights); err != nil {
		return err
	}
	n := len(c.slicer.mesh.Triangles)
	c.low, c.extra = make([]int32, n), make([]int32, n)
	several := make([][]int32, (n+share(n)-1)/share(n))
	err = par.Spans(ctx, n, share(n), func(from, to int) {
		several[from/share(n)] = c.spread(from, to)
	})
	if err != nil {
		return err
	}
	for _, ts := range several {
		for _, t := range ts {
			c.extra[t] = int32(n + len(c.spare))
			for slab := c.low[t] + 1; slab <= c.high(t); slab++ {
				c.spare = append(c.spare, slab)
			}
			if n+len(c.spare) > math.MaxInt32 {
				return fmt.Errorf("stack: too many layers for a piece of %d triangles", n)
			}
		}
	}
	c.sets = sets.New(n + len(c.spare))
	return nil
}

// spread finds the slabs of the triangles [from, to), and gives those that reach several.
func (c *cutter) spread(from, to int) (several []int32) {
	for i, t := range c.slicer.mesh.Triangles[from:to] {
		i += from
		p, q, r := c.classes[t[0]], c.classes[t[1]], c.classes[t[2]]
		if p == q && q == r && p%2 == 1 {
			c.low[i] = p / 2
			continue
		}
		low, high := reach(min(p, q, r), max(p, q, r))
		c.low[i], c.extra[i] = low, -1
		if high < low {
			c.low[i] = -1
		} else if high > low {
			several = append(several, int32(i))
		}
	}
	return several
}

// high is the highest slab that triangle t reaches, -1 for none.
func (c *cutter) high(t int32) int32 {
	if c.extra[t] == 0 || c.low[t] < 0 {
		return c.low[t]
	}
	tri := &c.slicer.mesh.Triangles[t]
	_, high := reach(0, max(c.classes[tri[0]], c.classes[tri[1]], c.classes[tri[2]]))
	return high
}

// reach is the lowest and the highest slab between two classes; high < low where there is none.
func reach(least, most int32) (low, high int32) { return least / 2, (most+1)/2 - 1 }

// fragment is the number of triangle t's fragment in a slab that it reaches.
func (c *cutter) fragment(t, slab int32) int32 {
	if slab == c.low[t] {
		return t
	}
	return c.extra[t] + slab - c.low[t] - 1
}

// link joins fragments across the edges within each slab: first, in parallel, where both triangles are in one share of the
// triangles, so that no two goroutines touch the same sets; then the others.
func (c *cutter) link(ctx context.Context) error {
	twins, n := c.slicer.twins, len(c.slicer.mesh.Triangles)
	left := make([][]int32, (n+share(n)-1)/share(n))
	err := par.Spans(ctx, n, share(n), func(from, to int) {
		var over []int32
		for t := int32(from); t < int32(to); t++ {
			for e := 3 * t; e < 3*t+3; e++ {
				twin := twins[e] / 3
				switch {
				case twins[e] < e:
				case int(twin) >= to:
					over = append(over, e)
				case c.extra[t] == 0 && c.extra[twin] == 0:
					c.sets.Join(t, twin)
				default:
					c.joinEdge(e)
				}
			}
		}
		left[from/share(n)] = over
	})
	for _, over := range left {
		for _, e := range over {
			c.joinEdge(e)
		}
	}
	return err
}

// joinEdge joins the fragments on both sides of an edge in each slab that the edge reaches.
func (c *cutter) joinEdge(e int32) {
	t, twin := e/3, c.slicer.twins[e]/3
	tri := &c.slicer.mesh.Triangles[t]
	p, q := c.classes[tri[e%3]], c.classes[tri[(e+1)%3]]
	low, high := reach(min(p, q), max(p, q))
	for slab := low; slab <= high; slab++ {
		c.sets.Join(c.fragment(t, slab), c.fragment(twin, slab))
	}
}

// A face is what a part shows at one plane: an outline with its holes.
type face struct {
	slab     int32
	above    bool // at the slab's upper joint
	fragment int32
	area     float64
	box      geom.Box2
}

// cutFaces walks the outlines at both planes of each slab and joins the fragments round each face.
func (c *cutter) cutFaces(ctx context.Context) ([]face, error) {
	planes := make([][]face, len(c.heights))
	owners := make([][]int, len(c.heights))
	err := c.slicer.sweep(ctx, c.heights, func(k int, w *walker) {
		var g geom.Region
		for _, l := range w.rings {
			r := w.ring(l, c.slicer.tolerance)
			if r == nil {
				continue
			}
			g = append(g, r)
			slab := int32(k / 2)
			planes[k] = append(planes[k], face{slab, k%2 == 1, c.fragment(l.triangle, slab), r.Area(), r.Box()})
		}
		owners[k] = plane.Nest(g)
	})
	if err != nil {
		return nil, err
	}
	var out []face
	for k, faces := range planes {
		for i, f := range faces {
			if o := owners[k][i]; o >= 0 {
				c.sets.Join(f.fragment, faces[o].fragment)
			}
		}
		out = append(out, faces...)
	}
	return out, nil
}

// sort sets parts and slivers apart, the largest first, and gives each piece its place.
func (d *Division) sort(pieces []piece, narrow []bool) {
	bySlab := make([][]int, len(d.Parts))
	for i := range pieces {
		p := &pieces[i]
		p.place = left
		if size := p.Box.Size(); p.Volume > 0 && p.round == i && min(size.X, size.Y, size.Z) > d.cutter.slicer.tolerance {
			bySlab[p.slab] = append(bySlab[p.slab], i)
		}
	}
	for slab, ps := range bySlab {
		slices.SortStableFunc(ps, func(i, j int) int { return -compare(pieces[i].Volume, pieces[j].Volume) })
		for k, i := range ps {
			p := &pieces[i]
			if k > 0 && narrow[i] {
				d.Slivers[slab] = append(d.Slivers[slab], p.Part)
				continue
			}
			p.place = int32(len(d.Parts[slab]))
			d.Parts[slab] = append(d.Parts[slab], p.Part)
		}
	}
}

// label gives every fragment its part's place, a cavity's that of the part round it.
func (d *Division) label(pieces []piece, ids []int32) {
	d.part = ids
	for f, id := range ids {
		if id < 0 {
			d.part[f] = nowhere
			continue
		}
		d.part[f] = pieces[pieces[id].round].place
	}
}

// close gives the facets within the level ends of the piece to the parts that they close.
func (d *Division) close() {
	c := d.cutter
	d.ends = make(map[int32]int32)
	var todo []int32
	for t := range int32(len(c.low)) {
		slab := c.end(t)
		if slab < 0 {
			continue
		}
		for e := 3 * t; e < 3*t+3; e++ {
			if u := c.slicer.twins[e]; u >= 0 && c.low[u/3] <= slab && slab <= c.high(u/3) {
				d.ends[t] = d.of(u/3, slab)
				todo = append(todo, t)
				break
			}
		}
	}
	for len(todo) > 0 {
		t := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for e := 3 * t; e < 3*t+3; e++ {
			u := c.slicer.twins[e] / 3
			if c.slicer.twins[e] < 0 || c.end(u) != c.end(t) {
				continue
			}
			if _, had := d.ends[u]; !had {
				d.ends[u] = d.ends[t]
				todo = append(todo, u)
			}
		}
	}
}

// end is the slab whose end a facet lies within, where that is an end of the piece, -1 for none.
func (c *cutter) end(t int32) int32 {
	if c.low[t] >= 0 {
		return -1
	}
	last := len(c.slabs) - 1
	low, high := float32(c.slabs[0].Bottom-c.slicer.tolerance), float32(c.slabs[last].Top+c.slicer.tolerance)
	floor, top := true, true
	for _, p := range c.slicer.mesh.Triangles[t] {
		z := c.slicer.mesh.Points[p][2]
		floor = floor && c.classes[p] == 0 && z >= low
		top = top && int(c.classes[p]) == 2*last+2 && z <= high
	}
	switch {
	case floor:
		return 0
	case top:
		return int32(last)
	}
	return -1
}
