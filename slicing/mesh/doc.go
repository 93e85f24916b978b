// Package mesh reads a solid's surface from a file, welds it, puts it in spatial order, measures it and says what is wrong
// with it.
//
// It takes STL (binary and ASCII), OBJ, PLY (ASCII and both binary orders), OFF, each of them packed by gzip (RFC 1952) too, and
// 3MF (3MF Consortium, Core Specification 1.3), told apart by their contents. It gives an indexed Mesh, at file units: nothing here knows millimetres until Sentences is given a scale. Triangles run
// counter-clockwise seen from outside, so a solid's volume is positive and an inside-out one's is negative.
//
// Volume and centroid are sums over signed tetrahedra (B. Mirtich, Fast and Accurate Computation of Polyhedral Mass
// Properties, Journal of Graphics Tools 1(2), 1996). Triangles and points are numbered along a Z-order curve (G. M. Morton,
// 1966) once, on reading. Thin merges points in the cells of a grid at the place of least squared distance to the planes
// that meet there (P. Lindstrom, Out-of-Core Simplification of Large Polygonal Models, SIGGRAPH 2000). Shells are counted
// by union-find; whether one lies within the others is decided by the signed crossings of a plumb line.
//
// A Mesh never changes after it has been made; all functions are safe for concurrent use.
package mesh
