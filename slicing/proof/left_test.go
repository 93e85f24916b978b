package proof

import (
	"math"
	"testing"

	"grainstack/slicing/program"
)

// TestANarrowSlotIsNoPlaceToBeSureOf: in a slot hardly wider than the cutter it could come down on one line alone, between two rows; a
// slot wider than the cutter by the distance of rows has a row in it.
func TestANarrowSlotIsNoPlaceToBeSureOf(t *testing.T) {
	limits, _ := usual()
	for _, tt := range []struct {
		half float64 // of the slot's width, mm
		sure bool
	}{{4.2, false}, {4.6, false}, {7, true}} {
		w := wanted()
		for k := range w.Kind {
			w.Kind[k], w.Low[k], w.High[k] = Frame, Counts(skim), Counts(boardThick-skim)
			if math.Abs(float64(k/w.W)*step-midY) <= tt.half {
				w.Kind[k], w.Low[k], w.High[k] = Free, 0, 0
			}
		}
		p := prover{board: newBoard(w), want: w, limits: limits, now: &program.Program{Cutter: endMill, Step: program.Rough}}
		r := p.reachable()
		i, j := int(midX/step), int(midY/step)
		if deep := r.lowest(i, j); deep > Counts(limits.Leave) {
			t.Errorf("slot of %g mm: the cutter comes down to %d only", 2*tt.half, deep)
		}
		got := r.surely(i, j, endMill.Stepover/2+limits.Lattice)
		if sure := got <= Counts(limits.Leave); sure != tt.sure {
			t.Errorf("slot of %g mm: surely down to %d", 2*tt.half, got)
		}
	}
}
