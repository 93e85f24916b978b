package app

import (
	"cmp"
	"context"
	"errors"
	"path/filepath"
	"time"

	"grainstack/app/state"
	"grainstack/app/work"
	"grainstack/slicing/mesh"
	"grainstack/slicing/phrase"
	"grainstack/slicing/scans"
)

// A joiner makes one piece of several scans. What is on the bench stays until the scans are joined, and where they can't be.
type joiner struct {
	*core
	on       *views
	tasks    *tasks
	cards    *cards
	matching *matchPage // on which places of scans are matched, nil while it is not open
	cutting  *cutPage   // on which it is chosen what of a scan is used, nil while it is not open
}

// joinable reports whether scans can be added to the piece: it is of files, and what it is made of is known.
func (j *joiner) joinable() bool { return j.bench.Model != nil && j.bench.Model.Piece.File != "" }

// addScan asks for another scan of the piece.
func (j *joiner) addScan() {
	c := chooser{title: "Another scan of this piece", confirm: "Add", endings: mesh.Endings()}
	j.choose(c, func(path string) { j.addScans([]string{path}) })
}

// addScans joins more scans with the piece.
func (j *joiner) addScans(files []string) {
	p := j.bench.Model.Piece
	plan := scans.NewPlan(append(p.Files(), files...)...)
	if p.Joined != nil {
		plan = p.Joined.With(files...)
	}
	j.carry("add "+phrase.Count(len(files), "scan"), plan, 0)
}

// carry carries a plan out after so much rest; the name is what undo calls it.
func (j *joiner) carry(name string, plan *scans.Plan, after time.Duration) {
	if err := plan.Check(); err != nil {
		j.notJoined(err)
		return
	}
	j.tasks.join.Drop()
	j.tasks.join.Want(plan, after, work.JoinAsk{Plan: plan, Of: j.bench.Model, Name: name})
	j.changed()
}

// removeScan takes a scan, by number from 0, out of the piece; the first gives the others their frame and stays.
func (j *joiner) removeScan(i int) {
	p := j.bench.Model.Piece
	if p.Joined == nil || i < 1 {
		return
	}
	name := "remove " + p.Joined.Set.Scans[i].Name
	if len(p.Joined.Set.Scans) > 2 {
		j.carry(name, p.Joined.Without(i), 0)
		return
	}
	j.say("Two scans are the least", "Without "+phrase.Name(p.Joined.Set.Scans[i].Name)+" only one scan is left. Undo takes the joining back; or open "+phrase.Name(filepath.Base(p.File))+" alone.")
}

// blendAfter is how long the hand has to rest on the width of the seams: joining takes seconds.
const blendAfter = 700 * time.Millisecond

// blendSeams joins the scans with seams of another width, by the longest side.
func (j *joiner) blendSeams(width float64) {
	if p := j.bench.Model.Piece; p.Joined != nil && width != j.bench.Blend() {
		j.carry("width of the seams", p.Joined.Blended(width), blendAfter)
	}
}

// joined takes the piece that scans were joined to.
func (j *joiner) joined(a work.JoinAsk, m *state.Model, err error) {
	if err != nil {
		j.notFound(err, a.Plan, func(p *scans.Plan) { j.carry(cmp.Or(a.Name, "match points"), p, 0) })
		return
	}
	j.change.asked = j.bench.Now()
	j.bench.Rejoin(m)
	if j.bench.Plan() != a.Plan {
		j.bench.Join(a.Name, a.Plan)
	}
	j.tasks.compass.Drop()
	for _, v := range j.on.drawers {
		v.Renew()
	}
	j.cards.show(j.cards.scans)
	j.trace.line("what=joined scans=%d rev=%d", len(a.Plan.Sources), j.bench.Revision())
}

// several is for several files at once: they are a piece of their own, which open opens, or more scans of the one on the bench.
func (j *joiner) several(files []string, open func()) {
	if !j.joinable() {
		open()
		return
	}
	text := "These " + phrase.Count(len(files), "file") + " can be more scans of the piece on the bench, or scans of another piece."
	j.ask("Scans of which piece?", text, 190, []string{"Add them to this piece", "Open them as another", "Back to the bench"}, func() { j.addScans(files) }, open, func() {})
}

// notFound says why scans are not joined and, where one of them was to be found, offers to place it by hand; done gets the plan with
// its matching points.
func (j *joiner) notFound(err error, plan *scans.Plan, done func(*scans.Plan)) {
	i, ok := plan.Sought()
	if errors.Is(err, context.Canceled) || !ok || !errors.Is(err, scans.ErrApart) {
		j.notJoined(err)
		return
	}
	name := phrase.Name(filepath.Base(plan.Sources[i].File))
	j.ask("These scans are not joined", j.sentence(err), 230, []string{"Match places of " + name, "Back to the bench"}, func() { j.match(plan, i, done) }, func() {})
}

// placeScan has a scan, by number from 0, placed anew by hand.
func (j *joiner) placeScan(i int) {
	p := j.bench.Model.Piece
	if p.Joined == nil || i < 1 {
		return
	}
	name := "match points of " + p.Joined.Set.Scans[i].Name
	j.match(p.Joined.Lying(), i, func(plan *scans.Plan) { j.carry(name, plan, 0) })
}

// notJoined says in a page why scans are not joined; what is on the bench stays.
func (j *joiner) notJoined(err error) {
	if !errors.Is(err, context.Canceled) {
		j.say("These scans are not joined", j.sentence(err))
	}
}
