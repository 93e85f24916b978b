package mend

import "grainstack/slicing/geom"

// An ActionKind tells what was done.
type ActionKind uint8

// What Mend can do.
const (
	Welded       ActionKind = iota // points of open seams made one
	Split                          // edges split where a corner lay on them
	Dropped                        // debris left out
	Deduplicated                   // facets that were there twice, and flaps
	Turned                         // facets turned to agree with their neighbours
	Reversed                       // shells turned inside out
	Swallowed                      // shells that lay wholly inside the wood
	Filled                         // holes filled flush
	Based                          // open bases closed flat
	Sawn                           // cut off at the saw plane
	Untied                         // points shared by surfaces that only touch there
	Cut                            // cut along the lines where it ran through itself
	Against                        // places that it wound round the wrong way, left out
	CutOff                         // loose bits that cutting left, left out
	CutShut                        // closed pockets that cutting left, filled
	Sheet                          // open parts that bound nothing that a grid could hold, such as a floor, left out
	Rebuilt                        // built anew from a grid
	RebuiltPart                    // the part that stays open built anew from a grid
	Lost                           // loose bits that the grid is too coarse for, left out
	Plugged                        // closed pockets that the grid is too coarse for, filled
	Shifted                        // where the surface moved by more than Noticed
)

// A Kind tells what a Finding is about.
type Kind uint8

// What Survey looks for.
const (
	Hole        Kind = iota // a closed line of open edges; Size is its length
	Debris                  // a shell under DefaultDebris of the largest; Size is its volume
	InsideOut               // a shell that faces inward with no wood round it; Size is its volume
	Crowded                 // edges of more than two facets; Size is how many lie together
	FlippedArea             // facets that face against their neighbours; Size is their area
	ZeroArea                // facets that are mere lines; Size is how many lie together
	Spike                   // a thin spike; Size is its length
	Duplicate               // facets that are there twice; Size is how many lie together
	Crossing                // places where the surface runs through itself; Size is how many facets
)

// String is the kind in a word or two.
func (k Kind) String() string {
	names := [...]string{"hole", "debris", "inside out", "crowded edge", "flipped area", "zero area", "spike", "duplicate", "self-crossing"}
	if int(k) < len(names) {
		return names[k]
	}
	return "unknown"
}

// A Finding is one thing that keeps the scan from being a solid, and where to look.
type Finding struct {
	Kind Kind
	At   geom.Vec
	Size float64 // a length, area, volume or count: see Kind
}
