package state

import (
	"grainstack/app/session"
	"grainstack/slicing/job"
	"grainstack/slicing/trial"
)

// A Bench is all that is on the bench. What it embeds knows nothing of what stands above it. Make it with New.
type Bench struct {
	Reckoned
	Shop     Shop
	Programs Programs
	Compass  Compass
	Tried    Tried
	told     figuresTold
}

// New is an empty bench with the stock on a shelf.
func New(s Shelf) *Bench {
	b := &Bench{}
	b.Session, b.Shelf = session.New(job.Default(s.Mine)), s
	b.Shop, b.Compass, b.Tried = Shop{bench: &b.Reckoned}, newCompass(&b.Piece), Tried{bench: &b.Reckoned}
	b.Programs = Programs{shop: &b.Shop, Speed: UsualSpeed}
	return b
}

// Put lays another piece on the bench, with what a job has kept for it; nothing of the one before stays.
func (b *Bench) Put(m *Model) {
	b.Model, b.Standing, b.Figures, b.Figured = m, nil, nil, Figured{}
	b.Scan = Scan{Raw: m}
	b.Selected = Selected{Snag: Snag{Serial: b.Selected.Snag.Serial}}
	b.Path, b.Made = "", 0
	b.Replace(m.Settings, m.Plan(), m.Job.Places, m.Job.Asides, m.Job.Trials...)
	b.Shelf.Now = b.Shelf.Mine
	if m.Job.Catalogue != nil {
		b.Shelf.Now = m.Job.Catalogue
	}
	b.Shop, b.told = Shop{bench: &b.Reckoned}, figuresTold{}
	b.Programs.Begin(ShopKey{}, nil)
	b.Programs.Panel = 0
	b.Compass.Found, b.Compass.Of, b.Compass.Pointed = nil, CompassKey{}, nil
	b.Tried = b.Tried.anew(b.Trials())
}

// Recall puts on the bench what is known already or is a look-up: the piece as it was mended before, figures, a workshop of
// before; and it puts what is known of cutters and machine into the figures.
func (b *Bench) Recall() {
	if p := &b.Selected.Picking; p.Distance() > 0 && p.Turn != b.Settings().Turn {
		p.Points = nil // the maker is at something else
	}
	if b.Plan() != b.Model.Plan() {
		if m := b.Scan.otherwise(b.Plan()); m != nil {
			b.Rejoin(m)
		}
	}
	if key := b.MendKey(); key != b.Model.Key {
		if m := b.Scan.Find(key); m != nil {
			b.Exchange(m)
		}
	}
	if b.Stands() && b.Figured.Key != b.FigureKey() && b.Reckonable() {
		b.reckon()
	}
	b.dress()
	if v := b.Shop.kept(b.Shop.Key()); v != nil && (b.Shop.Of != b.Shop.Key() || !b.Shop.Last.Improved) {
		b.Shop.Take(b.Shop.Key(), v)
	}
}

// Take takes figures as they were worked out, also for what is known of trials.
func (b *Bench) Take(key FigureKey, f *job.Figures) {
	b.Reckoned.take(key, f)
	if !f.Settled || !f.CoreKnown || b.BeingMended() || b.Model.Key != MendKeyOf(b.Model.Piece, f.For) {
		return
	}
	one := b.Tried.Key(f.For)
	if t, ok := b.Tried.Tickets[one]; !ok || !t.Deep {
		b.Tried.Remind(one, trial.NewTicket(f, b.Shelf.Now))
	}
}
