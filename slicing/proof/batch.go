package proof

import (
	"bytes"

	"grainstack/slicing/panel"
	"grainstack/slicing/program"
	units "grainstack/slicing/unit"
)

// A Batch is the programs of one panel as they are written, in the order in which they are run, with what came of their proof.
type Batch struct {
	Number     int // of the panel
	Blank      program.Blank
	Skim       float64 // carved off each face
	TurnAlongY bool    // as in a Wanted
	Dowels     [2]panel.Dowel
	Clamps     []Clamp
	Machine    program.Machine
	Rapid      [2]float64 // the machine's fastest in X and Y, and in Z, mm/min
	Programs   []Written
	Minutes    []float64 // that each of them takes
	Proof      *Proof
	Refused    units.Said // why they are not to be written, none where they hold
}

// Line is the text of a line, from 1, of a file of a program; "" where there is none.
func (b *Batch) Line(program, file, line int) string {
	rest := b.Programs[program].Files[file].Text
	for n := 1; len(rest) > 0; n++ {
		text, next, _ := bytes.Cut(rest, []byte{'\n'})
		if n == line {
			return string(bytes.TrimSuffix(text, []byte{'\r'}))
		}
		rest = next
	}
	return ""
}

// bare is a panel of columns about so wide that is to become nothing: a model of its board to carve.
func (b *Batch) bare(step float64) *Wanted {
	w := &Wanted{Blank: b.Blank, Skim: b.Skim, TurnAlongY: b.TurnAlongY, Dowels: b.Dowels, W: columns(b.Blank.X, step), H: columns(b.Blank.Y, step)}
	w.StepX, w.StepY = b.Blank.X/float64(w.W-1), b.Blank.Y/float64(w.H-1)
	n := w.W * w.H
	w.Low, w.High, w.Kind, w.Whose = make([]int16, n), make([]int16, n), make([]Kind, n), make([]int16, n)
	return w
}

func columns(length, step float64) int { return max(2, int(length/step+0.5)+1) }
