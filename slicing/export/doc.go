// Package export makes what leaves the program for the workshop: layers and panels as solids, drawings, lists, and the
// folder that holds them.
//
// It takes what package job worked out and gives closed meshes (LayerSolids, PanelSide), height maps (PanelMap), drawings
// as SVG and DXF (Sheet), solids as 3MF (Write3MF) and as STL (mesh.WriteSTL), lists as CSV (WriteCSV), and writes them all
// into a folder that is replaced as a whole or not at all (WriteFolder).
//
// Lengths are mm, areas mm², volumes mm³. Solids have their triangles counter-clockwise seen from outside. Layers are in the
// frame of the stand; panels have the lower left corner of side A as origin, z = 0 at the face that lies on the machine.
//
// Methods. A layer's skin is the piece's triangles clipped at its planes; a point of a cut is reckoned from the edge's
// lower-numbered end, so that neighbouring layers have the same bits (facets that lie in a joint belong to neither and are
// made anew as joint faces). The hollow is meshed by marching tetrahedra (Doi and Koide, IEICE Transactions E74(1), 1991) on
// a lattice that has the joints among its planes, in the subdivision of Kuhn (1960), which is a 2-manifold whatever the
// samples; facets that it doesn't need are taken out (package decimate), but for those at the joints. Joint faces are cut into
// triangles by package geom. Panels are columns between a lowest and a highest height.
package export
