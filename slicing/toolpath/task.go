package toolpath

import (
	"fmt"

	"grainstack/slicing/carve"
	"grainstack/slicing/hours"
	"grainstack/slicing/panel"
	"grainstack/slicing/program"
	"grainstack/slicing/stock"
)

// A Task is one program of a panel before its path is laid.
type Task struct {
	Name      string // of its file
	Side      panel.Face
	Step      program.Step
	Cutter    stock.Cutter
	from      carve.Side
	registers bool // holes of the register dowels, not of pins
}

// Tasks are the programs of a panel in the order of work, which is the work book's: the cutter changes once, the panel turns
// twice, and holes for pins are drilled by the finish cutter while the panel still holds the parts. Holes that the cutter at
// hand can't make are left out; without says so.
func (p *Panel) Tasks(s hours.Setup) (tasks []Task, without []string) {
	for _, t := range []Task{
		{Step: program.Holes, Cutter: s.Rough, from: carve.Up, registers: true},
		{Step: program.Rough, Cutter: s.Rough, from: carve.Up},
		{Step: program.Rough, Cutter: s.Rough, from: carve.Down},
		{Step: program.Finish, Cutter: s.Finish, from: carve.Down},
		{Step: program.Holes, Cutter: s.Finish, from: carve.Down},
		{Step: program.Finish, Cutter: s.Finish, from: carve.Up},
		{Step: program.Holes, Cutter: s.Finish, from: carve.Up},
		{Step: program.Free, Cutter: s.Finish, from: carve.Up},
	} {
		t.Side = face(t.from)
		if t.Step == program.Holes {
			if len(p.bores(t)) == 0 {
				continue
			}
			if why := p.undrilled(t); why != "" {
				without = append(without, why)
				continue
			}
		}
		if t.Step == program.Free {
			if len(p.thinned()) == 0 {
				continue
			}
			if why := p.unfreed(t.Cutter); why != "" {
				without = append(without, why)
				continue
			}
		}
		t.Name = fmt.Sprintf("panel-%02d-%d-%v-%v.nc", p.Number, len(tasks)+1, t.Side, t.Step)
		tasks = append(tasks, t)
	}
	return tasks, without
}
