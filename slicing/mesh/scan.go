package mesh

// A Scan is what a scanner's file holds: a surface, or points without one. One of the two is nil.
type Scan struct {
	Mesh   *Mesh
	Points *Points
	Raw    Raw
}

// Points are places that a scanner saw, nothing else known of the surface.
type Points struct {
	At      []Point
	Normals []Point // of length 1, or nothing where the file has none of a length; nil where it has none at all
}
