package app

import (
	"grainstack/app/state"
	"grainstack/app/work"
	"grainstack/slicing/finding"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/mend"
	"grainstack/slicing/workshop"
)

// takers put what was worked out on the bench, and say what went wrong. Each is called only while its answer is wanted.
type takers struct{ *core }

func (a takers) surveyed(_ state.SurveyKey, f *mend.Findings, err error) {
	if err != nil {
		a.fail(err)
		return
	}
	a.bench.Surveyed(f)
	a.trace.line("what=survey findings=%d crossings=%v", len(f.List), f.Crossings)
	a.trace.placesLater()
}

// mended takes a mended piece in place of the one before; a mending that failed leaves that one.
func (a takers) mended(_ work.MendAsk, m *state.Model, err error) {
	a.change.asked = a.bench.Now()
	if err != nil {
		a.Hint(a.bench.MendFault())
		return
	}
	a.bench.Exchange(m)
}

func (a takers) hollowed(_ *state.Model, m *state.Model, err error) {
	a.change.asked = a.bench.Now()
	if err != nil {
		a.fail(err)
		return
	}
	a.bench.Hollowed(m)
}

// stood takes a standing: it may be of an older turn while the hand goes on, but then it is newer than the last.
func (a takers) stood(ask work.StandAsk, st *job.Standing, err error) {
	switch m := a.bench.Model; {
	case ask.Key.Piece != m.Piece || ask.Key.Grid != m.Grid:
	case err != nil:
		a.fail(err)
	default:
		a.bench.Standing = st
	}
}

// figured takes figures of the present standing, maybe with older settings.
func (a takers) figured(key state.FigureKey, f *job.Figures, err error) {
	switch {
	case key.Standing != a.bench.Standing:
	case err != nil:
		a.fail(err)
	default:
		a.bench.Take(key, f)
	}
}

func (a takers) reached(ask work.ReachAsk, r *job.Reached, err error) {
	if err != nil {
		a.Hint("The cutters' reach is not known: " + err.Error())
		return
	}
	st := ask.Key.Standing
	a.bench.Reach.Last, a.bench.Reach.Of = r, st
	a.trace.line("what=reach trapped_cm3=%.3f core_cm3=%.3f router_min=%.1f off=%.4f cautions=%d", r.Trapped/1000, r.TrappedCore/1000, r.RouterMin(), r.Off(), len(r.Cautions))
	if a.trace == nil {
		return
	}
	for _, f := range r.Findings { // every undercut with its place in the piece's own frame
		if f.Kind == finding.Undercut {
			p := st.Placed.Placement.Back(f.At)
			a.trace.line("what=undercut rev=%d layer=%d own=%.2f,%.2f,%.2f mm3=%.1f", a.bench.Revision(), f.Layer, p.X, p.Y, p.Z, f.Size)
		}
	}
	for _, c := range r.Cautions {
		if c.Kind == finding.Undercut {
			for _, p := range c.Places {
				own := st.Placed.Placement.Back(p.At)
				a.trace.line("what=caution layer=%d own=%.2f,%.2f,%.2f text=%q", p.Layer, own.X, own.Y, own.Z, finding.Words{}.What(finding.Of(c.Kind, p)))
			}
			continue
		}
		a.trace.line("what=caution layer=%d text=%q", c.Layer(), finding.Words{}.Text(c))
	}
	a.trace.line("what=named cautions=%d", len(r.Cautions))
}

func (a takers) laidOut(ask work.ShopAsk, v *workshop.Workshop, err error) {
	if err != nil {
		a.Hint("The parts could not be laid out: " + err.Error())
		return
	}
	a.bench.Shop.Take(ask.Key, v)
}

func (a takers) stockSaved(o jobfile.OwnStock, _ work.Nothing, err error) {
	if err != nil {
		a.say("Your own stock is not saved", a.sentence(err))
		return
	}
	a.trace.line("what=stock bytes=%d", len(o.Text))
}
