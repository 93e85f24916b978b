package main

import (
	"flag"
	"fmt"
	"strings"

	"grainstack/slicing/geom"
	"grainstack/slicing/program"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// A machineFlags is what programs want to know of a machine beside what the stock says of it.
type machineFlags struct {
	zero, height, first, last string
	still, pause              bool
}

func bindMachine(set *flag.FlagSet) *machineFlags {
	f := &machineFlags{}
	set.StringVar(&f.zero, "zero", "corner", "`WHERE` programs have X0 Y0: corner (the panel's front left one as it lies), middle, or dowel (the first register dowel)")
	set.StringVar(&f.height, "zero-height", "face", "`WHERE` programs have Z0: face (of the raw panel that lies up) or bed (under the panel: the board's thickness doesn't matter then)")
	set.BoolVar(&f.still, "hand-spindle", false, "programs don't start and stop the spindle: it is switched by hand")
	set.BoolVar(&f.pause, "pause", false, "programs stop for the cutter to be changed before the spindle starts")
	set.StringVar(&f.first, "first-lines", "", "`LINES` of your own at the start of every program, with ; between them")
	set.StringVar(&f.last, "last-lines", "", "`LINES` of your own at the end of every program, with ; between them")
	return f
}

// machine is what programs are written for.
func (f *machineFlags) machine(m stock.Machine, units unit.System) (program.Machine, error) {
	out := program.UsualMachine()
	out.Travel, out.Units = geom.Vec{X: m.TravelX, Y: m.TravelY, Z: m.TravelZ}, units
	out.Spindle, out.Pause = !f.still, f.pause
	out.Start, out.End = linesOf(f.first), linesOf(f.last)
	switch f.zero {
	case "corner":
	case "middle":
		out.Zero = program.AtMiddle
	case "dowel":
		out.Zero = program.AtDowel
	default:
		return out, &usageError{fmt.Sprintf("the zero of programs is at the corner, middle or dowel, not %q", f.zero)}
	}
	switch f.height {
	case "face":
	case "bed":
		out.Height = program.OnBed
	default:
		return out, &usageError{fmt.Sprintf("the zero height of programs is at the face or the bed, not %q", f.height)}
	}
	if err := out.Check(); err != nil {
		return out, &usageError{err.Error()}
	}
	return out, nil
}

// linesOf are the lines between semicolons.
func linesOf(s string) (out []string) {
	for l := range strings.SplitSeq(s, ";") {
		if l = strings.TrimSpace(l); l != "" {
			out = append(out, l)
		}
	}
	return out
}
