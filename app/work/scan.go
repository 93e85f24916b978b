package work

import (
	"context"
	"time"

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
)

// A MendAsk asks for the piece as the settings want it mended.
type MendAsk struct {
	raw      *state.Model
	closed   *state.Model // the same but for smoothing and thinning, nil where it is not known
	key      state.MendKey
	settings job.Settings
}

// mendAfter is how long the hand has to rest before mending begins anew: it would only be called off.
const mendAfter = 150 * time.Millisecond

// WantMend wants the piece mended as the settings say.
func WantMend(b *state.Bench, t *task.Task[state.MendKey, MendAsk, *state.Model]) {
	key, scan := b.MendKey(), &b.Scan
	if key == b.Model.Key {
		t.Drop()
		return
	}
	a := MendAsk{raw: scan.Raw, key: key, settings: b.Settings()}
	whole := a.settings
	whole.Mend.Smooth, whole.Mend.Thin = 0, 0
	a.closed = scan.Find(state.MendKeyOf(b.Model.Piece, whole))
	after := mendAfter
	if b.Model == scan.Raw && len(scan.Made) == 0 {
		after = 0
	}
	t.Want(key, after, a)
}

// Mend makes a solid of a scan; called off, it gives only the error.
func Mend(ctx context.Context, a MendAsk, report task.Report[*state.Model]) (*state.Model, error) {
	closed, how := a.raw.Piece, a.key.How
	if c := a.closed; c != nil && c.Key.How.Off == how.Off && c.Key.How.Resolution == how.Resolution {
		closed = c.Piece
	} else {
		var err error
		if closed, err = closed.Close(ctx, a.settings, report.Progress); err != nil {
			return nil, err
		}
	}
	p, err := closed.Refine(ctx, a.settings, report.Progress)
	if err != nil {
		return nil, err
	}
	return a.raw.Mended(p, a.key), ctx.Err()
}

// WantSurvey wants the scan looked over: first for all but where it runs through itself, which takes longest, and for that too
// where mending did not find the scan clean.
func WantSurvey(b *state.Bench, t *task.Task[state.SurveyKey, state.SurveyKey, *mend.Findings]) {
	scan := b.Model.Piece.Scan
	key := state.SurveyKey{Scan: scan}
	switch found := b.Scan.Survey; {
	case found == nil:
	case !found.Crossings && !b.BeingMended() && (b.Model.Piece.Mesh != scan.Mesh || b.Model.Key.How.Off):
		key.Crossings = true
	default:
		return
	}
	t.Want(key, 0, key)
}

// Survey looks a scan over.
func Survey(ctx context.Context, a state.SurveyKey, _ task.Report[*mend.Findings]) (*mend.Findings, error) {
	f, err := mend.Survey(ctx, a.Scan.Mesh, a.Scan.Adjacency, a.Crossings)
	return &f, err
}

// WantHollow wants the hollow where the piece has an inside. A scan that is being mended waits for what comes of it, but for one
// of a single shell: most likely that is clean, and stays as it is.
func WantHollow(b *state.Bench, t *task.Task[*job.Piece, *state.Model, *state.Model]) {
	m := b.Model
	switch scan := m.Piece == b.Scan.Raw.Piece; {
	case m.Grid != nil || !m.Piece.Solid():
		t.Drop()
	case !scan || !b.BeingMended() || m.Piece.Findings.Shells == 1:
		t.Want(m.Piece, 0, m)
	}
}

// Hollow works out the hollow of a piece and how open its surface is to the sky.
func Hollow(ctx context.Context, m *state.Model, report task.Report[*state.Model]) (*state.Model, error) {
	grid, err := m.Piece.Hollow(ctx, func(done float64) { report.Progress("", done) })
	if err != nil {
		return nil, err
	}
	return m.Hollowed(grid), ctx.Err()
}
