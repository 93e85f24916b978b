package card

import (
	"testing"

	"grainstack/slicing/scans"
)

// The usual width of a seam lies in the stretch of its rule where most makers are, and within the rule, however large the piece is.
func TestSeamsFitThePiece(t *testing.T) {
	d := newDesk(t)
	m := seams(d, Joiner{})
	p := *d.state.Piece
	for _, longest := range []float64{0.9, 18.5, 300, 4000} {
		p.Joined = &scans.Joined{Plan: &scans.Plan{}, Set: &scans.Set{Size: longest}}
		s := d.state
		s.Piece, s.Join.Blend = &p, scans.UsualBlend
		m.show(s)
		if v := m.Value(s); v < m.Low || v > m.High {
			t.Errorf("of a piece of %g the usual width is %g, sensible are %g to %g", longest, v, m.Low, m.High)
		}
		if r := m.rule; !(r.Min < r.Low && r.Low < r.value && r.value < r.High && r.High < r.Max) {
			t.Errorf("of a piece of %g the rule goes from %g over %g, %g, %g to %g", longest, r.Min, r.Low, r.value, r.High, r.Max)
		}
		if got := m.under.Text(); got == "" || m.faulty {
			t.Errorf("under it stands %q", got)
		}
	}
}
