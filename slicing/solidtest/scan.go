package solidtest

import (
	"math"
	"math/rand"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// A Scan is a raw scan made up from a seed: solids of known volume, with the faults that scanners leave.
type Scan struct {
	Mesh   *mesh.Mesh
	Faults []string // what was done to it, one word or two each, in the order in which it was done
	Box    geom.Box // of all that belongs to the piece: without debris, floor and what noise adds
	// Least and Most bound the volume of what the solids enclose together; they are the same where no two of them meet. A
	// hole cut into the surface, and noise, may change what a mended piece has by more.
	Least, Most float64
}

// Has reports whether a fault was put in.
func (s *Scan) Has(fault string) bool {
	return slices.Contains(s.Faults, fault)
}

// NewScan is the raw scan of a seed. Half of all scans have one fault or two, the other half any number; every tenth has
// none at all. It has between a few hundred and some ten thousand facets and is between 20 and 400 long.
func NewScan(seed int64) Scan {
	g := &scanner{rnd: rand.New(rand.NewSource(seed))}
	g.size = 20 * math.Pow(20, g.rnd.Float64())
	g.main = g.solid(g.size/2, 400+g.rnd.Intn(6000))
	g.add(g.main)
	for _, i := range g.choose() {
		scanFaults[i].put(g)
		g.out.Faults = append(g.out.Faults, scanFaults[i].name)
	}
	g.out.Mesh = Shuffle(g.whole(), seed)
	return g.out
}

// A scanner makes one scan: first its solids, then what is wrong with their surface.
type scanner struct {
	rnd    *rand.Rand
	size   float64
	main   *mesh.Mesh
	solids []*mesh.Mesh // of the piece
	extra  []*mesh.Mesh // debris and floor
	torn   *mesh.Mesh   // all of these in one, once a fault of the surface was put in
	out    Scan
}

// scanFaults are in the order in which they have to be put in: more solids first, then what spoils the surface.
var scanFaults = []struct {
	name string
	put  func(g *scanner)
}{
	{"thin ears", (*scanner).ears},
	{"shells apart", (*scanner).apart},
	{"shells that cross", (*scanner).crossing},
	{"debris", (*scanner).debris},
	{"floor", (*scanner).floor},
	{"noise", (*scanner).noise},
	{"holes", (*scanner).holes},
	{"flipped patches", (*scanner).flipped},
	{"doubled facets", (*scanner).doubled},
}

// choose gives the faults of this scan, in order.
func (g *scanner) choose() (out []int) {
	n := g.rnd.Intn(len(scanFaults))
	switch k := g.rnd.Intn(10); {
	case k == 0:
		n = 0
	case k < 6:
		n = 1 + k%2
	}
	put := make([]bool, len(scanFaults))
	for _, i := range g.rnd.Perm(len(scanFaults))[:n] {
		put[i] = true
	}
	for i, p := range put {
		if p {
			out = append(out, i)
		}
	}
	return out
}

// between is a random figure from lo up to hi.
func (g *scanner) between(lo, hi float64) float64 { return lo + (hi-lo)*g.rnd.Float64() }

// turn is a random turn.
func (g *scanner) turn() geom.Turn {
	return geom.TurnXYZ(g.between(0, 360), g.between(0, 360), g.between(0, 360))
}

// heading is a random direction.
func (g *scanner) heading() geom.Vec {
	for {
		v := geom.Vec{X: g.between(-1, 1), Y: g.between(-1, 1), Z: g.between(-1, 1)}
		if l := v.Len(); l > 0.1 && l <= 1 {
			return v.Scale(1 / l)
		}
	}
}

// solid is one of the shapes of this package, about r in radius and with about n triangles, turned anyhow.
func (g *scanner) solid(r float64, n int) *mesh.Mesh {
	var m *mesh.Mesh
	switch g.rnd.Intn(5) {
	case 0:
		m = Bumpy(r*0.7, n)
	case 1:
		m = Ellipsoid(r, r*g.between(0.3, 1), r*g.between(0.3, 1), n)
	case 2:
		k := max(8, int(math.Sqrt(float64(n)/2)))
		m = Torus(r*0.65, r*g.between(0.1, 0.3), k, k)
	case 3:
		m = Moved(Box(r, r*g.between(0.2, 1.5), r*g.between(0.2, 1.5)), geom.Vec{X: -r / 2, Y: -r / 2, Z: -r / 2})
	default:
		m = Moved(Frustum(r*g.between(0, 1), r*g.between(0.3, 1), r*g.between(0.5, 1.5), 12+g.rnd.Intn(60)), geom.Vec{Z: -r / 2})
	}
	return Turned(m, g.turn())
}

// add puts in a solid that belongs to the piece, apart from all others.
func (g *scanner) add(m *mesh.Mesh) {
	box := m.Box()
	if g.solids = append(g.solids, m); len(g.solids) == 1 {
		g.out.Box = box
	}
	g.out.Box = g.out.Box.Add(box.Min).Add(box.Max)
	v := m.Volume()
	g.out.Least, g.out.Most = g.out.Least+v, g.out.Most+v
}

// melt puts in a solid that may meet others.
func (g *scanner) melt(m *mesh.Mesh) {
	least := max(g.out.Least, m.Volume())
	g.add(m)
	g.out.Least = least
}

// ears are fins, a five-hundredth to a fiftieth of the piece thick, that stick out of the first solid.
func (g *scanner) ears() {
	box := g.main.Box()
	for range 1 + g.rnd.Intn(3) {
		d, long := g.heading(), g.size*g.between(0.1, 0.4)
		ear := Ellipsoid(long, long*g.between(0.3, 1), g.size*g.between(0.001, 0.01), 300+g.rnd.Intn(1500))
		size := box.Size().Scale(0.5)
		at := box.Center().Add(geom.Vec{X: d.X * size.X, Y: d.Y * size.Y, Z: d.Z * size.Z}.Scale(0.8))
		g.melt(Moved(Turned(ear, g.turn()), at))
	}
}

// apart are solids beside the piece, from a hundredth of its volume up to as large as it.
func (g *scanner) apart() {
	for range 1 + g.rnd.Intn(8) {
		m := g.solid(g.size/2*g.between(0.25, 0.9), 100+g.rnd.Intn(1500))
		b := m.Box()
		gap := g.size * g.between(0.01, 0.1)
		to := geom.Vec{X: g.out.Box.Max.X + gap - b.Min.X, Y: g.out.Box.Center().Y - b.Center().Y, Z: g.out.Box.Center().Z - b.Center().Z}
		g.add(Moved(m, to))
	}
}

// crossing are solids that run through the first.
func (g *scanner) crossing() {
	box := g.main.Box()
	for range 1 + g.rnd.Intn(4) {
		m := g.solid(g.size/2*g.between(0.2, 0.8), 100+g.rnd.Intn(2000))
		g.melt(Moved(m, box.Center().Add(g.heading().Scale(g.size*g.between(0.1, 0.5)))))
	}
}

// debris are bits of less than a thousandth of the largest solid's volume, in and far round the piece.
func (g *scanner) debris() {
	most := 0.0
	for _, m := range g.solids {
		most = max(most, m.Volume())
	}
	r := math.Cbrt(0.0009 * most * 3 / (4 * math.Pi))
	for range 1 + g.rnd.Intn(40) {
		b := r * g.between(0.02, 1)
		m := Moved(Sphere(b, 50), g.out.Box.Center().Add(g.heading().Scale(g.size*g.between(2, 3)+g.out.Box.Size().Len())))
		g.extra = append(g.extra, m)
	}
}

// floor is the table under the piece: an open sheet a little below its lowest point.
func (g *scanner) floor() {
	box := g.out.Box
	half := box.Size().Len() * g.between(0.4, 1)
	z := box.Min.Z - g.size*g.between(0.005, 0.05)
	m := &mesh.Mesh{}
	k := 2 + g.rnd.Intn(12)
	for j := range k + 1 {
		for i := range k + 1 {
			x, y := float64(2*i-k)/float64(k), float64(2*j-k)/float64(k)
			m.Points = append(m.Points, point(box.Center().X+half*x, box.Center().Y+half*y, z))
			if i < k && j < k {
				a := int32(j*(k+1) + i)
				b, c, d := a+1, a+int32(k)+2, a+int32(k)+1
				m.Triangles = append(m.Triangles, mesh.Triangle{a, b, c}, mesh.Triangle{a, c, d})
			}
		}
	}
	g.extra = append(g.extra, m)
}

// whole is all solids in one mesh.
func (g *scanner) whole() *mesh.Mesh {
	if g.torn == nil {
		g.torn = Join(append(append([]*mesh.Mesh{}, g.solids...), g.extra...)...)
	}
	return g.torn
}

// noise moves every point, by at most a thousandth of the piece along each axis.
func (g *scanner) noise() {
	amount := g.size * g.between(0.00005, 0.001)
	g.torn = points(g.whole(), func(v geom.Vec) geom.Vec {
		return v.Add(geom.Vec{X: g.between(-1, 1), Y: g.between(-1, 1), Z: g.between(-1, 1)}.Scale(amount))
	})
}

// patch reports which facets have their middle within a random ball about a point of the surface.
func (g *scanner) patch(lo, hi float64) func(i int) bool {
	m := g.whole()
	a, _, _ := m.Corners(g.rnd.Intn(len(m.Triangles)))
	r := g.size * g.between(lo, hi)
	return func(i int) bool {
		p, q, s := m.Corners(i)
		return p.Add(q).Add(s).Scale(1.0/3).Sub(a).Len() < r
	}
}

// holes are patches that are missing.
func (g *scanner) holes() {
	for range 1 + g.rnd.Intn(6) {
		in := g.patch(0.005, 0.08)
		m := g.whole()
		out := &mesh.Mesh{Points: m.Points}
		for i, t := range m.Triangles {
			if !in(i) {
				out.Triangles = append(out.Triangles, t)
			}
		}
		if 2*len(out.Triangles) > len(m.Triangles) { // large facets leave too much of a hole
			g.torn = out
		}
	}
}

// flipped are patches that face the wrong way.
func (g *scanner) flipped() {
	for range 1 + g.rnd.Intn(4) {
		in := g.patch(0.01, 0.15)
		m := g.whole()
		out := &mesh.Mesh{Points: m.Points}
		for i, t := range m.Triangles {
			if in(i) {
				t[1], t[2] = t[2], t[1]
			}
			out.Triangles = append(out.Triangles, t)
		}
		g.torn = out
	}
}

// doubled are facets that are there twice, some of them the other way round.
func (g *scanner) doubled() {
	m := g.whole()
	out := &mesh.Mesh{Points: m.Points, Triangles: append([]mesh.Triangle{}, m.Triangles...)}
	for range 1 + g.rnd.Intn(30) {
		t := m.Triangles[g.rnd.Intn(len(m.Triangles))]
		if g.rnd.Intn(2) == 0 {
			t[1], t[2] = t[2], t[1]
		}
		out.Triangles = append(out.Triangles, t)
	}
	g.torn = out
}
