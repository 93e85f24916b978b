package state

import (
	"image"

	"grainstack/render/look"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
	"grainstack/slicing/trial"
)

// Tried is what is known of the trials. Their tickets and pictures are looked up by their settings.
type Tried struct {
	bench *Reckoned

	Chosen   job.Settings // of the trial that the ticket is set against; the zero value for none
	Beside   map[job.Settings]bool
	Fold     Fold
	Tickets  map[TryKey]trial.Ticket
	Pictures map[job.Settings]TrialPicture
	Bodies   []TrialBody // of pieces that are mended otherwise than any that the bench knows
	Faults   map[Doing]string
	Version  int // counts what has come, so that pictures of it can be told apart
}

// A TrialPicture is the small picture of a trial.
type TrialPicture struct {
	Key PictureKey
	Img *image.RGBA
}

// A TrialBody is a thinned piece that was mended as some trial wants it.
type TrialBody struct {
	How  mend.Settings
	Body *look.Body
	Thin *mesh.Mesh
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
		bench:  t.bench,
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

// Key is the key of settings on the present piece.
func (t *Tried) Key(s job.Settings) TryKey {
	return TryKey{t.bench.Model.Piece.Scan, s, t.bench.Shelf.Now}
}

// Remind keeps a ticket.
func (t *Tried) Remind(key TryKey, one trial.Ticket) {
	if len(t.Tickets) >= mostTickets {
		wanted := map[TryKey]bool{t.Key(t.bench.Settings()): true}
		for _, kept := range t.bench.Trials() {
			wanted[t.Key(kept.Settings)] = true
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

// BodyFor is the thinned body of the piece as settings want it mended, the zero value where there is none yet.
func (t *Tried) BodyFor(s job.Settings) TrialBody {
	if m := t.bench.modelFor(s); m != nil {
		return TrialBody{m.Key.How, m.Thin, m.Piece.Thin}
	}
	for _, one := range t.Bodies {
		if one.How == s.Mending() {
			return one
		}
	}
	return TrialBody{}
}

// PictureKey is what the picture of settings hangs on now.
func (t *Tried) PictureKey(s job.Settings) PictureKey {
	key := PictureKey{Dark: t.bench.Screen.Dark, Size: t.bench.Screen.Trial}
	if m := t.bench.modelFor(s); m != nil {
		key.Body = m.Thin
	}
	return key
}

// KeepBody keeps a body that the bench has not.
func (t *Tried) KeepBody(one TrialBody) {
	for _, m := range t.bench.models() {
		if m.Thin == one.Body {
			return
		}
	}
	var kept []TrialBody
	for _, o := range t.Bodies {
		if o.How != one.How {
			kept = append(kept, o)
		}
	}
	kept = append(kept, one)
	t.Bodies = kept[max(0, len(kept)-mostBodies):]
}

// ChosenTrial is the number of the trial that the ticket is set against, -1 for none.
func (t *Tried) ChosenTrial() int {
	if t.Chosen == (job.Settings{}) {
		return -1
	}
	for i, one := range t.bench.Trials() {
		if one.Settings == t.Chosen {
			return i
		}
	}
	return -1
}

// BenchTicket is what is on the bench; ok is false while it is not known.
func (t *Tried) BenchTicket() (one trial.Ticket, ok bool) {
	b := t.bench
	if b.Model == nil || b.Figured.Raw == nil || b.Stale() {
		return one, false
	}
	one, ok = t.Tickets[t.Key(b.Settings())]
	if !ok && b.Figured.Raw.For == b.Settings() {
		one, ok = trial.NewTicket(b.Figured.Raw, b.Shelf.Now), true
	}
	return t.learned(one), ok
}

// Ticket is the ticket of settings and why there is none, "" where it is on its way.
func (t *Tried) Ticket(s job.Settings) (one trial.Ticket, fault string, ok bool) {
	key := t.Key(s)
	one, ok = t.Tickets[key]
	if ok && !one.Withheld.None() {
		return one, one.Withheld.In(t.bench.View.Units), true
	}
	return t.learned(one), t.Faults[Doing{Chore: Reckoning, Key: key}], ok
}

func (t *Tried) learned(one trial.Ticket) trial.Ticket {
	return one.Learned(hours.Learn(t.bench.Reach.Records, one.For.Machine))
}

// A Fold says whether the strip of trials is folded to a line.
type Fold int

// The choices.
const (
	AsRoom Fold = iota // in a low window
	Folded
	Unfolded
)

// Folded reports whether the strip of trials is folded.
func (t *Tried) Folded() bool {
	return t.Fold == Folded || t.Fold == AsRoom && t.bench.Screen.Low
}
