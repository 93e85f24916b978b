// Package stock holds what the maker buys and sets up: boards with their recipe veneer by veneer, wood species with their
// tones, cutters, machines, glues, finishes and panel sizes. Load reads them from a catalogue file and checks every figure.
//
// Lengths are mm, masses g, densities kg/m³, tones CIELAB for daylight D65; anything else carries its unit in its name.
// Values are plain and never change after Load; where a figure comes from stands in Sources under the figure's name in
// the file ("from memory" and "common practice" where there is no published source).
//
// A veneer's Grain is Along (the length of the board, X of a layer that is not turned), Across (Y) or Plain (no grain:
// fibreboard). Recipes run from the bottom to the top of the board and sum to its measured thickness; a glue line takes
// its width half from the veneer below and half from the one above, so it adds nothing to the sum.
package stock
