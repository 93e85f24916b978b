package state

import (
	"grainstack/app/task"
	"grainstack/slicing/job"
	"grainstack/slicing/proof"
	"grainstack/slicing/scans"
)

// Tasks are how far the work for the bench is.
type Tasks struct {
	PieceTasks
	Stand    task.Status[StandKey]
	Figure   task.Status[FigureKey]
	Settle   task.Status[FigureKey]
	Reach    task.Status[FigureKey]
	Ways     task.Status[FigureKey]
	Shop     task.Status[ShopKey]
	Programs task.Status[ShopKey]
	Course   task.Status[*proof.Batch]
	Compass  task.Status[CompassKey]
	Try      task.Status[Doing]
	Sight    task.Status[int] // by the serial number of the picked place
}

// PieceTasks are how far the work is from a file to a piece that can be hollowed: it hangs on no stand and no layers.
type PieceTasks struct {
	Open   task.Status[Opening]
	Join   task.Status[*scans.Plan]
	Mend   task.Status[MendKey]
	Survey task.Status[SurveyKey]
	Hollow task.Status[*job.Piece]
}
