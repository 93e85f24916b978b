// Package panel lays parts on panels, saws panels from boards, and finds the places for register dowels, tabs and alignment
// pins.
//
// It takes the outlines of parts as seen from above and gives places and turns on panels. Lengths are mm, areas mm², turns
// whole degrees counter-clockwise. A panel lies with its length, the grain of its face veneers, along X; its lower left
// corner on side A is the origin.
//
// Layout: raster placement with one bit a cell and log-step shifted unions of each column (after the raster methods of
// Umetani & Murakami, 2022, and Sato et al., 2019; bottom-left placement after Burke et al., 2006), improved by taking a few
// panels apart and laying them again in another order (ruin and recreate, Schrimpf et al., 2000). The raster only proposes:
// every distance is checked on the outlines themselves. Pins: largest clearance by an exact distance transform (Felzenszwalb
// & Huttenlocher, 2012), refined on the outlines.
package panel
