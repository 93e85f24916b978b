package job

import (
	"grainstack/slicing/mesh"
	"grainstack/slicing/sample"
)

// Demo is the piece that the program opens with, made on the spot: a resting hare.
func Demo() *Piece {
	m := sample.Hare(sample.Usual)
	return NewPiece("Resting hare", m, mesh.Raw{Format: "made by the program", Facets: len(m.Triangles)})
}
