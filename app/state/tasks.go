package state

import (
	"grainstack/app/task"
	"grainstack/slicing/job"
)

// Tasks are how far the work for the bench is.
type Tasks struct {
	Open    task.Status[Opening]
	Mend    task.Status[MendKey]
	Survey  task.Status[SurveyKey]
	Hollow  task.Status[*job.Piece]
	Stand   task.Status[StandKey]
	Figure  task.Status[FigureKey]
	Settle  task.Status[FigureKey]
	Reach   task.Status[FigureKey]
	Ways    task.Status[FigureKey]
	Shop    task.Status[ShopKey]
	Compass task.Status[CompassKey]
	Try     task.Status[Doing]
	Sight   task.Status[int] // by the serial number of the picked place
}

// An Opening is a piece that is asked for; without a path, the one to begin with.
type Opening struct {
	Asking
	Path  string
	Moved string // where the piece of the job at path is now, "" for where the job says
}
