package plane

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
)

func TestPieces(t *testing.T) {
	square := func(x, y, half float64, hole bool) geom.Ring {
		r := geom.Ring{{X: x - half, Y: y - half}, {X: x + half, Y: y - half}, {X: x + half, Y: y + half}, {X: x - half, Y: y + half}}
		if hole {
			r[1], r[3] = r[3], r[1]
		}
		return r
	}
	g := geom.Region{
		square(0, 0, 3, true),   // hole of the second's outline
		square(0, 0, 10, false), // outline
		square(0, 0, 1, false),  // island in the hole
		square(30, 0, 5, false), // another piece
		square(32, 0, 1, true),  // its holes
		square(28, 0, 1, true),
		square(0, 0, 0.5, true), // hole in the island
		square(90, 0, 1, true),  // a hole in nothing
		{},
	}
	pieces := Pieces(g)
	want := []float64{400 - 36, 4 - 1, 100 - 8}
	if len(pieces) != len(want) {
		t.Fatalf("got %d pieces, want %d", len(pieces), len(want))
	}
	for i, p := range pieces {
		if math.Abs(p.Area()-want[i]) > 1e-12 {
			t.Errorf("piece %d has %g, want %g", i, p.Area(), want[i])
		}
	}
}
