package main

import (
	"flag"
	"fmt"
	"strings"

	"grainstack/slicing/program"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// A machineFlags is what programs want to know of a machine where it is otherwise than the stock says.
type machineFlags struct {
	set                       *flag.FlagSet
	zero, height, first, last string
	byHand, pause, straight   bool
	mostBytes, mostLines      int
}

func bindMachine(set *flag.FlagSet) *machineFlags {
	f := &machineFlags{set: set}
	const says = "; as the machine's entry in the stock says where it isn't given"
	set.StringVar(&f.zero, "zero", "", "`WHERE` programs have X0 Y0: corner (the panel's front left one as it lies), middle, or dowel (the first register dowel)"+says)
	set.StringVar(&f.height, "zero-height", "", "`WHERE` programs have Z0: face (of the raw panel that lies up) or bed (under the panel: the board's thickness doesn't matter then)"+says)
	set.BoolVar(&f.byHand, "hand-spindle", false, "programs don't start and stop the spindle: it is switched by hand"+says)
	set.BoolVar(&f.pause, "pause", false, "programs stop for the cutter to be changed before the spindle starts"+says)
	set.BoolVar(&f.straight, "no-arcs", false, "programs have straight moves alone, for a controller without G2 and G3"+says)
	set.IntVar(&f.mostBytes, "most-bytes", 0, "`BYTES` of the largest file that the controller takes, 0 for any: longer programs are divided into parts"+says)
	set.IntVar(&f.mostLines, "most-lines", 0, "the same in `LINES`"+says)
	set.StringVar(&f.first, "first-lines", "", "`LINES` of your own at the start of every program, with ; between them"+says)
	set.StringVar(&f.last, "last-lines", "", "`LINES` of your own at the end of every program, with ; between them"+says)
	return f
}

// machine is what programs are written for: as the stock says, with what flags say otherwise. inches writes them in inches
// whatever the machine's unit is.
func (f *machineFlags) machine(m stock.Machine, inches bool) (program.Machine, error) {
	out := program.For(m)
	var fault error
	f.set.Visit(func(one *flag.Flag) {
		var err error
		switch one.Name {
		case "zero":
			out.Zero, err = stock.ParseZero(f.zero)
		case "zero-height":
			out.Height, err = stock.ParseHeight(f.height)
		case "hand-spindle":
			out.Spindle = !f.byHand
		case "pause":
			out.Pause = f.pause
		case "no-arcs":
			out.Arcs = !f.straight
		case "most-bytes":
			out.MostBytes = f.mostBytes
		case "most-lines":
			out.MostLines = f.mostLines
		case "first-lines":
			out.First = linesOf(f.first)
		case "last-lines":
			out.Last = linesOf(f.last)
		}
		if err != nil {
			fault = fmt.Errorf("-%s %w", one.Name, err)
		}
	})
	if inches {
		out.Units = unit.Inch
	}
	if fault == nil {
		fault = out.Check()
	}
	if fault != nil {
		return out, &usageError{fault.Error()}
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
