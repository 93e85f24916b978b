package finding

import (
	"fmt"

	"grainstack/slicing/phrase"
)

func undercut(t teller) string {
	if t.many() {
		return fmt.Sprintf("%d undercuts in %s: %s of wood can't be reached from either side and stays.", t.n(), t.in(), t.all())
	}
	return fmt.Sprintf("Undercut %s, in %s: %s of wood can't be reached from either side and stays.", t.Whereabouts(t.Worst()), t.in(), t.all())
}

func undercutDo(t teller) string {
	if t.Paper {
		return "Carve it by hand after the glue-up."
	}
	return "Look for ways out, or carve it by hand after the glue-up."
}

func beyondReach(t teller) string {
	p := t.Worst()
	return fmt.Sprintf("%s the %s has to go %s deep, but sticks out only %s%s.", side(p), phrase.Inside(t.Name), t.len(p.More[0]), t.len(p.More[1]), t.others())
}

func beyondEdge(t teller) string {
	p := t.Worst()
	return fmt.Sprintf("%s the %s has to go %s deep, but cuts only over its lowest %s%s.", side(p), phrase.Inside(t.Name), t.len(p.More[0]), t.len(p.More[1]), t.others())
}

func shankRubs(t teller) string {
	p, what := t.Worst(), "shank"
	if p.More[0] > 0 {
		what = "collet nut"
	}
	return fmt.Sprintf("%s the %s of the %s hits a wall: it stands %s too tall beside a deep place%s.", side(p), what, phrase.Inside(t.Name), t.worst(), t.others())
}

func noFit(t teller) string {
	p := t.Worst()
	if p.Name == "" {
		return fmt.Sprintf("The %s doesn't get through layer %d: up to %s of wood stay between the sides%s.", phrase.Inside(t.Name), p.Layer, t.worst(), t.others())
	}
	return fmt.Sprintf("%s the %s doesn't fit in at %s: up to %s of wood stay%s.", side(p), phrase.Inside(t.Name), times(int(p.More[0])), t.worst(), t.others())
}

func times(n int) string {
	if n == 1 {
		return "one place"
	}
	return fmt.Sprintf("%d places", n)
}

// others tells that there are other sides like the worst.
func (t teller) others() string {
	switch n := t.n() - 1; {
	case n <= 0:
		return ""
	case n == 1:
		return "; there is another side like it"
	default:
		return fmt.Sprintf("; there are %d more sides like it, in %s", n, numbered("layer", Finding{Places: t.Places[1:]}.Layers()))
	}
}
