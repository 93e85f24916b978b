// Package arrange finds where a closed surface runs through itself, and makes of it the surface that bounds what it winds round
// at least once.
//
// Facets that others meet, at a point, along a line or over an area, are cut along those lines and divided anew; all others stay
// as they are, to the last bit. Of what comes of it those triangles are kept that have wood behind them and none in front, by how
// often the surface winds round a point in front of one triangle of each patch. Then new points are rounded to the mesh's
// precision, which moves them by less than a ten millionth of the piece.
//
// Coordinates are whole numbers on a grid that all points of a mesh have in common; a new point is known exactly, as whole numbers
// over a common denominator. Signs come from floats where these are clearer than their rounding, else from whole numbers of any
// length, so that no case is decided by chance.
//
// Ideas, no code, are from: Zhou, Grinspun, Zorin, Jacobson, "Mesh arrangements for solid geometry", ACM TOG 35(4), 2016 (cut all,
// then choose by winding numbers); Cherchi, Livesu, Scateni, Attene, "Fast and robust mesh arrangements using floating-point
// arithmetic", ACM TOG 39(6), 2020 (each facet divided by itself in a projection; facets of one plane); Attene, "Indirect
// predicates for geometric constructions", CAD 126, 2020 (points kept as what they came from); Shewchuk, "Adaptive precision
// floating-point arithmetic and fast robust geometric predicates", Discrete & Computational Geometry 18, 1997 (bounds first);
// Sloan, "A fast algorithm for generating constrained Delaunay triangulations", Computers & Structures 47(3), 1993.
package arrange
