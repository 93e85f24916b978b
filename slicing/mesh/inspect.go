package mesh

import "grainstack/slicing/geom"

// Findings are what Inspect found; lengths, areas and volumes in file units.
type Findings struct {
	Triangles, Points int
	Shells            int // surfaces that hang together over edges
	Cavities          int // of those, closed hollows inside the wood, properly turned inward
	InwardShells      int // of those, turned inside out: facing inward where no wood is round them
	OpenEdges         int // edges with one triangle
	Holes             int // closed lines of open edges
	HolesLength       float64
	LongestHole       float64 // length of the longest rim
	NonManifoldEdges  int     // edges with more than two triangles
	FlippedEdges      int     // edges whose two triangles face opposite sides
	ZeroArea          int     // triangles whose three points lie in one line
	Crosses           bool    // it runs through itself; Inspect does not look for that
	Volume, Area      float64
	Size              geom.Vec
}

// Solid reports whether the surface is closed, every edge has two triangles that agree which side is out, out is the
// outer side, and it is not known to run through itself.
func (f Findings) Solid() bool {
	return f.Triangles > 0 && !f.Crosses && f.OpenEdges == 0 && f.NonManifoldEdges == 0 && f.FlippedEdges == 0 && f.InwardShells == 0 && f.Volume > 0
}

// Inspect measures m and counts what keeps it from being a solid; adj is m.Adjacency().
func Inspect(m *Mesh, adj Adjacency) Findings {
	f := Findings{Triangles: len(m.Triangles), Points: len(m.Points), Size: m.Box().Size()}
	loose := f.countEdges(m, adj)
	f.measureRims(m, adj, loose)
	shells := findShells(m, adj, loose)
	f.Shells = shells.count
	f.measure(m, shells)
	return f
}

// A looseEdge is an edge without clean partners and the half-edges on it.
type looseEdge struct{ halves []edge }

// countEdges counts the edges by what is wrong with them and lists those whose half-edges have no partner.
func (f *Findings) countEdges(m *Mesh, adj Adjacency) []looseEdge {
	type part struct {
		open, flipped, many int
		loose               []looseEdge
	}
	parts := make([]part, (len(m.Points)+span-1)/span)
	e := sortEdges(m, adj)
	run(len(m.Points), span, func(from, to int) {
		p := &parts[from/span]
		for low := from; low < to; low++ {
			e.groups(int32(low), func(group []edge) {
				loose := adj[group[0].half()] < 0
				switch {
				case len(group) == 1 && !loose:
					return
				case len(group) == 1:
					p.open++
				case len(group) == 2 && loose:
					p.flipped++
				default:
					p.many++
				}
				if loose {
					p.loose = append(p.loose, looseEdge{group})
				}
			})
		}
	})
	var loose []looseEdge
	for _, p := range parts {
		f.OpenEdges += p.open
		f.FlippedEdges += p.flipped
		f.NonManifoldEdges += p.many
		loose = append(loose, p.loose...)
	}
	return loose
}

// measureRims follows the open edges round each hole.
func (f *Findings) measureRims(m *Mesh, adj Adjacency, loose []looseEdge) {
	if f.OpenEdges == 0 {
		return
	}
	open := make([]bool, len(adj))
	for _, l := range loose {
		if len(l.halves) == 1 {
			open[l.halves[0].half()] = true
		}
	}
	seen := make([]bool, len(adj))
	for _, l := range loose {
		start := l.halves[0].half()
		if !open[start] || seen[start] {
			continue
		}
		length := 0.0
		for h := start; !seen[h]; h = nextLoose(adj, h) {
			seen[h] = true
			if open[h] {
				t := m.Triangles[h/3]
				a, b := m.Points[t[h%3]].Vec(), m.Points[t[(h+1)%3]].Vec()
				length += b.Sub(a).Len()
			}
		}
		f.Holes++
		f.HolesLength += length
		f.LongestHole = max(f.LongestHole, length)
	}
}

// nextLoose turns about the half-edge's end through the triangles there until an edge without partner; no two half-edges
// have the same next, so that rims are closed lines.
func nextLoose(adj Adjacency, h int32) int32 {
	for {
		h = h/3*3 + (h+1)%3
		if adj[h] < 0 {
			return h
		}
		h = adj[h]
	}
}

// measure sums volume and area, by shell, and tells hollows from shells turned inside out.
func (f *Findings) measure(m *Mesh, s shells) {
	total := m.sums(func(a, b, c geom.Vec, sum *[4]float64) {
		double := b.Sub(a).Cross(c.Sub(a)).Len()
		sum[0] += double
		if double == 0 {
			sum[1]++
		}
	})
	f.Area, f.ZeroArea = total[0]/2, int(total[1])
	f.Volume = m.Volume()
	volumes := []float64{f.Volume}
	if s.count != 1 {
		volumes = s.volumes(m)
	}
	var inward []int32
	for i, v := range volumes {
		if v < 0 {
			inward = append(inward, int32(i))
		}
	}
	for _, around := range s.windings(m, inward) {
		if around > 0 {
			f.Cavities++
		} else {
			f.InwardShells++
		}
	}
}
