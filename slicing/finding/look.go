package finding

import (
	"fmt"

	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

func crossed(t teller) string {
	if t.many() {
		return fmt.Sprintf("Joints go through what shall stay whole at %d places.", t.n())
	}
	p := t.Worst()
	place := fmt.Sprintf("what shall stay whole from %s to %s", t.len(p.More[0]), t.len(p.More[1]))
	if n := int(p.Size); n > 1 {
		return fmt.Sprintf("%d joints, between layers %d and %d, go through %s.", n, p.Layer-1, max(p.Layer, p.To), place)
	}
	return fmt.Sprintf("The joint between layers %d and %d goes through %s.", p.Layer-1, p.Layer, place)
}

func crossedDo(t teller) string {
	at, left, now := t.Figures[0], int(t.Figures[1]), int(t.Figures[2])
	switch {
	case at > 0 && left == 0:
		return fmt.Sprintf("A first joint at %s clears it.", t.len(at))
	case at > 0:
		return fmt.Sprintf("A first joint at %s leaves %s instead of %d.", t.len(at), Crossings(left), now)
	}
	return "No first joint does better for all such places. Mark less, or take another stand or thickness."
}

func tooHighDo(t teller) string {
	return fmt.Sprintf("No first joint clears it, as it is higher than a layer of %s. Take a thicker board, or turn the piece so that it lies lower.", t.len(t.Figures[0]))
}

func movedSurface(t teller) string {
	return fmt.Sprintf("The scan could not be closed as it was and was built anew on a grid: its surface moved by up to %s.", t.len(t.Worst().Size))
}

// Crossings counts joints through what shall stay whole.
func Crossings(n int) string {
	if n == 1 {
		return "one joint through such places"
	}
	return fmt.Sprintf("%d joints through such places", n)
}

func ownDoubled(t teller) string {
	return fmt.Sprintf("At the %s under %s the grain doesn't cross: both sides of the joint run the same way, show as one thick stripe and swell the same way.", t.one("joint", "joints"), t.in())
}

func doubled(t teller) string {
	if t.Figures[1] > 0 {
		return fmt.Sprintf("At %.0f joints two veneers of the same grain meet although layers are turned.", t.Figures[0])
	}
	return fmt.Sprintf("At %.0f joints two veneers of the same grain meet and show as one thick stripe.", t.Figures[0])
}

func doubledDo(t teller) string {
	if t.Figures[1] > 0 {
		return "With this board and skim, lay the layers all the same way."
	}
	return "Turn every second layer."
}

// hair is a thickness so small that a hundredth of a millimetre counts.
func (t teller) hair(mm float64) string {
	if t.Units == unit.Metric && mm < 0.005 {
		return "under 0.01 mm"
	}
	return t.len(mm)
}

func skimSliver(t teller) string {
	which := "lowest"
	if t.Figures[1] > 0 {
		which = "uppermost"
	}
	return fmt.Sprintf("The skim leaves %s of the %s veneer, a sliver at every joint.", t.hair(t.Figures[0]), which)
}

func skimSliverDo(t teller) string {
	return fmt.Sprintf("Skim %s more to lose it, or less to keep more.", t.hair(t.Figures[0]))
}

func planedThin(t teller) string {
	return fmt.Sprintf("Planed to %s, %s keeps %s of its outermost veneers, a sliver at each of its joints.", t.len(t.Figures[0]), t.Name, t.hair(t.Figures[1]))
}

func planedThinDo(t teller) string {
	return fmt.Sprintf("Skim the others so that layers are %s, or take another board for it.", t.len(t.Figures[2]))
}

func thinWood(t teller) string {
	p := t.Worst()
	switch {
	case t.many():
		return fmt.Sprintf("At %d places of %s wood is thin, down to %s: it breaks easily before it is glued.", t.n(), t.in(), t.worst())
	case p.More[0] > 0:
		return fmt.Sprintf("Layer %d has wood only %s thick over a width of %s: it breaks easily before it is glued.", p.Layer, t.worst(), t.len(p.More[0]))
	}
	return fmt.Sprintf("Layer %d has a wall only about %s wide: it breaks easily before it is glued.", p.Layer, t.worst())
}

func uneven(t teller) string {
	return fmt.Sprintf("On a stretch of the outline of a part of %s no tab of %s can stand for more than the %s wanted.", t.in(), t.len(t.Figures[0]), t.len(t.Figures[1]))
}

func tabsOver(t teller) string {
	return fmt.Sprintf("The edge of %s is thinner than a tab in places: there tabs run on over the wood, by up to %s, and are pared off after the glue-up.", t.in(), t.len(t.Figures[0]))
}

func slivers(t teller) string {
	return fmt.Sprintf("%d %s in %s, %s in all, left out: smaller than %s each, or nowhere %s wide.",
		t.n(), phrase.Plural(t.n(), "sliver is", "slivers are"), t.in(), t.all(), t.measured(volumes, t.Figures[0]), t.len(t.Figures[1]))
}

func staysSolid(t teller) string {
	return fmt.Sprintf("%s too thin for a wall of %s on all sides and %s solid.", capitalIn(t)+t.one(" is", " are"), t.len(t.Figures[0]), t.one("stays", "stay"))
}

func capitalIn(t teller) string { return numbered("Layer", t.Layers()) }

func shutHollow(t teller) string {
	return fmt.Sprintf("In %s the hollow closes off for the most part: %s that no cutter gets into stay wood.", t.in(), t.all())
}

func innerUndercut(t teller) string {
	return fmt.Sprintf("Inside, in %s, %s of the hollow lie under overhangs and stay wood, where nobody sees them.", t.in(), t.all())
}

func coarseColumns(t teller) string {
	return fmt.Sprintf("So large a piece in so many layers is followed on columns %s apart instead of %s: what is smaller goes unseen, and the hours are less sure.", t.len(t.Figures[0]), t.len(t.Figures[1]))
}
