package app

import (
	"fmt"
	"time"

	"grainstack/app/card"
	"grainstack/app/task"
	"grainstack/app/work"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/unit"
	"grainstack/slicing/wayout"
)

// A carver is what the maker does with what the cutters reach.
type carver struct {
	*core
	tasks *tasks
}

// seek looks for ways out of what can't be reached.
func (c *carver) seek() {
	if work.Seek(c.bench, c.tasks.ways) {
		c.changed()
	}
}

func (c *carver) waysFound(a work.ReachAsk, ways []wayout.Way, err error) {
	if err != nil {
		c.Hint("No way out could be looked for: " + err.Error())
		return
	}
	r := &c.bench.Reach
	r.Ways, r.WaysFor, r.Sought = ways, a.Key.Settings, true
	for _, o := range ways {
		c.trace.line("what=way frees=%d trapped_cm3=%.3f text=%q", o.Frees, o.Trapped/1000, o.Words(unit.Metric))
	}
	c.trace.line("what=ways ways=%d", len(ways))
	time.AfterFunc(shownBy, c.trace.placesLater) // the card is laid out anew with the next frames
}

// shownBy is when what was changed is laid out for certain.
const shownBy = 100 * time.Millisecond

// take takes a way out; it is undone like any other step.
func (c *carver) take(o wayout.Way) {
	c.Do("way out", func(job.Settings) job.Settings { return o.Settings })
	c.Rest()
}

// took keeps the minutes that a side really took and uses them from now on.
func (c *carver) took(layer int, down bool, minutes float64) {
	f, r := c.bench.Figures, &c.bench.Reach
	if f == nil || c.bench.Stale() || layer < 1 || layer > len(f.Layers) {
		c.Hint("Wait until the hours are known, then type it again.")
		return
	}
	r.Records = append(r.Records[:len(r.Records):len(r.Records)],
		hours.Record{Machine: f.For.Machine, Layer: layer, Down: down, Reckoned: f.Reckoned(layer, down), Took: minutes})
	if r.Path != "" {
		if err := jobfile.SaveRecords(r.Path, r.Records); err != nil {
			c.Hint(err.Error())
		}
	}
	c.Hint(fmt.Sprintf("Layer %d: %.0f min kept. From now on it counts in every hour shown.", layer, minutes))
	c.changed()
}

// carvingState is what the carving card shows.
func (c *carver) carvingState() card.CarvingState {
	b := c.bench
	s := card.CarvingState{Seeking: b.Tasks.Ways.State == task.Working, Factor: hours.Learn(b.Reach.Records, b.Settings().Machine), Reached: b.Reached()}
	s.Ways, s.Sought = b.Ways()
	return s
}
