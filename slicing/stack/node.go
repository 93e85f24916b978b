package stack

import (
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

const (
	mostCells = 2048 // the profile's heights are spaced by this share of the piece's height
	leastCell = 256  // or by this where facets are many and tall
	mostKnots = 4096 // a piece with no more different heights than this gets each of them as well
	// mostVisits bounds the work: facets times the heights that each of them reaches, on the average.
	mostVisits = 16e6
)

// A ladder is a rising row of heights that covers the piece, found quickly.
type ladder struct {
	z     []float64
	first []int32 // per even cell, the first height in it or in a higher one
	base  float64
	scale float64 // cells per mm
}

// newLadder spaces heights evenly over the box, and adds the heights of all vertices where there are few of them: between
// vertices the volume below a height is a cubic, so that the profile of a plain solid is exact everywhere.
func newLadder(m *mesh.Mesh, box geom.Box) *ladder {
	height := box.Max.Z - box.Min.Z
	rungs := mostVisits / (float64(len(m.Triangles)) * tallness(m) / height)
	cells := int(min(max(rungs, leastCell), mostCells))
	l := &ladder{base: box.Min.Z, scale: float64(cells) / height}
	l.z = knots(m, int(min(rungs, mostKnots)))
	l.fill(cells, box)
	l.first = make([]int32, cells+2)
	cell := 0
	for i, z := range l.z {
		for c := l.cell(z); cell <= c; cell++ {
			l.first[cell] = int32(i)
		}
	}
	for ; cell < len(l.first); cell++ {
		l.first[cell] = int32(len(l.z) - 1)
	}
	return l
}

// tallness is about the mean height of the triangles, from some thousands of them.
func tallness(m *mesh.Mesh) float64 {
	n, sum := 0, 0.0
	for i := 0; i < len(m.Triangles); i += 1 + len(m.Triangles)/8192 {
		t := m.Triangles[i]
		a, b, c := m.Points[t[0]][2], m.Points[t[1]][2], m.Points[t[2]][2]
		sum += float64(max(a, b, c) - min(a, b, c))
		n++
	}
	return sum / float64(n)
}

// fill adds evenly spaced heights to the knots, but for those that a knot lies at.
func (l *ladder) fill(cells int, box geom.Box) {
	knots, height := l.z, box.Max.Z-box.Min.Z
	for i := range cells + 1 {
		z := box.Min.Z + height*float64(i)/float64(cells)
		if i == cells {
			z = box.Max.Z
		}
		if k, found := slices.BinarySearch(knots, z); !found && !near(knots, k, z, height) {
			l.z = append(l.z, z)
		}
	}
	slices.Sort(l.z)
}

// near reports whether a knot beside position k is so near to z that the cell between them would only lose digits.
func near(knots []float64, k int, z, height float64) bool {
	const crowd = 1e-4 / mostCells
	return k < len(knots) && knots[k]-z < crowd*height || k > 0 && z-knots[k-1] < crowd*height
}

// knots are the different heights of the vertices, rising, or none where there are more than most.
func knots(m *mesh.Mesh, most int) []float64 {
	seen := make(map[float32]struct{}, most+1)
	for _, p := range m.Points {
		if seen[p[2]] = struct{}{}; len(seen) > most {
			return nil
		}
	}
	zs := make([]float64, 0, len(seen))
	for z := range seen {
		zs = append(zs, float64(z))
	}
	slices.Sort(zs)
	return zs
}

func (l *ladder) cell(z float64) int { return min(max(int((z-l.base)*l.scale), 0), len(l.first)-2) }

// from is the first height at or above z, for z up to the top.
func (l *ladder) from(z float64) int {
	i := int(l.first[l.cell(z)])
	for i < len(l.z) && l.z[i] < z {
		i++
	}
	return i
}

// A node is what the sloping facets give at one height h. Of the pairs of moments the first is along X, the second along Y.
type node struct {
	volume float64    // below h
	area   float64    // of the section at h, the derivative of volume
	moment [2]float64 // ∫x and ∫y over the volume below h
	first  [2]float64 // ∫x and ∫y over the section at h, the derivative of moment
	rim    float64    // perimeter just above h
	jump   float64    // what the perimeter gains at h
	skin   float64    // area of the facets below h
	rows   [sides]row // the same of finishing rows
	tall   float64    // ∫ of volume over the heights below h
}

type row [2]float64

// A far is what facets give to all nodes from one on: polynomials in h that apply as soon as h is past the facet's middle.
type far struct {
	shade, lift    float64    // signed area, ∫z over it
	first, twisted [2]float64 // ∫x and ∫xz over it, likewise for y
	skin           float64
	rows           [sides]row
}

// A tally is the nodes and the not yet summed far sides of some of the facets.
type tally struct {
	nodes []node
	far   []far
	flats []flat
}

func newTally(n int) *tally { return &tally{nodes: make([]node, n), far: make([]far, n+1)} }

// add joins another tally's sums to this one.
func (t *tally) add(o *tally) {
	for i := range t.nodes {
		n, p := &t.nodes[i], &o.nodes[i]
		n.volume += p.volume
		n.area += p.area
		n.rim += p.rim
		n.jump += p.jump
		n.skin += p.skin
		f, q := &t.far[i], &o.far[i]
		f.shade += q.shade
		f.lift += q.lift
		f.skin += q.skin
		for k := range 2 {
			n.moment[k] += p.moment[k]
			n.first[k] += p.first[k]
			f.first[k] += q.first[k]
			f.twisted[k] += q.twisted[k]
			for s := range sides {
				n.rows[s][k] += p.rows[s][k]
				f.rows[s][k] += q.rows[s][k]
			}
		}
	}
	t.flats = append(t.flats, o.flats...)
}

// finish sums the far sides upward into the nodes.
func (t *tally) finish(z []float64) {
	var run far
	for i := range t.nodes {
		n, f, h := &t.nodes[i], &t.far[i], z[i]
		run.shade += f.shade
		run.lift += f.lift
		run.skin += f.skin
		n.volume += run.lift - run.shade*h
		n.area -= run.shade
		n.skin += run.skin
		for k := range 2 {
			run.first[k] += f.first[k]
			run.twisted[k] += f.twisted[k]
			n.moment[k] += run.twisted[k] - run.first[k]*h
			n.first[k] -= run.first[k]
			for s := range sides {
				run.rows[s][k] += f.rows[s][k]
				n.rows[s][k] += run.rows[s][k]
			}
		}
		if i > 0 {
			p, d := &t.nodes[i-1], h-z[i-1]
			n.tall = p.tall + d/2*(p.volume+n.volume) + d*d/12*(p.area-n.area)
		}
	}
}
