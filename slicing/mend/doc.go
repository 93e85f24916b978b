// Package mend makes one true solid out of a raw scan.
//
// It takes a mesh as it was read, with its adjacency, in the scan's own units, and gives what is wrong with it and where
// (Survey), how often the surface winds round a point , and a closed, outward facing solid (Mend). A surface that is
// clean goes through Mend untouched. Where sewing, turning and filling suffice they are all that is done and the other
// triangles stay as they are; where shells run through one another they are cut there (package arrange) and only the facets that
// meet are changed; where gaps stay open, or cutting does not do, the solid is built anew from a grid.
//
// Methods. Winding number: Jacobson, Kavan, Sorkine-Hornung, ACM TOG 32(4), 2013, by a tree of expansions about cluster
// middles as Barill, Dickson, Schmidt, Levin, Jacobson, ACM TOG 37(4), 2018, to the second order; facets near by are
// taken exactly after van Oosterom and Strackee, IEEE Trans. Biomed. Eng. BME-30(2), 1983. Holes: least-area triangulation
// after Barequet and Sharir 1995 and Liepa 2003, large ones refined and smoothed. Inside and outside: signed crossings of
// rays along three axes where these agree, the winding number where not. New surface: dual contouring after Ju, Losasso,
// Schaefer, Warren, ACM TOG 21(3), 2002, on a grid made well-composed after Latecki, Eckhardt, Rosenfeld 1995, so that
// it cannot but be a 2-manifold.
//
// Lengths are in the scan's units unless the name ends in Mm. Results do not depend on the number of cores.
package mend
