package panel

import (
	"context"
	"errors"
	"fmt"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

// A Bench has the parts and rules of a layout made ready for looking at many places. It never changes and is safe for
// concurrent use.
type Bench struct {
	rules Rules
	parts []Part
	index map[ID]int
	cuts  [][2]outline // per part, in its two turns
}

// NewBench makes parts ready. It refuses rules that make no sense, parts without area or with the same ID, and points that
// are nowhere.
func NewBench(ctx context.Context, parts []Part, r Rules) (*Bench, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	b := &Bench{rules: r, parts: parts, index: make(map[ID]int, len(parts)), cuts: make([][2]outline, len(parts))}
	for i, p := range parts {
		if _, twice := b.index[p.ID]; twice {
			return nil, fmt.Errorf("panel: %v is there twice", p.ID)
		}
		b.index[p.ID] = i
		for _, ring := range p.Shadow {
			for _, q := range ring {
				if !finite(q.X) || !finite(q.Y) {
					return nil, fmt.Errorf("panel: %v has a point that is nowhere", p.ID)
				}
			}
		}
		if !(p.Shadow.Area() > 0) {
			return nil, fmt.Errorf("panel: %v has no area", p.ID)
		}
	}
	err := par.Spans(ctx, len(parts), 1, func(from, _ int) {
		for k, deg := range parts[from].turns() {
			b.cuts[from][k] = newOutline(turnRegion(parts[from].Shadow, deg))
		}
	})
	return b, err
}

// errLocked is what Rearrange says of locked parts that collide.
var errLocked = errors.New("panel: locked parts collide")

// outlineOf is the outline of a placed part at its turn; ok is false for an unknown part and for a turn against the grain.
func (b *Bench) outlineOf(p Placed) (o *outline, ok bool) {
	i, known := b.index[p.Part]
	if !known {
		return nil, false
	}
	for k, deg := range b.parts[i].turns() {
		if deg == p.TurnDeg {
			return &b.cuts[i][k], true
		}
	}
	return nil, false
}

// Outline is the outline of a placed part on its panel's side A; it is empty for a part that the bench does not know.
func (b *Bench) Outline(p Placed) geom.Region {
	i, known := b.index[p.Part]
	if !known {
		return nil
	}
	g := turnRegion(b.parts[i].Shadow, p.TurnDeg)
	for _, r := range g {
		for j := range r {
			r[j] = r[j].Add(p.At)
		}
	}
	return g
}
