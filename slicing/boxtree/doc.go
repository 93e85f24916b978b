// Package boxtree sorts the facets of a mesh into a tree of boxes: what lies nearest, what lies near by, and which facets have
// boxes that meet, are found without a look at most of the others.
//
// The tree halves the facets along the Z-order curve of their middles. Results do not depend on the number of cores.
package boxtree
