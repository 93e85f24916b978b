package finding

import (
	"fmt"
	"math"
	"strings"

	"grainstack/slicing/phrase"
)

// reason is a reason in words of its own, in the units that are shown.
func (t teller) reason() string { return t.Why.In(t.Units) }

// by is two lengths with a sign between them: "404 × 919 mm".
func (t teller) by(x, y float64) string {
	first := t.len(x)
	if i := strings.LastIndexByte(first, ' '); i > 0 {
		first = first[:i]
	}
	return first + " × " + t.len(y)
}

func tooLow(t teller) string {
	return fmt.Sprintf("The piece is only %s high.", t.len(t.Figures[0]))
}

func tooLargeGuess(t teller) string {
	p := t.Worst()
	return fmt.Sprintf("A part of layer %d is %s and does not fit a panel of %s, of which %s stay free along the edges.",
		p.Layer, t.by(p.Size, p.More[0]), t.by(t.Figures[1], t.Figures[2]), t.len(t.Figures[0]))
}

func tooLarge(t teller) string {
	p := t.Worst()
	room := t.by(t.Figures[0], t.Figures[1])
	if t.many() {
		return fmt.Sprintf("%d parts of %s are too large for a panel, which takes %s.", t.n(), t.in(), room)
	}
	return fmt.Sprintf("%s is %s as its grain lies, and the panel takes %s.", phrase.Capital(p.Name), t.by(p.Size, p.More[0]), room)
}

func tooLargeDo(t teller) string {
	scale := 100.0
	for _, p := range t.Places {
		scale = min(scale, p.More[1])
	}
	scaled := ""
	if scale > 5 && scale < 100 {
		scaled = fmt.Sprintf(", scale the piece to %.0f %% or less", scale)
	}
	return fmt.Sprintf("Use a larger panel, stand the piece another way%s, or split the layer along a joint line.", scaled)
}

func obstructed(t teller) string {
	if t.many() {
		return fmt.Sprintf("%d parts of %s would fit the panel, but not clear of its clamps and register dowels.", t.n(), t.in())
	}
	return phrase.Capital(t.Worst().Name) + " would fit the panel, but not clear of its clamps and register dowels."
}

func clampOnDowel(t teller) string {
	var all []string
	for _, p := range t.Places {
		when := ""
		if p.More[1] > 0 {
			when = " once the panel is turned over"
		}
		all = append(all, fmt.Sprintf("clamp %.0f lies over register dowel %.0f%s", p.Size, p.More[0], when))
	}
	return phrase.Capital(strings.Join(all, "; ")) + "."
}

func thinLast(t teller) string { return fmt.Sprintf("The last layer has only %s of wood.", t.worst()) }

func thinLastDo(t teller) string {
	return fmt.Sprintf("Scale by %.4f to lose it, or move the first joint.", t.Figures[0])
}

func smallPart(t teller) string {
	if t.many() {
		return fmt.Sprintf("%d parts of %s are too small to hold safely, the smallest %s long.", t.n(), t.in(), t.worst())
	}
	p := t.Worst()
	return fmt.Sprintf("A part of %s is only %s, %s: too small to hold safely.", t.in(), t.by(p.Size, p.More[0]), t.measured(volumes, p.More[1]))
}

// pressing is where a pressing is, as it begins a sentence; where there are several, how many.
func (t teller) pressing() string {
	if t.many() {
		return fmt.Sprintf("At %d pressings", t.n())
	}
	p := t.Worst()
	return fmt.Sprintf("Pressing %.0f, layers %d and %d:", p.More[0], p.Layer-1, p.Layer)
}

func tallPressing(t teller) string {
	return fmt.Sprintf("%s the stack is up to %s tall and the clamps open to %s.", t.pressing(), t.worst(), t.len(t.Figures[0]))
}

func fewClamps(t teller) string {
	return fmt.Sprintf("%s it takes %s clamps and there are %.0f.", t.pressing(), t.worst(), t.Figures[0])
}

func shortOpen(t teller) string {
	return fmt.Sprintf("%s spreading and clamping take about %s, the glue stays open for %.0f min.", t.pressing(), t.worst(), t.Figures[0])
}

func heavy(t teller) string {
	p := t.Worst()
	if t.many() {
		return fmt.Sprintf("%s the upper sub-stack is too heavy for one person by the NIOSH figure, the heaviest weighs %s.", t.pressing(), t.worst())
	}
	if p.More[1] == 0 {
		return fmt.Sprintf("%s the upper sub-stack weighs %s and is too wide to be held close to the body.", t.pressing(), t.worst())
	}
	return fmt.Sprintf("%s the upper sub-stack weighs %s; for one person the NIOSH figure is %s here.", t.pressing(), t.worst(), t.measured(masses, p.More[1]))
}

func heavyDo(t teller) string {
	people := 0.0
	for _, p := range t.Places {
		if p.More[1] == 0 {
			return "Lift it with a helper on each side, or with a hoist."
		}
		people = max(people, math.Ceil(p.Size/p.More[1]))
	}
	if t.many() {
		return fmt.Sprintf("Lift with up to %.0f people, or with a hoist.", people)
	}
	return fmt.Sprintf("Lift it with %.0f people or a hoist.", people)
}

func dislodged(t teller) string {
	return fmt.Sprintf("The locked %s can't stay where it was: %s.", t.Worst().Name, t.reason())
}

func lostSplit(t teller) string { return fmt.Sprintf("There is no %s any more.", t.Worst().Name) }

func missedSplit(t teller) string { return fmt.Sprintf("The joint line misses %s.", t.Worst().Name) }

func noPins(t teller) string {
	return fmt.Sprintf("At the %s under %s a part has no room for two pins of %s.", t.one("joint", "joints"), t.in(), t.len(t.Figures[0]))
}

func pinAtEdge(t teller) string {
	return fmt.Sprintf("A pin under layer %d has %s of wood from its middle to %s and wants %s.", t.Layer(), t.worst(), t.Name, t.len(t.Figures[0]))
}
