package app

import (
	"strings"

	"grainstack/app/card"
	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/app/view"
	"grainstack/app/work"
	"grainstack/render/swatch"
	"grainstack/slicing/jobfile"
)

// A taskRow is a task in the table.
type taskRow struct {
	worker
	words   func() string // at the foot
	foot    saying
	escape  escape
	want    func() // asks for what the bench wants now; nil where only the maker asks
	CallOff func() bool
	GoOn    func() bool
	Drop    func()
	State   func() task.State
	at      func() (step string, share float64, told bool)
}

// A worker is background work of whatever kind.
type worker interface {
	Stop() // see latest.Loop
	Wait()
	Busy() bool
}

// A saying is how a task tells at the foot how far it is.
type saying int

const (
	quiet  saying = iota
	told          // once its worker has told something
	byName        // from the beginning, by its name
)

// An escape is what Escape does to a task.
type escape int

const (
	stays    escape = iota
	callsOff        // it says so at the foot until it is gone on with
	drops           // it is as if it had not been asked for
)

// tasks are all work in the background that is not a picture. Those that the maker asks for have names.
type tasks struct {
	*core
	told     func() // a worker has said how far it is
	rows     []taskRow
	open     *task.Task[state.Opening, state.Opening, *state.Model]
	join     *work.JoinTask
	faces    *work.FacesTask
	ways     *work.WaysTask
	again    again
	compass  *work.CompassTask
	programs *work.ProgramsTask
	photo    *task.Task[int, string, *swatch.Photo]
	writers
}

// writers are the tasks that write files.
type writers struct {
	save  *task.Task[int, work.SaveAsk, work.Nothing]
	keep  *task.Task[int, work.SaveAsk, work.Nothing]
	stock *task.Task[int, jobfile.OwnStock, work.Nothing]
	still *task.Task[string, view.StillAsk, work.Nothing]
	make  *work.MakeTask
	sizes *work.SizesTask
}

// again has what failed or was called off be worked out after all.
type again struct{ mend, hollow, shop func() }

// add puts a task into the table, with what it wants of the bench; without that only the maker asks for it.
func add[Key comparable, Ask, Out any](ts *tasks, r taskRow, t *task.Task[Key, Ask, Out], want func(*state.Bench, *task.Task[Key, Ask, Out])) *task.Task[Key, Ask, Out] {
	r.worker, r.CallOff, r.GoOn, r.Drop, r.State, r.at = t, t.CallOff, t.GoOn, t.Drop, t.State, t.Progress
	if want != nil {
		r.want = func() { want(ts.bench, t) }
	}
	ts.rows = append(ts.rows, r)
	return t
}

// called is a row that always has the same words.
func called(words string, foot saying, esc escape) taskRow {
	return taskRow{words: func() string { return words }, foot: foot, escape: esc}
}

// last is the newest row.
func (t *tasks) last() *taskRow { return &t.rows[len(t.rows)-1] }

// desk is where a task of a name hands in.
func (t *tasks) desk(name string) task.Desk {
	return task.Desk{Post: t.answers(name), Say: t.post, Changed: t.refresh, Told: func() { t.told() }}
}

// showFoot says at the foot what is being worked out, or what was called off.
func (t *tasks) showFoot() {
	for _, r := range t.rows {
		step, share, said := r.at()
		if r.State() != task.Working || r.foot == quiet || r.foot == told && !said {
			continue
		}
		if !said {
			share = -1
		}
		if step == "" {
			step = r.words()
		}
		if step == "" {
			continue
		}
		t.margin.doing(step, share)
		return
	}
	t.margin.rest(t.wordsOff())
}

// callOff calls off all that is being worked out.
func (t *tasks) callOff() {
	for _, r := range t.rows {
		switch r.escape {
		case callsOff:
			r.CallOff()
		case drops:
			r.Drop()
		}
	}
	t.changed()
}

// resume goes on with all that was called off.
func (t *tasks) resume() {
	for _, r := range t.rows {
		r.GoOn()
	}
	t.changed()
}

// wordsOff name what was called off, "" for nothing.
func (t *tasks) wordsOff() string {
	var all []string
	for _, r := range t.rows {
		if r.State() == task.Off {
			all = append(all, r.words())
		}
	}
	return strings.Join(all, ", ")
}

// cardsOff is what of the work that cards tell of was called off.
func (t *tasks) cardsOff() card.Off {
	at := &t.bench.Tasks
	return card.Off{Survey: at.Survey.State == task.Off, Hollow: at.Hollow.State == task.Off, Reach: at.Reach.State == task.Off, Shop: t.bench.Shop.Off()}
}
