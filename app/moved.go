package app

import (
	"path/filepath"

	"grainstack/app/state"
	"grainstack/slicing/jobfile"
)

// askMoved asks where the piece of a job is now.
func (f *filing) askMoved(a state.Opening, e *jobfile.MovedError) {
	name := filepath.Base(e.Piece)
	title, text := "The piece of this job is not where it was", "The job "+filepath.Base(e.Job)+" is of the piece "+e.Piece+", and it can't be read there. Say where "+name+" is now, or put it back and open the job again."
	if e.Changed {
		title = "This is another piece"
		text = e.Piece + " holds something else than the piece had when the job was saved, so the job's layout and figures would not belong to it. Say where the piece of then is, or open this one by itself and begin a job of its own."
	}
	f.trace.line("what=moved changed=%v", e.Changed)
	f.ask(title, text, 230, []string{"Say where it is…", "Back to the bench"}, func() { f.findMoved(a, e) }, func() {})
}

// findMoved has the piece pointed out and opens the job with it.
func (f *filing) findMoved(a state.Opening, e *jobfile.MovedError) {
	c := chooser{title: "Where is " + filepath.Base(e.Piece) + " now?", confirm: "This is it", endings: endingOf(e.Piece), folder: filepath.Dir(e.Job)}
	f.choose(c, func(path string) { f.openMoved(a.Path, path) })
}
