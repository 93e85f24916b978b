// Package assets holds the files that are built into the program, as bytes: stock.json (boards, cutters, machines, glues,
// finishes, each figure with its source) and fonts/. It has no types; slicing/stock reads the catalogue.
package assets

import "embed"

// FS holds stock.json and fonts/ at its root.
//
//go:embed stock.json fonts
var FS embed.FS
