package trial

import (
	"strings"

	"grainstack/slicing/unit"
)

// A Difference is by how much one ticket has more of a quantity than another.
type Difference struct {
	Quantity
	From, To float64
	Estimate bool // of at least one of the two
}

// Against is the known differences of two tickets: t less from, quantity by quantity, in their order; what one of them doesn't know is left
// out. Both amounts are of one kind: where only one ticket has its cutters followed and its panels laid, both are taken as
// they are without, so that an estimate's error is not shown as a difference.
func (t Ticket) Against(from Ticket) []Difference {
	var out []Difference
	for q := range Quantities {
		a, b := t.Worked[q], from.Worked[q]
		estimate := false
		if !a.Known || !b.Known {
			a, b = t.Reckoned[q], from.Reckoned[q]
			estimate = roughly(q)
		}
		if a.Known && b.Known {
			out = append(out, Difference{q, b.Value, a.Value, estimate})
		}
	}
	return out
}

// roughly reports whether settled figures give only an estimate of a quantity.
func roughly(q Quantity) bool {
	switch q {
	case RouterTime, HandTime, PanelCount, BoardCount, BoardCost, NeedsALook:
		return true
	}
	return false
}

// By is how much more there is, less than nothing where there is less.
func (d Difference) By() float64 { return d.To - d.From }

// Text is the difference with its sign and unit, "" where it is nothing at the places that are printed or means nothing.
func (d Difference) Text(u unit.System) string {
	switch {
	case d.Quantity == TipAngle && (d.From < 0 || d.To < 0): // what falls over has no angle to compare
		return ""
	case d.Quantity.Text(d.From, u) == d.Quantity.Text(d.To, u):
		return ""
	}
	return d.Quantity.Signed(d.By(), u)
}

// Signed is a difference of the quantity with its sign and unit, "" where it is nothing at the places that are printed.
func (q Quantity) Signed(by float64, u unit.System) string {
	sign := "+"
	if by < 0 {
		sign, by = "−", -by
	}
	text := q.Text(by, u)
	if text == q.Text(0, u) || by < q.least() || strings.HasPrefix(text, "under") {
		return ""
	}
	return sign + text
}

// least is the smallest difference of a quantity that means anything: arithmetic in another order makes smaller ones.
func (q Quantity) least() float64 {
	switch q {
	case RouterTime, HandTime:
		return 1 // min
	}
	return 1e-9
}
