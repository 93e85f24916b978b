package program

import (
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
