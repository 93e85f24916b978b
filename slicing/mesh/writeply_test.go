package mesh_test

import (
	"bytes"
	"testing"

	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// TestWrittenPLYIsReadAgain: with and without the column of what nobody saw.
func TestWrittenPLYIsReadAgain(t *testing.T) {
	m := solidtest.Bumpy(80, 3_000)
	for _, guessed := range [][]bool{nil, make([]bool, len(m.Triangles))} {
		var out bytes.Buffer
		if err := mesh.WritePLY(&out, m, guessed); err != nil {
			t.Fatal(err)
		}
		got, raw, err := read(out.Bytes())
		if err != nil || raw.Format != "PLY" || len(got.Points) != len(m.Points) || len(got.Triangles) != len(m.Triangles) || !near(got.Volume(), m.Volume(), 1e-12) {
			t.Errorf("read again: %+v, %v", raw, err)
		}
	}
}
