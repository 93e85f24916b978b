// Package sample makes the piece that the program opens with when it is given no other: a resting hare, ears laid half
// back, about 420 x 210 x 300 mm, sitting on the floor z = 0 and looking along X.
//
// The hare is modelled as lumps of clay, each a round cone or an ellipsoid with its distance to first order, that flow
// into one another over a given width. It is meshed on a lattice of cubes, one point a cube that the surface passes through
// (surface nets: Gibson, Constrained Elastic Surface Nets, MICCAI 1998). Lattice nodes where the solid would touch itself
// only along an edge or at a corner are taken out first, which makes the surface a 2-manifold (well-composed pictures:
// Latecki, 3D Well-Composed Pictures, Graphical Models and Image Processing 59(3), 1997). The points are then drawn onto
// the true surface along its slope and evened out in its tangent plane. Whole blocks of the lattice are passed over where
// the distance at their middle shows that they hold no surface.
//
// Lengths are mm, Z is up.
package sample
