package mend

import (
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// Settings say how to mend; comparable. The zero value mends with the usual settings once MmPerUnit is set.
type Settings struct {
	Off         bool    // leave the scan as it is; only the saw is used
	DebrisShare float64 // shells with less than this share of the largest one's volume go; 0 is DefaultDebris, negative keeps all
	MmPerUnit   float64 // how long one unit of the scan is; 0 counts as 1
	Resolution  float64 // mm, of the grid where the solid has to be built anew; 0 is a three-hundredth of the longest side
	Saw         Plane
	Smooth      float64 // mm; for the smoothing step, not used by Mend
	Thin        float64 // mm; for the thinning step, not used by Mend
}

// DefaultDebris is the share of the largest shell's volume under which a shell is debris.
const DefaultDebris = 0.001

// A Plane says where the piece is sawn off, in the scan's frame and units: what lies where Normal·p < D goes, and the cut
// is closed flat. Normal need not have length 1.
type Plane struct {
	Normal geom.Vec
	D      float64
	On     bool
}

// An Action is one kind of thing that was done, in a maker's words.
type Action struct {
	Kind   ActionKind
	Count  int
	Text   string
	Volume float64  // mm³, of all that was left out or filled; 0 for other kinds
	Moved  float64  // mm, the most that the surface moved; 0 for other kinds
	At     geom.Vec // where the largest of that lay, or where the surface moved most, in the scan's frame and units
}

// A Result is the solid and what was done to make it. Where nothing had to be done Mesh is the very mesh that was given.
type Result struct {
	Mesh           *mesh.Mesh
	Adjacency      mesh.Adjacency
	Actions        []Action
	Rebuilt        bool
	ResolutionMm   float64 // of the grid, when rebuilt
	DistanceMaxMm  float64 // largest distance between the outside of the scan and the solid, sampled both ways, when rebuilt
	DistanceMeanMm float64 // over the area of both
}

// Noticed is by how much, mm, a surface has to move for that to be told with its place.
const Noticed = 0.5

// noVolume is the share of its box below which a volume is only rounding: points carry 24 bits.
const noVolume = 1e-7
