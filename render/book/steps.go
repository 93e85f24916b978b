package book

// A Step is one piece of work on a panel. Steps are numbered in their order over both sides.
type Step struct {
	SideB   bool // side B is up
	Name    string
	How     string // such as "18 000 rpm · 2500 mm/min · stepdown 4 mm"
	Minutes float64
}

// A turn is what is done without turning the panel over: consecutive steps of one side, the first of them with its number.
type turn struct {
	sideB bool
	first int // from 1
	steps []Step
}

// turnsOf shares steps out by which side is up.
func turnsOf(steps []Step) (out []turn) {
	for i, s := range steps {
		if n := len(out); n == 0 || out[n-1].sideB != s.SideB {
			out = append(out, turn{sideB: s.SideB, first: i + 1})
		}
		last := &out[len(out)-1]
		last.steps = append(last.steps, s)
	}
	return out
}
