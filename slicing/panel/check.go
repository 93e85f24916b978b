package panel

import (
	"fmt"

	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// Against is what a part collides with.
type Against int

// What a part may lie too near to.
const (
	AnotherPart Against = iota
	PanelEdge
	Clamp // of the panel, on the machine
	RegisterDowel
	Grain // the turn leads the grain across the panel, or the part is unknown
	OtherBoard
)

// A Hit says what a part lies too near to.
type Hit struct {
	Kind Against
	Part ID      // AnotherPart, OtherBoard: which
	Item int     // Clamp, RegisterDowel: which, from 0
	Over bool    // Clamp: while the panel is turned over
	Gap  float64 // distance there is, 0 where they overlap
	Want float64 // distance there has to be
}

// String is the hit in words for the maker, in metric units.
func (h Hit) String() string { return h.Words().String() }

// Words are the hit in words for the maker.
func (h Hit) Words() unit.Said {
	what := ""
	switch h.Kind {
	case AnotherPart:
		what = h.Part.String()
	case PanelEdge:
		what = "the panel's edge"
	case Clamp:
		what = fmt.Sprintf("clamp %d", h.Item+1)
		if h.Over {
			what += " once the panel is turned over"
		}
	case RegisterDowel:
		what = fmt.Sprintf("register dowel %d", h.Item+1)
	case OtherBoard:
		return unit.Say("can't be carved from a panel of another board, that of %v", h.Part)
	case Grain:
		return unit.Say("the part cannot lie in this turn: its grain has to run with the panel's length")
	}
	if h.Gap <= 0 {
		return unit.Say("lies on %s", what)
	}
	return unit.Say("%s from %s, has to be %s", unit.Mm(h.Gap), what, unit.Mm(h.Want))
}

// exact is how far a distance may fall short by rounding, mm.
const exact = 1e-6

// Fits reports whether a part may lie at a place on a panel of the layout, and what it collides with there. Where the
// layout has the part already it is taken as lifted off. A panel number that the layout lacks is an empty panel.
func (b *Bench) Fits(l Layout, number int, p Placed) (ok bool, hits []Hit) {
	o, known := b.outlineOf(p)
	if !known || !finite(p.At.X) || !finite(p.At.Y) {
		return false, []Hit{{Kind: Grain}}
	}
	hits = b.fixedHits(o, p.At)
	board := b.parts[b.index[p.Part]].Board
	for _, panel := range l.Panels {
		if panel.Number != number {
			continue
		}
		for _, q := range panel.Placed {
			other, known := b.outlineOf(q)
			if q.Part == p.Part || !known {
				continue
			}
			if b.parts[b.index[q.Part]].Board != board {
				hits = append(hits, Hit{Kind: OtherBoard, Part: q.Part})
				continue
			}
			want := b.rules.apart()
			if gap := o.nearer(other, q.At.Sub(p.At), want); gap < want-exact {
				hits = append(hits, Hit{Kind: AnotherPart, Part: q.Part, Gap: gap, Want: want})
			}
		}
	}
	return len(hits) == 0, hits
}

// fixedHits are edges, clamps and dowels that an outline is too near to.
func (b *Bench) fixedHits(o *outline, at geom.Vec2) (hits []Hit) {
	r := b.rules
	box := moved(o.box, at)
	edge := min(box.Min.X, box.Min.Y, r.PanelX-box.Max.X, r.PanelY-box.Max.Y)
	if edge < r.Edge-exact {
		hits = append(hits, Hit{Kind: PanelEdge, Gap: max(edge, 0), Want: r.Edge})
	}
	for _, c := range r.Clamps {
		clamp := boxOutline(c.Box2)
		if gap := o.nearer(&clamp, at.Scale(-1), r.Margin); gap < r.Margin-exact {
			hits = append(hits, Hit{Kind: Clamp, Item: c.Number - 1, Over: c.Turned, Gap: gap, Want: r.Margin})
		}
	}
	for i, d := range r.Dowels {
		want := r.Margin + d.Diameter/2
		if gap := o.nearPoint(d.At, at, want); gap < want-exact {
			hits = append(hits, Hit{Kind: RegisterDowel, Item: i, Gap: max(gap-d.Diameter/2, 0), Want: r.Margin})
		}
	}
	return hits
}

// A Collision is a hit of a part in a layout.
type Collision struct {
	Panel int
	Part  ID
	Hit
}

// Check looks at every part of a layout; none where all is well.
func (b *Bench) Check(l Layout) (out []Collision) {
	for _, panel := range l.Panels {
		for _, p := range panel.Placed {
			_, hits := b.Fits(l, panel.Number, p)
			for _, h := range hits {
				out = append(out, Collision{panel.Number, p.Part, h})
			}
		}
	}
	return out
}
