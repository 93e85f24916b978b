package state

import (
	"image"

	"grainstack/app/task"
	"grainstack/render/look"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
	"grainstack/slicing/stock"
	"grainstack/slicing/trial"
)

// Tried is what is known of the trials. Their tickets and pictures are looked up by their settings.
type Tried struct {
	Chosen   job.Settings // of the trial that the ticket is set against; the zero value for none
	Beside   map[job.Settings]bool
	Fold     Fold
	Tickets  map[TryKey]trial.Ticket
	Pictures map[job.Settings]TrialPicture
	Bodies   []TrialBody // of pieces that are mended otherwise than any that the bench knows
	Faults   map[Doing]string
	Version  int // counts what has come, so that pictures of it can be told apart
}

// A TryKey is all that a ticket hangs on.
type TryKey struct {
	Scan     *job.Scan
	Settings job.Settings
	Stock    *stock.Catalogue
}

// A TrialPicture is the small picture of a trial.
type TrialPicture struct {
	Key PictureKey
	Img *image.RGBA
}

// A PictureKey is what a small picture hangs on besides the trial's settings.
type PictureKey struct {
	Body *look.Body // nil for one that only the trial's own piece has
	Dark bool
	Size image.Point
}

// A TrialBody is a thinned piece that was mended as some trial wants it.
type TrialBody struct {
	How  mend.Settings
	Body *look.Body
	Thin *mesh.Mesh
}

// A Chore is one kind of work on a trial.
type Chore int

// The chores.
const (
	Nothing Chore = iota
	Reckoning
	Drawing
	Following // the cutters, and laying the panels: long
)

// A Doing tells one piece of work on a trial from another.
type Doing struct {
	Chore Chore
	Key   TryKey
	Pic   PictureKey
}

const (
	// MostBeside is how many stacks are shown side by side.
	MostBeside = 4
	// mostTickets bounds the tickets that are remembered, so that undo and redo show them at once.
	mostTickets = 96
	// mostBodies is how many bodies are kept beside those of the bench: as many as can be seen side by side.
	mostBodies = MostBeside
)

// anew is what is known of another piece's trials; the first few are shown side by side.
func (t Tried) anew(trials []trial.Trial) Tried {
	out := Tried{
		Beside: map[job.Settings]bool{}, Tickets: map[TryKey]trial.Ticket{}, Pictures: map[job.Settings]TrialPicture{}, Faults: map[Doing]string{},
		Fold: t.Fold, Version: t.Version + 1,
	}
	for i, one := range trials {
		if i < MostBeside-1 {
			out.Beside[one.Settings] = true
		}
	}
	return out
}

// TryKey is the key of settings on the present piece.
func (b *Bench) TryKey(s job.Settings) TryKey { return TryKey{b.Model.Piece.Scan, s, b.Shelf.Now} }

// Take takes figures as they were worked out, also for what is known of trials.
func (b *Bench) Take(key FigureKey, f *job.Figures) {
	b.Reckoned.Take(key, f)
	if !f.Settled || !f.CoreKnown || b.BeingMended() || b.Model.Key != MendKeyOf(b.Model.Piece, f.For) {
		return
	}
	one := b.TryKey(f.For)
	if t, ok := b.Tried.Tickets[one]; !ok || !t.Deep {
		b.Remind(one, trial.NewTicket(f, b.Shelf.Now))
	}
}

// Remind keeps a ticket.
func (b *Bench) Remind(key TryKey, one trial.Ticket) {
	t := &b.Tried
	if len(t.Tickets) >= mostTickets {
		wanted := map[TryKey]bool{b.TryKey(b.Settings()): true}
		for _, kept := range b.Trials() {
			wanted[b.TryKey(kept.Settings)] = true
		}
		for old := range t.Tickets {
			if !wanted[old] {
				delete(t.Tickets, old)
			}
		}
	}
	t.Tickets[key] = one
	t.Version++
}

// models are all that the bench has of the scan.
func (b *Piece) models() []*Model { return append([]*Model{b.Model, b.Scan.Raw}, b.Scan.Made...) }

// modelFor is the model of the piece as settings want it mended, nil where the bench has none.
func (b *Piece) modelFor(s job.Settings) *Model {
	key := MendKeyOf(b.Model.Piece, s)
	if key == b.Model.Key {
		return b.Model
	}
	return b.Scan.Find(key)
}

// BodyFor is the thinned body of the piece as settings want it mended, the zero value where there is none yet.
func (b *Bench) BodyFor(s job.Settings) TrialBody {
	if m := b.modelFor(s); m != nil {
		return TrialBody{m.Key.How, m.Thin, m.Piece.Thin}
	}
	for _, one := range b.Tried.Bodies {
		if one.How == s.Mending() {
			return one
		}
	}
	return TrialBody{}
}

// KnownPieces are the pieces that the bench has.
func (b *Piece) KnownPieces() (all []trial.Tried) {
	for _, m := range b.models() {
		all = append(all, trial.Tried{Piece: m.Piece, Grid: m.Grid, How: m.Key.How})
	}
	return all
}

// PictureKey is what the picture of settings hangs on now.
func (b *Bench) PictureKey(s job.Settings) PictureKey {
	key := PictureKey{Dark: b.Screen.Dark, Size: b.Screen.Trial}
	if m := b.modelFor(s); m != nil {
		key.Body = m.Thin
	}
	return key
}

// KeepBody keeps a body that the bench has not.
func (b *Bench) KeepBody(one TrialBody) {
	for _, m := range b.models() {
		if m.Thin == one.Body {
			return
		}
	}
	var kept []TrialBody
	for _, o := range b.Tried.Bodies {
		if o.How != one.How {
			kept = append(kept, o)
		}
	}
	kept = append(kept, one)
	b.Tried.Bodies = kept[max(0, len(kept)-mostBodies):]
}

// ChosenTrial is the number of the trial that the ticket is set against, -1 for none.
func (b *Bench) ChosenTrial() int {
	if b.Tried.Chosen == (job.Settings{}) {
		return -1
	}
	for i, t := range b.Trials() {
		if t.Settings == b.Tried.Chosen {
			return i
		}
	}
	return -1
}

// BenchTicket is what is on the bench; ok is false while it is not known.
func (b *Bench) BenchTicket() (t trial.Ticket, ok bool) {
	if b.Model == nil || b.Figured.Raw == nil || b.Stale() {
		return t, false
	}
	t, ok = b.Tried.Tickets[b.TryKey(b.Settings())]
	if !ok && b.Figured.Raw.For == b.Settings() {
		t, ok = trial.NewTicket(b.Figured.Raw, b.Shelf.Now), true
	}
	return b.learned(t), ok
}

// TrialTicket is the ticket of settings and why there is none, "" where it is on its way.
func (b *Bench) TrialTicket(s job.Settings) (t trial.Ticket, fault string, ok bool) {
	key := b.TryKey(s)
	t, ok = b.Tried.Tickets[key]
	if ok && t.Withheld != "" {
		return t, t.Withheld, true
	}
	return b.learned(t), b.Tried.Faults[Doing{Chore: Reckoning, Key: key}], ok
}

func (b *Bench) learned(t trial.Ticket) trial.Ticket {
	return t.Learned(hours.Learn(b.Reach.Records, t.For.Machine))
}

// AtRest reports whether nothing is being worked out for the bench, that trials would take the cores from.
func (b *Bench) AtRest() bool {
	t := &b.Tasks
	return !b.Stale() && !b.Screen.Dragging && t.Reach.State != task.Working && t.Ways.State != task.Working && t.Settle.State != task.Working &&
		(b.Figures.Settled && b.Figures.CoreKnown || b.Figures.Withheld != "")
}

// A Fold says whether the strip of trials is folded to a line.
type Fold int

// The choices.
const (
	AsRoom Fold = iota // in a low window
	Folded
	Unfolded
)

// TrialsFolded reports whether the strip of trials is folded.
func (b *Bench) TrialsFolded() bool {
	return b.Tried.Fold == Folded || b.Tried.Fold == AsRoom && b.Screen.Low
}
