// Package field measures how deep a point lies below the surface of a piece, and from that what a wall of any thickness
// leaves to be hollowed out.
//
// It takes a mesh in the piece's own frame and gives a Grid of depths. Depth is POSITIVE INSIDE, negative outside, zero on
// the surface, in the units of the piece. A Grid is built once a piece: turning or scaling the piece only changes the
// geom.Placement that carries it to the stand. Everything about the stand is in millimetres: heights, walls, areas, volumes.
//
// Methods. Nodes near the surface take the exact nearest point of a facet; the rest learn it from them by a separable
// nearest-point transform (after Felzenszwalb and Huttenlocher, Theory of Computing 8, 2012, carrying points instead of
// squared distances, so that sub-cell places are kept), and then walk over the facets to the truly nearest one. Inside is
// where the signed crossings of a ray sum to more than zero, so that shells pushed into one another unite; where rays along
// Z do not come out even (the mesh is open) rays along X and Y have a vote as well (after Nooruddin and Turk, IEEE
// Transactions on Visualization and Computer Graphics 9(2), 2003). Volumes come from a histogram of height and
// depth, outlines of the core from marching squares (after Lorensen and Cline 1987, one dimension down).
//
// A Grid and a Table never change once made and are safe for use from many goroutines.
package field
