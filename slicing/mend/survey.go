package mend

import (
	"context"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// A Shell is a part of the surface that hangs together over edges.
type Shell struct {
	Triangles int
	Volume    float64 // negative when it faces inward; an open one counts as closed by fans over its rims
	Area      float64
	Box       geom.Box
	Closed    bool
	Inward    bool    // faces inward
	Cavity    bool    // faces inward and has wood all round: a hollow
	Share     float64 // of the largest shell's volume
}

// A Loop is a closed line of open edges.
type Loop struct {
	Edges  int
	Length float64
	Box    geom.Box
	Center geom.Vec
	Normal geom.Vec // of the plane of best fit, pointing out of the solid; length 1
	Uneven float64  // greatest distance of a point of the loop from that plane
	Shell  int      // number in Findings.Shells
}

// A Finding is one thing that keeps the scan from being a solid, and where to look.
type Finding struct {
	Kind Kind
	At   geom.Vec
	Size float64 // a length, area, volume or count: see Kind
}

// Findings are what Survey found. Counts are complete; List has at most ListMost findings of a kind, the largest first.
type Findings struct {
	Shells    []Shell // largest volume first
	Loops     []Loop  // longest first
	List      []Finding
	Counts    [Crossing + 1]int // how many of each Kind
	Crossings bool              // whether self-crossing was looked for
}

// ListMost is how many findings of one kind are listed.
const ListMost = 100

// Clean reports whether nothing was found.
func (f *Findings) Clean() bool { return f.Counts == [Crossing + 1]int{} }

// Sentence says the finding in a maker's words; mmPerUnit is how long a unit of the scan is, 0 where not known.
func (f Finding) Sentence(mmPerUnit float64) string { return "" }

// Survey looks for all that keeps m from being a solid; adj is m.Adjacency(). Looking for places where the surface runs
// through itself takes most of the time and can be left out.
func Survey(ctx context.Context, m *mesh.Mesh, adj mesh.Adjacency, crossings bool) (Findings, error) {
	return Findings{}, ctx.Err()
}
