package job

import (
	"grainstack/slicing/mesh"
	"grainstack/slicing/sample"
)

// demoTriangles is how finely the demo piece is made: facets of a millimetre and a half.
const demoTriangles = 350_000

// demoPath stands for the demo piece in a job file.
const demoPath = "demo:resting-hare"

// Demo is the piece that the program opens with, made on the spot: a resting hare.
func Demo() *Piece {
	m := sample.Hare(demoTriangles)
	return NewPiece("Resting hare", m, mesh.Raw{Format: "made by the program", Facets: len(m.Triangles)})
}
