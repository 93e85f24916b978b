package workshop

import (
	"context"
	"slices"

	"grainstack/slicing/finding"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
)

// layParts lays the parts: as the maker's places have it where they hold everything, else round what is locked.
func (w *laying) layParts(ctx context.Context) (*Workshop, error) {
	if l, ok := w.ownLayout(ctx); ok {
		return w.laid(ctx, l, kept)
	}
	from := w.lockedFrom()
	w.before = w.Cautions
	w.watch.tell(layingFirst, 0)
	first, err := w.Bench.Rearrange(ctx, from, 0, nil)
	if err != nil {
		return nil, err
	}
	if w.watch.Early != nil {
		v, err := w.laid(ctx, first, firstFound)
		if err != nil {
			return nil, err
		}
		w.watch.Early(v)
	}
	best, err := w.Bench.Rearrange(ctx, from, w.steps(), func(done float64) { w.watch.tell(layingCloser, done) })
	if err != nil {
		return nil, err
	}
	w.watch.tell(holding, 0)
	v, err := w.laid(ctx, best, searched)
	if err != nil || v.crowded() == 0 {
		return v, err
	}
	return w.orRoomier(ctx, v, from)
}

// steps is how long the search goes on: fewer parts have fewer ways to lie, and each step takes longer with more.
func (w *laying) steps() int {
	const many = 40
	n := len(w.Parts)
	return min(panel.Steps, 300*n, panel.Steps*many/max(n, 1))
}

// ownLayout is the maker's layout where it has parts that are not locked, each at a place where it may lie. Parts that it lacks,
// such as those of a layer that has just been split, are laid where there is room between the others, or are too large for any
// panel.
func (w *laying) ownLayout(ctx context.Context) (panel.Layout, bool) {
	l := w.Places.Layout()
	seen, locked := make(map[panel.ID]bool), make(map[panel.ID]bool)
	for _, p := range l.Panels {
		for _, q := range p.Placed {
			if _, known := w.Part(q.Part); !known || seen[q.Part] {
				return panel.Layout{}, false
			}
			seen[q.Part] = true
			if q.Locked {
				locked[q.Part] = true
			}
		}
	}
	if len(locked) == len(seen) && len(seen) < len(w.Parts) || len(w.Bench.Check(l)) > 0 {
		return panel.Layout{}, false
	}
	if len(seen) < len(w.Parts) {
		for _, p := range l.Panels {
			for k := range p.Placed {
				p.Placed[k].Locked = true
			}
		}
		var err error
		if l, err = w.Bench.Rearrange(ctx, l, 0, nil); err != nil {
			return panel.Layout{}, false
		}
	}
	for i, p := range l.Panels {
		l.Panels[i].UsedPercent = 0
		for k, q := range p.Placed {
			part, _ := w.Part(q.Part)
			p.Placed[k].Locked = locked[q.Part]
			l.Panels[i].UsedPercent += 100 * part.Shadow.Area() / (w.For.PanelX * w.For.PanelY)
		}
	}
	return l, true
}

// lockedFrom is the locked part of the maker's layout, less what can't stay; that is told.
func (w *laying) lockedFrom() panel.Layout {
	all := w.Places.Layout()
	var out panel.Layout
	for _, p := range all.Panels {
		keep := panel.Panel{Number: p.Number}
		for _, q := range p.Placed {
			if !q.Locked {
				continue
			}
			if _, known := w.Part(q.Part); !known {
				continue
			}
			trial := panel.Layout{Panels: append(slices.Clone(out.Panels), keep)}
			if ok, hits := w.Bench.Fits(trial, p.Number, q); !ok {
				w.tell(finding.Of(finding.Dislodged, finding.Place{Layer: q.Part.Layer, Name: q.Part.String()}).Because(hits[0].Words()))
				continue
			}
			keep.Placed = append(keep.Placed, q)
		}
		if len(keep.Placed) > 0 && p.Number <= len(w.Parts)+len(all.Panels) {
			out.Panels = append(out.Panels, keep)
		}
	}
	return out
}

// Where a layout comes from.
type layoutFrom int

const (
	kept       layoutFrom = iota // the maker's
	firstFound                   // the program's first one
	searched                     // the program's best
)

// laid is the workshop with a layout and what follows from it: tabs, boards and cautions.
func (w *laying) laid(ctx context.Context, l panel.Layout, from layoutFrom) (*Workshop, error) {
	v := *w.Workshop
	v.Parts = slices.Clone(w.Parts)
	v.Layout, v.Improved = l, from != firstFound
	v.Cautions = slices.Clone(w.before)
	for _, m := range l.TooLarge {
		v.tell(m.Tell())
	}
	v.saw(w.c)
	return &v, (&holder{&v}).holdParts(ctx, from == searched)
}

// Panels is how many panels are carved.
func (w *Workshop) Panels() (n int) {
	for _, p := range w.Layout.Panels {
		n = max(n, p.Number)
	}
	return n
}

// HandsOnMin is the minutes by hand that these panels take; figures only know how many panels there may be.
func (w *Workshop) HandsOnMin(c *stock.Catalogue) float64 { return w.For.Setup(c).HandsOn(w.Panels()) }

// Fits reports whether a part may lie at a place on a panel, and what it collides with there. It takes under 2 ms.
func (w *Workshop) Fits(number int, at panel.Placed) (ok bool, hits []panel.Hit) {
	if w.Bench == nil {
		return false, nil
	}
	return w.Bench.Fits(w.Layout, number, at)
}

// A ClashError is why a part can't be put at a place.
type ClashError struct {
	Part panel.ID
	Hits []panel.Hit
}

// Error names the part and the first thing in its way.
func (e *ClashError) Error() string {
	if len(e.Hits) == 0 {
		return e.Part.String() + " may not lie there"
	}
	return e.Part.String() + " " + e.Hits[0].String()
}

// Put is the maker's places with a part moved, turned, locked or let go; all other parts stay where the layout has them. It
// refuses a place that collides, with a *ClashError.
func (w *Workshop) Put(number int, at panel.Placed) (job.Places, error) {
	if ok, hits := w.Fits(number, at); !ok || number < 1 || number > job.MostPlaces {
		return w.Places, &ClashError{at.Part, hits}
	}
	return w.Places.PlacesOf(w.Layout).With(number, at), nil
}

// Rearranged is the maker's places with all parts that are not locked left to the program again.
func (w *Workshop) Rearranged() job.Places {
	p := w.Places
	p.Parts = nil
	for _, q := range w.Layout.Panels {
		for _, at := range q.Placed {
			if at.Locked {
				p.Parts = append(p.Parts, job.Place{Panel: q.Number, Placed: at})
			}
		}
	}
	return p
}

// Relaid is the workshop with other places for parts and tabs, the rest as it is: what the end of a drag needs. ok is false
// where the places don't hold every part where it may lie, or where pins or joint lines have changed as well.
func (w *Workshop) Relaid(ctx context.Context, p job.Places, c *stock.Catalogue) (_ *Workshop, ok bool) {
	samePins := func(a, b job.PinPlace) bool { return a.Layer == b.Layer && slices.Equal(a.At, b.At) }
	if w.Bench == nil || !slices.Equal(p.Splits, w.Places.Splits) || !slices.EqualFunc(p.Pins, w.Places.Pins, samePins) {
		return nil, false
	}
	v := *w
	v.Places = p
	again := &laying{Workshop: &v, c: c}
	l, ok := again.ownLayout(ctx)
	if !ok {
		return nil, false
	}
	out, err := again.laid(ctx, l, kept)
	return out, err == nil
}
