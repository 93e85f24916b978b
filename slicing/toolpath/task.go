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
	Name   string // of its file
	Side   panel.Face
	Step   program.Step
	Cutter stock.Cutter
	from   carve.Side
}

// Tasks are the programs of a panel in the order of work, which is the work book's: the cutter changes once, the panel turns
// twice, and holes for pins are drilled by the finish cutter while the panel still holds the parts.
func (p *Panel) Tasks(s hours.Setup) []Task {
	out := []Task{
		{Step: program.Rough, Cutter: s.Rough, from: carve.Up}, {Step: program.Rough, Cutter: s.Rough, from: carve.Down},
		{Step: program.Finish, Cutter: s.Finish, from: carve.Down}, {Step: program.Finish, Cutter: s.Finish, from: carve.Up},
	}
	for i := range out {
		t := &out[i]
		t.Side = face(t.from)
		t.Name = fmt.Sprintf("panel-%02d-%d-%v-%v.nc", p.Number, i+1, t.Side, t.Step)
	}
	return out
}
