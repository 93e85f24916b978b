package mesh

import "math/bits"

// Thin is a coarser copy of m for pictures while something is dragged: points that share a cube with edges of length cell
// become one, near the planes of the triangles that meet there, and triangles that shrink to nothing go. The copy may have
// edges of many triangles and is not for figures. A cell of zero or less gives m itself.
func Thin(m *Mesh, cell float64) *Mesh {
	if !(cell > 0) || len(m.Points) == 0 {
		return m
	}
	of, clusters := gather(m, float32(cell))
	out := &Mesh{Points: make([]Point, len(clusters)), Triangles: make([]Triangle, 0, 2*len(clusters)+16)}
	scale := 1 / float32(cell)
	for _, t := range m.Triangles {
		i, j, k := of[t[0]], of[t[1]], of[t[2]]
		a := m.Points[t[0]]
		n := normalOf(a, m.Points[t[1]], m.Points[t[2]], scale)
		clusters[i].add(n, a)
		if j != i {
			clusters[j].add(n, a)
		}
		if k != i && k != j {
			clusters[k].add(n, a)
			if j != i {
				out.Triangles = append(out.Triangles, Triangle{i, j, k})
			}
		}
	}
	for i := range clusters {
		out.Points[i] = clusters[i].place(float32(cell))
	}
	return out
}

// A cluster is the points in one cube: their middle, and the sums over the triangles that touch it of n·nᵀ and n·d, where n
// is the normal, as long as twice the area, and d the plane's distance from the middle in that measure.
type cluster struct {
	middle                 Point
	xx, yy, zz, xy, yz, zx float32
	x, y, z                float32
}

// gather finds each point's cluster, numbered by first point.
func gather(m *Mesh, cell float32) (of []int32, clusters []cluster) {
	of = make([]int32, len(m.Points))
	t := newCellTable(m, cell)
	var counts []float32
	last, lastKey := int32(-1), uint64(0)
	for i, p := range m.Points {
		key := t.key(p)
		if last < 0 || key != lastKey {
			last, lastKey = t.number(key), key
		}
		if int(last) == len(clusters) {
			clusters = append(clusters, cluster{})
			counts = append(counts, 0)
		}
		c := &clusters[last]
		for k := range p {
			c.middle[k] += p[k] - t.min[k]
		}
		counts[last]++
		of[i] = last
	}
	for i := range clusters {
		for k := range t.min {
			clusters[i].middle[k] = clusters[i].middle[k]/counts[i] + t.min[k]
		}
	}
	return of, clusters
}

// add takes the plane through p with normal n.
func (c *cluster) add(n, p Point) {
	d := n[0]*(p[0]-c.middle[0]) + n[1]*(p[1]-c.middle[1]) + n[2]*(p[2]-c.middle[2])
	c.xx += n[0] * n[0]
	c.yy += n[1] * n[1]
	c.zz += n[2] * n[2]
	c.xy += n[0] * n[1]
	c.yz += n[1] * n[2]
	c.zx += n[2] * n[0]
	c.x += n[0] * d
	c.y += n[1] * d
	c.z += n[2] * d
}

// place is the point of least squares to the planes, held to the middle where they leave it free by a small pull, and the
// middle itself where the answer lies outside the cube's surroundings.
func (c *cluster) place(cell float32) Point {
	const pull = 0.01 // of the planes' own stiffness
	s := pull * (c.xx + c.yy + c.zz)
	a, b, d := c.xx+s, c.yy+s, c.zz+s
	// Cramer's rule for the symmetric matrix (a xy zx; xy b yz; zx yz d).
	p, q, r := b*d-c.yz*c.yz, c.zx*c.yz-c.xy*d, c.xy*c.yz-c.zx*b
	det := a*p + c.xy*q + c.zx*r
	u, v, w := a*d-c.zx*c.zx, c.xy*c.zx-a*c.yz, a*b-c.xy*c.xy
	at := Point{p*c.x + q*c.y + r*c.z, q*c.x + u*c.y + v*c.z, r*c.x + v*c.y + w*c.z}
	out := c.middle
	for k := range at {
		at[k] /= det
		if !(at[k] < cell && at[k] > -cell) {
			return c.middle
		}
		out[k] += at[k]
	}
	return out
}

// normalOf is the normal of a triangle whose lengths are multiplied by scale, as long as twice the area.
func normalOf(a, b, c Point, scale float32) Point {
	ux, uy, uz := (b[0]-a[0])*scale, (b[1]-a[1])*scale, (b[2]-a[2])*scale
	vx, vy, vz := (c[0]-a[0])*scale, (c[1]-a[1])*scale, (c[2]-a[2])*scale
	return Point{uy*vz - uz*vy, uz*vx - ux*vz, ux*vy - uy*vx}
}

// A cellTable numbers the occupied cubes of a grid: open addressing, at most half full.
type cellTable struct {
	min   Point
	scale float32
	slots []cellSlot
	count int32
}

type cellSlot struct {
	key    uint64
	number int32 // + 1, 0 for a free slot
}

func newCellTable(m *Mesh, cell float32) *cellTable {
	e := emptyExtent()
	for _, p := range m.Points {
		e.add(p)
	}
	return &cellTable{min: e.min, scale: 1 / cell, slots: make([]cellSlot, 1<<10)}
}

// key is the cube's place, 21 bits an axis; cubes further out count as the outermost.
func (t *cellTable) key(p Point) uint64 {
	const most = 1<<21 - 1
	key := uint64(0)
	for k := range p {
		at := uint64(0)
		if f := (p[k] - t.min[k]) * t.scale; f >= most {
			at = most
		} else if f > 0 {
			at = uint64(f)
		}
		key = key<<21 | at
	}
	return key
}

// number is the cube's number, a new one for a new cube.
func (t *cellTable) number(key uint64) int32 {
	if 2*int(t.count) >= len(t.slots) {
		t.grow()
	}
	s := t.slot(key)
	if s.number == 0 {
		t.count++
		*s = cellSlot{key, t.count}
	}
	return s.number - 1
}

// slot is where the key is or belongs.
func (t *cellTable) slot(key uint64) *cellSlot {
	shift := bits.LeadingZeros64(uint64(len(t.slots) - 1))
	for i := key * 0x9e3779b97f4a7c15 >> shift; ; i++ {
		s := &t.slots[i&uint64(len(t.slots)-1)]
		if s.number == 0 || s.key == key {
			return s
		}
	}
}

func (t *cellTable) grow() {
	old := t.slots
	t.slots = make([]cellSlot, 2*len(old))
	for _, s := range old {
		if s.number != 0 {
			*t.slot(s.key) = s
		}
	}
}
