package finding

import "fmt"

func noFoot(teller) string {
	return "The piece touches the floor on a point or an edge only and doesn't stand by itself."
}

func fallsOver(t teller) string {
	return fmt.Sprintf("The piece falls over: its centre of mass lies %s outside of what it stands on.", t.len(t.Figures[0]))
}

func tipsEasily(t teller) string {
	return fmt.Sprintf("The piece falls over when it is tilted by %.1f degrees.", t.Figures[0])
}

// footed is what gives the piece a foot.
func footed(t teller) string {
	saw, tip := t.Figures[1], t.Figures[2]
	if t.Kind == NoFoot {
		saw, tip = t.Figures[0], t.Figures[1]
	}
	switch {
	case saw > 0:
		return fmt.Sprintf("Saw %s off its foot, and it stands until it is tilted by about %.0f degrees; or turn it, or give it a wider base.", t.len(saw), tip)
	case t.Kind == NoFoot:
		return "Turn it, or give it a foot."
	case t.Kind == FallsOver:
		return "Turn it, widen its base, or leave more wood low down."
	}
	return "Widen its base, or leave more wood low down."
}
