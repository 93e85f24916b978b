// Package plane has the geometry of the plane on grids and rings: masks, distances, connected places, contours, borders,
// simpler lines, hulls, nesting and triangles.
//
// A grid has places in rows: place i, j stands at i, j steps along x and y from place 0, 0. Figures on a grid are a slice with
// x fastest. What needs no lengths counts in steps.
//
// Inside is where the windings of all rings together are positive: outlines run counter-clockwise, holes clockwise, and a
// clockwise ring by itself encloses nothing. A place on an edge belongs to what lies above it or to its right: left and lower
// edges are inside, right and upper ones are not. So of two regions that share an edge exactly one has the places on it, and a
// line through a corner of a ring is counted once.
//
// Places that touch at a side or at a corner are of one part; places further apart than that are not. Rings that touch at
// points stay rings of their own, and an outline with the holes right inside it is one piece.
//
// Values are not changed, but for masks and borders, whose memory is used again: their methods say what they write.
package plane
