package carve

import (
	"context"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/par"
	"grainstack/slicing/stack"
)

// A Finding is something a maker ought to know before the first cut, at one place.
type Finding struct {
	Kind   finding.Kind
	Layer  int // its number, from 1
	Side   Side
	At     geom.Vec // on the stand
	Size   float64  // mm, mm² or mm³: see the kinds
	Reach  float64  // mm that it goes round At, seen from above; 0 where that is not known
	More   [2]float64
	Cutter string // that it is about, "" for none
}

// Tell is the finding as it is told, on a piece of a size.
func (f Finding) Tell(size geom.Vec) finding.Finding {
	p := finding.Place{Layer: f.Layer, At: f.At, Placed: true, Where: finding.Whereabouts(f.At, size), Size: f.Size, Reach: f.Reach, More: f.More}
	if f.Side != Both {
		p.Name = f.Side.String()
	}
	return finding.Of(f.Kind, p).Named(f.Cutter)
}

// Limits say from where on something is worth a finding.
type Limits struct {
	Trapped    float64 // mm³ of a connected place
	Residue    float64 // mm that stay
	Thin       float64 // mm of wood: upright walls, and feather edges that are wider than twice this
	PartSide   float64 // mm, longest side of a part that can be held
	PartVolume float64 // mm³
	PlanArea   float64 // mm², plan of a part that stays put
	Neck       float64 // mm, width of what joins two halves of a part
	Nut        float64 // mm, diameter of the collet nut
}

// UsualLimits are starting points (common practice, no source).
func UsualLimits() Limits {
	return Limits{Trapped: 50, Residue: 0.5, Thin: 3, PartSide: 25, PartVolume: 3000, PlanArea: 400, Neck: 5, Nut: 25}
}

// Task is what Check looks at; Cuts and Parts may be nil, and are by layer otherwise.
type Task struct {
	Layers []LayerColumns
	Work   Work // that made the cuts
	Cuts   []LayerCut
	Parts  [][]stack.Part
	Limits Limits
}

// Check lists what is the matter with each layer, from the floor up; within a layer always in the same order.
func (t *Task) Check(ctx context.Context) ([]Finding, error) {
	found := make([][]Finding, len(t.Layers))
	err := par.Spans(ctx, len(t.Layers), 1, func(k, _ int) {
		if t.Layers[k].Top.Z != nil {
			found[k] = t.layer(ctx, k)
		}
	})
	if err != nil {
		return nil, err
	}
	var out []Finding
	for _, fs := range found {
		out = append(out, fs...)
	}
	return out, nil
}

// layer lists what is the matter with one layer; it stops short once ctx is called off.
func (t *Task) layer(ctx context.Context, k int) []Finding {
	l := &t.Layers[k]
	var room []float32 // from each column to the edge of the wood, mm
	steps := []func() []Finding{
		func() []Finding { return t.trapped(l) },
		func() []Finding { return t.cut(l, k) },
		func() []Finding { return t.lids(l) },
		func() []Finding {
			room = l.Top.distances(func(i int) bool { return !l.has(i) }, true)
			return nil
		},
		func() []Finding { return t.walls(l, room) },
		func() []Finding { return t.small(l, k) },
		func() []Finding { return t.loose(l) },
		func() []Finding { return t.necks(l, room) },
	}
	var out []Finding
	for _, step := range steps {
		if ctx.Err() != nil {
			return nil
		}
		out = append(out, step()...)
	}
	return out
}

// trapped names the places that no cutter sees.
func (t *Task) trapped(l *LayerColumns) []Finding {
	var out []Finding
	for _, b := range l.Outside.Bodies(t.Limits.Trapped) {
		out = append(out, Finding{Kind: finding.Undercut, Layer: l.Number, Side: Both, At: b.Center, Size: b.Volume, Reach: b.radius(), More: [2]float64{b.Max}})
	}
	for _, b := range l.Core.Bodies(t.Limits.Trapped) {
		out = append(out, Finding{Kind: finding.InnerUndercut, Layer: l.Number, Side: Both, At: b.Center, Size: b.Volume, Reach: b.radius(), More: [2]float64{b.Max}})
	}
	return out
}

// small names the parts that can't be held.
func (t *Task) small(l *LayerColumns, k int) []Finding {
	if t.Parts == nil {
		return nil
	}
	var out []Finding
	for _, p := range t.Parts[k] {
		size := p.Box.Size()
		long := max(size.X, size.Y)
		if long >= t.Limits.PartSide && p.Volume >= t.Limits.PartVolume {
			continue
		}
		out = append(out, Finding{Kind: finding.SmallPart, Layer: l.Number, Side: Both, At: p.Box.Center(), Size: long, Reach: long / 2,
			More: [2]float64{min(size.X, size.Y), p.Volume}})
	}
	return out
}
