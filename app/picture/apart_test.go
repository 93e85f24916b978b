package picture

import (
	"testing"

	"grainstack/render/tone"
	"grainstack/slicing/join"
	"grainstack/slicing/mesh"
	"grainstack/slicing/scans"
)

// TestApart: each place has the tone of its distance, single far ones the last; what one scan or none saw is told from all of them.
func TestApart(t *testing.T) {
	j := &scans.Joined{Apart: make([]float32, 102), Piece: &join.Result{Mesh: &mesh.Mesh{Points: make([]mesh.Point, 102)}}}
	for i := range 100 {
		j.Apart[i] = float32(i) / 100
	}
	j.Apart[99], j.Apart[100], j.Apart[101] = 50, -1, -1
	j.Piece.Mesh.Triangles, j.Piece.Guessed = []mesh.Triangle{{0, 1, 2}, {101, 101, 101}}, []bool{false, true}
	if most := MostApart(j); most < 0.9 || most > 1 {
		t.Errorf("the scale ends at %g", most)
	}
	c := Apart(j)
	if c.RGB[0] != ApartTone(0) || c.RGB[99] != ApartTone(1) || c.RGB[100] != AloneTone() || c.RGB[101] != GuessTone() {
		t.Errorf("tones %v", c.RGB)
	}
	light := func(rgb [3]uint8) float64 { return tone.FromBytes(rgb[0], rgb[1], rgb[2]).Lab()[0] }
	for i := 1; i < 99; i++ {
		if a, b := light(c.RGB[i-1]), light(c.RGB[i]); b > a+0.5 {
			t.Errorf("place %d is lighter than the one before it: %.1f, %.1f", i, a, b)
		}
	}
	if MostApart(&scans.Joined{Apart: []float32{-1}}) != 0 {
		t.Error("the scale of nothing has an end")
	}
}
