package trial

import (
	"context"
	"fmt"

	"grainstack/slicing/field"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// mostTried is how many pieces a Trier keeps: trials of one sculpture are seldom mended in more ways.
const mostTried = 2

// A Trier works trials of one scan out, one after another, and keeps the last few pieces that it made of the scan, with their
// hollows. It is used by one goroutine at a time. The zero Trier is ready.
type Trier struct{ made []Tried }

// A Tried is a piece that was mended as some trial wants it; Grid is nil until a trial wanted its hollow.
type Tried struct {
	Piece *job.Piece
	Grid  *field.Grid
	How   mend.Settings // see Settings.Mending
}

// Piece is the piece as settings want it mended, with its hollow where they want one. known, which may be empty, is what is
// there already: it is looked through first, and not kept.
func (t *Trier) Piece(ctx context.Context, of *job.Piece, s job.Settings, known []Tried, progress func(step string, done float64)) (Tried, error) {
	how := s.Mending()
	got, ok := findTried(append(known[:len(known):len(known)], t.made...), of.Scan, how)
	if !ok {
		p, err := of.Mend(ctx, s, progress)
		if err != nil {
			return Tried{}, err
		}
		got = Tried{Piece: p, How: how}
		if same, ok := findPiece(known, p); ok { // nothing had to be done to it
			got.Grid = same.Grid
		}
	}
	if got.Grid == nil && s.Wall > 0 && got.Piece.Solid() {
		tell := func(done float64) {
			if progress != nil {
				progress("working out the hollow", done)
			}
		}
		grid, err := got.Piece.Hollow(ctx, tell)
		if err != nil {
			return Tried{}, err
		}
		got.Grid, ok = grid, false
	}
	if !ok {
		t.keep(got)
	}
	return got, nil
}

// findTried is a piece of a scan that was mended in a way.
func findTried(all []Tried, scan *job.Scan, how mend.Settings) (Tried, bool) {
	for _, one := range all {
		if one.Piece != nil && one.Piece.Scan == scan && one.How == how {
			return one, true
		}
	}
	return Tried{}, false
}

func findPiece(all []Tried, p *job.Piece) (Tried, bool) {
	for _, one := range all {
		if one.Piece == p {
			return one, true
		}
	}
	return Tried{}, false
}

// keep puts a piece at the end of those that are kept, in place of an older state of it.
func (t *Trier) keep(one Tried) {
	var kept []Tried
	for _, o := range t.made {
		if o.Piece.Scan == one.Piece.Scan && o.How != one.How {
			kept = append(kept, o)
		}
	}
	kept = append(kept, one)
	t.made = kept[max(0, len(kept)-mostTried):]
}

// Ticket works the ticket of settings out. A deep one follows the cutters and lays the panels, as the program lays them, which
// takes some hundred times as long; reached, which may be nil, is used where it is for settings that carve alike. Settings that can't be worked with give a ticket that says why; the error is that of ctx,
// or says why the piece can't be made.
func (t *Trier) Ticket(ctx context.Context, of *job.Piece, s job.Settings, c *stock.Catalogue, known []Tried, deep bool, reached *job.Reached, progress func(step string, done float64)) (Ticket, error) {
	if err := s.Check(c); err != nil {
		return Ticket{For: s, Withheld: unit.Told(err)}, nil
	}
	tried, err := t.Piece(ctx, of, s, known, progress)
	if err != nil {
		return Ticket{}, err
	}
	st, err := tried.stand(ctx, s)
	if err != nil {
		return Ticket{}, err
	}
	f, err := job.Settle(ctx, st, s, c)
	if err != nil {
		return Ticket{}, err
	}
	ticket := NewTicket(f, c)
	if !deep || !f.Withheld.None() {
		return ticket, nil
	}
	return ticket.deepen(ctx, st, f, c, reached, progress)
}

// stand is the piece as settings stand it, with its hollow where that is known.
func (t Tried) stand(ctx context.Context, s job.Settings) (*job.Standing, error) {
	st, err := job.Stand(ctx, t.Piece, s.Stand())
	if err != nil || t.Grid == nil {
		return st, err
	}
	return st.WithField(ctx, t.Grid)
}

// deepen follows the cutters, where that is not done, and lays the panels.
func (t Ticket) deepen(ctx context.Context, st *job.Standing, f *job.Figures, c *stock.Catalogue, r *job.Reached, progress func(step string, done float64)) (Ticket, error) {
	tell := func(step string, done float64) {
		if progress != nil {
			progress(step, done)
		}
	}
	if r == nil || !r.For.CarvesLike(f.For) {
		var err error
		if r, err = workshop.Reach(ctx, st, f, c, func(done float64) { tell("following the cutters", 0.6*done) }); err != nil {
			return Ticket{}, err
		}
	}
	tell("laying the panels", 0.6)
	w, err := workshop.New(ctx, st, f, job.Places{}, c, workshop.Watch{Tell: func(_ string, done float64) { tell("laying the panels", 0.6+0.4*done) }})
	if err != nil {
		return Ticket{}, fmt.Errorf("its workshop can't be worked out: %w", err)
	}
	return t.with(r, w, c), nil
}
