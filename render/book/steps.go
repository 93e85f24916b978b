package book

import "fmt"

// A Pass is one run of the router, or one job by hand.
type Pass struct {
	Cutter   string
	Settings string // such as "18 000 rpm · 2500 mm/min · stepdown 4 mm"
	Minutes  float64
}

// A Carving is what is done to one panel.
type Carving struct {
	Drill                            Pass // register dowels
	RoughA, RoughB, FinishB, FinishA Pass
	TurnMin, ChangeMin               float64 // to turn the panel over; to change the cutter
}

// A Step is one line of the work on a panel. Side B's steps lie between the second and the last of side A.
type Step struct {
	Number   int // from 1, over both sides
	Name     string
	Settings string
	Minutes  float64
}

// Steps are the steps of both sides in the order in which the cutter is changed once only: drill, rough A, turn, rough B,
// change cutter, finish B, turn, finish A.
func (c Carving) Steps() (sideA, sideB []Step) {
	pass := func(n int, name string, p Pass) Step {
		s := Step{n, name, p.Cutter, p.Minutes}
		if p.Settings != "" && s.Settings != "" {
			s.Settings += " · "
		}
		s.Settings += p.Settings
		return s
	}
	sideA = []Step{
		pass(1, "Drill the register dowels", c.Drill),
		pass(2, "Rough pass, side A", c.RoughA),
		pass(8, "Finish pass, side A", c.FinishA),
	}
	sideB = []Step{
		{3, "Turn the panel over to side B", "on the same two dowels", c.TurnMin},
		pass(4, "Rough pass, side B", c.RoughB),
		{5, "Change the cutter", changeTo(c.FinishB.Cutter), c.ChangeMin},
		pass(6, "Finish pass, side B", c.FinishB),
		{7, "Turn the panel back to side A", "on the same two dowels", c.TurnMin},
	}
	return sideA, sideB
}

func changeTo(cutter string) string {
	if cutter == "" {
		return "and set its height anew"
	}
	return fmt.Sprintf("to %s, and set its height anew", cutter)
}
