package card

import (
	"grainstack/app/session"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/stock"
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
	Layer     int
	Distance  float64        // between two picked points, in the piece's own units; 0 where none are picked
	Survey    *mend.Findings // what the scan has; nil until that is known
	Finding   int            // the one of Survey.List that the view is at, from 1; 0 for none
	Mending   bool           // the piece is being mended: it is still the one of before
	MendFault string         // why the piece is not mended as the settings want it, "" where it is
	Off       Off            // what was called off by hand
	Carving   CarvingState
	Workshop  *workshop.Workshop // of the present settings and places, nil until it is known
	Compass   CompassState
	Picking   string // what a click on the piece will be taken for, "" for picking a layer
}

// Off says of work whether the maker has called it off: it will not come until it is gone on with.
type Off struct{ Survey, Hollow, Reach, Shop bool }

// goOn is a button that goes on with what was called off, there while off says so.
func goOn(b Bench, off func(Off) bool) *presses {
	return (&presses{Each: []press{{Do: func(State) { b.Run("go on") }, Show: func(s State) (string, bool) {
		if off(s.Off) {
			return "Go on with it", true
		}
		return "", false
	}}}}).on()
}

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
