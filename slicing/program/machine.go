package program

import (
	"fmt"

	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// A Zero is where the maker sets X and Y to 0.
type Zero int

// The zeros in X and Y.
const (
	AtCorner Zero = iota // the panel's front left corner as it lies
	AtMiddle             // the middle of the panel
	AtDowel              // the first register dowel, as it is for the side that lies up
)

// A Height is where the maker sets Z to 0.
type Height int

// The zeros in Z.
const (
	OnFace Height = iota // the panel's face that lies up, where it was not skimmed
	OnBed                // what the panel lies on: layers are as thick as wanted whatever the board's thickness is
)

// A Machine is what has to be known of a machine for a program to be written.
type Machine struct {
	Travel    geom.Vec // 0 in an axis where it isn't known
	Zero      Zero
	Height    Height
	Units     unit.System // of the file: G21 or G20
	Spindle   bool        // the machine starts and stops its spindle by M3 and M5
	Pause     bool        // each file stops for the cutter to be changed (M0) before the spindle starts
	MostBytes int         // the largest file that the controller takes, 0 for any
	Start     []string    // lines of the maker's own at the start, after the units are set
	End       []string    // and before the end
}

// UsualMachine writes millimetres, with the zero in the panel's corner and on its face, and turns the spindle on and off.
func UsualMachine() Machine { return Machine{Spindle: true} }

// Origin is where a machine's zero lies in the frame of programs for a panel with its register dowels as they lie.
func (m Machine) Origin(b Blank, dowels [2]geom.Vec2) geom.Vec {
	var at geom.Vec
	switch m.Zero {
	case AtMiddle:
		at.X, at.Y = b.X/2, b.Y/2
	case AtDowel:
		at.X, at.Y = dowels[0].X, dowels[0].Y
	}
	if m.Height == OnBed {
		at.Z = -b.Board
	}
	return at
}

// leastFile is the least that a file takes, bytes: its head and a few moves.
const leastFile = 4096

// longestLine bounds a line of the maker's own; NIST RS274/NGC takes 256 signs, small controllers often 80 or fewer (from memory).
const longestLine = 80

// Check says in a sentence what is wrong with what a machine is said to be, nil where programs can be written for it.
func (m Machine) Check() error {
	for _, t := range []struct {
		name string
		mm   float64
	}{{"X", m.Travel.X}, {"Y", m.Travel.Y}, {"Z", m.Travel.Z}} {
		if !(t.mm >= 0 && t.mm < farthest) {
			return fmt.Errorf("the machine travels %g mm in %s: give how far it goes, or 0 where that isn't known", t.mm, t.name)
		}
	}
	switch {
	case m.Zero < AtCorner || m.Zero > AtDowel:
		return fmt.Errorf("the zero of X and Y is at none of the panel's corner, its middle and its register dowel: choose one")
	case m.Height < OnFace || m.Height > OnBed:
		return fmt.Errorf("the zero of Z is neither on the panel's face nor on the bed: choose one")
	case m.MostBytes < 0 || m.MostBytes > 0 && m.MostBytes < leastFile:
		return fmt.Errorf("the controller takes files of %d bytes: a program needs %d at the least; give 0 for files of any size", m.MostBytes, leastFile)
	}
	for _, own := range [][]string{m.Start, m.End} {
		for _, line := range own {
			if !plain(line) || len(line) > longestLine {
				return fmt.Errorf("the line %q of the machine has other signs than plain letters, digits and marks, or more than %d: shorten it", line, longestLine)
			}
		}
	}
	return nil
}

// plain reports whether a text is of printable ASCII signs alone.
func plain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}
