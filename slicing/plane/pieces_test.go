package plane

import (
	"math/rand/v2"
	"testing"
)

// TestMaskPieces compares with components that are found place by place.
func TestMaskPieces(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 8))
	for range 200 {
		var m Mask
		m.Reset(1+rnd.IntN(150), 1+rnd.IntN(20))
		for i := range m.W * m.H {
			if rnd.IntN(3) == 0 {
				m.Set(i%m.W, i/m.W)
			}
		}
		labels, n := Components(m.W, m.H, func(i int) bool { return m.Has(i%m.W, i/m.W) })
		pieces, seen := m.Pieces(), 0
		if len(pieces) != n {
			t.Fatalf("%d pieces, want %d", len(pieces), n)
		}
		for k, runs := range pieces {
			for _, r := range runs {
				for i := r.From; i <= r.To; i++ {
					if seen++; labels[int(r.Row)*m.W+int(i)] != int32(k+1) {
						t.Fatalf("place %d, %d is in piece %d, want %d", i, r.Row, k+1, labels[int(r.Row)*m.W+int(i)])
					}
				}
			}
		}
		for _, l := range labels {
			if l != 0 {
				seen--
			}
		}
		if seen != 0 {
			t.Fatalf("%d places too many", seen)
		}
	}
}
