package plane

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"grainstack/slicing/geom"
)

// TestThin: what stays is of the line in its order with both ends, and no point lies further from it than asked, not even where
// the line runs back beyond its ends.
func TestThin(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 5))
	for range 300 {
		var line geom.Ring
		p := geom.Vec2{}
		for range 2 + rnd.IntN(120) {
			p = p.Add(geom.Vec2{X: rnd.Float64() - 0.45, Y: rnd.Float64() - 0.5})
			line = append(line, p)
		}
		within := rnd.Float64()
		kept := Thin(line[:1:1], line, within)
		at := 0
		for i, q := range kept {
			k := slices.Index(line, q)
			if i == 0 && k != 0 || i > 0 && k <= at || i == len(kept)-1 && k != len(line)-1 {
				t.Fatalf("point %d of what stays is point %d of the line", i, k)
			}
			for _, o := range line[at:k] {
				if d := Apart(o, kept[max(i-1, 0)], q); d > within+1e-12 {
					t.Fatalf("a point lies %g from what stays, more than %g", d, within)
				}
			}
			at = k
		}
	}
	if got := Thin(nil, geom.Ring{{}, {X: 5}, {X: -3}, {X: 4}}, 0.1); len(got) != 3 || math.Abs(got[1].X+3) > 0 {
		t.Errorf("a line that runs back past its start loses how far it ran: %v", got)
	}
}
