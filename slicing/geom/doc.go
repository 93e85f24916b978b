// Package geom has the small values that everything else measures with: vectors, boxes, turns, placements, rings and
// regions.
//
// Lengths are millimetres, areas mm², volumes mm³, angles radians unless a name says degrees. Frames are right-handed with
// Z up. A ring is closed without repeating its first point; seen from above an outline runs counter-clockwise (positive
// area) and a hole clockwise (negative area). All values are immutable by convention: methods return new ones.
package geom
