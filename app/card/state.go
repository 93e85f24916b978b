package card

import (
	"grainstack/app/session"
	"grainstack/slicing/compass"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/stock"
	"grainstack/slicing/wayout"
	"grainstack/slicing/workshop"
)

// A State is all that cards show.
type State struct {
	Settings  job.Settings
	Angles    [3]float64 // degrees about the fixed axes X, Y, Z that make the settings' turn
	Catalogue *stock.Catalogue
	Piece     *job.Piece    // nil while there is none
	Standing  *job.Standing // nil until the piece has been stood; may be of an older turn
	Figures   *job.Figures  // nil until there are any
	Stale     bool          // the figures are of older settings
	View      session.View
	Picked    Picked
	Mend      MendState
	Join      JoinState
	Off       Off // what was called off by hand
	Carving   CarvingState
	Workshop  *workshop.Workshop // of the present settings and places, nil until it is known
	Compass   CompassState
}

// Picked is what the hand has picked, and what it will.
type Picked struct {
	Layer    int
	Distance float64 // between two picked points, in the piece's own units; 0 where none are picked
	Click    string  // what a click on the piece will be taken for, "" for picking a layer
}

// A MendState is how far the scan is on its way to one solid.
type MendState struct {
	Survey  *mend.Findings // what the scan has; nil until that is known
	Finding int            // the one of Survey.List that the view is at, from 1; 0 for none
	Busy    bool           // the piece is being mended: it is still the one of before
	Fault   string         // why the piece is not mended as the settings want it, "" where it is
}

// Off says of work whether the maker has called it off: it will not come until it is gone on with.
type Off struct{ Survey, Hollow, Reach, Shop bool }

// A Bench is where cards write.
type Bench interface {
	// Do changes the settings under a name; changes of one name belong to one gesture until Rest.
	Do(name string, change func(job.Settings) job.Settings)
	Rest()
	// Look changes how the pictures are looked at.
	Look(change func(*session.View))
	// Go takes the view to a finding of the survey's list, by its number from 1.
	Go(finding int)
	// Run runs a command of the window's table by its name.
	Run(command string)
	// Hint says a word about what is under the hand; "" takes it away.
	Hint(words string)
}

// A CarvingState is what the carving card shows.
type CarvingState struct {
	Reached *job.Reached // of the present settings, nil while it is being worked out
	Ways    []wayout.Way // of the present settings
	Seeking bool         // they are being looked for
	Sought  bool         // they have been
	Factor  hours.Factor // learned of the present machine
}

// A CompassState is what the card of directions shows.
type CompassState struct {
	Busy    bool
	Share   float64 // done
	Fault   string
	Stale   bool // of other settings than the present ones
	Found   int  // directions looked at
	Best    [4]string
	Lean    string // of the best
	Moved   float64
	Weights compass.Weights
}

// A JoinState is how far the joining of scans is.
type JoinState struct {
	Busy  bool    // scans are being joined: it is still the piece of before
	Blend float64 // width of the seams that is wanted, by the scans' longest side
}
