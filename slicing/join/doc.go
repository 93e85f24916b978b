// Package join makes one closed surface of several scans that lie in one frame.
//
// Near what was seen, a fine grid holds signed distances: of each node the mean of its distances from the tangent planes of the points
// round it, each weighted by how well its scan saw the place (Curless and Levoy, SIGGRAPH 1996). Everywhere else a coarse grid decides
// what is inside: the function whose slope is nearest to the points' normals and which passes one half at the points (Kazhdan and
// Hoppe, ACM TOG 32(3), 2013), solved on grids from coarse to fine. The one passes into the other smoothly, so the surface closes over
// what nobody saw. Cells that the surface leaves ambiguous are made simple first (Latecki, Eckhardt, Rosenfeld, CVIU 61(1), 1995); it
// then is a closed 2-manifold whatever the scans are.
//
// Lengths are in the units of the common frame.
package join
