// Package assets holds the files that are built into the program, as bytes: stock.json (boards, cutters, machines, glues,
// finishes, each figure with its source), fonts/, the pictures of the steps of a job, the icon and the version. It has no types; slicing/stock reads the catalogue.
package assets

import (
	"embed"
	"strings"
)

// FS holds stock.json, fonts/ and steps/ at its root.
//
//go:embed stock.json fonts steps
var FS embed.FS

// Icon is the program's icon, a PNG picture of 256 x 256 pixels.
//
//go:embed packaging/grainstack-256.png
var Icon []byte

//go:embed packaging/version.txt
var version string

// Version is what the program, its packages and the files that it makes say of it.
func Version() string { return strings.TrimSpace(version) }
