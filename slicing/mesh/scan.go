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

// Raw says what was in the file before welding.
type Raw struct {
	Format   string  // "binary STL", "ASCII STL", "OBJ", "PLY", "OFF"
	Facets   int     // triangles in the file, larger faces cut into triangles
	ZeroArea int     // of those, how many had two equal corners and were left out
	UnitMM   float64 // mm per file unit where the file says so (3MF), else 0

	Colours *Colours // what the scanner saw, where the file says it (PLY, OBJ), else nil
}
