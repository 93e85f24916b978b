package carve

import (
	"context"
	"fmt"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"
	"grainstack/slicing/stack"
)

// A Kind says what is the matter.
type Kind uint8

const (
	TrappedAir  Kind = iota // air outside the piece that no cutter sees; Size in mm³
	TrappedCore             // hollow that no cutter sees; mm³
	TooDeep                 // carved deeper than the cutting edge is long; mm too deep
	OutOfReach              // carved deeper than the cutter sticks out; mm too deep
	ShankRubs               // the shank is in the way of a tall wall; mm
	NoFit                   // the cutter doesn't fit in; mm that stay
	ThinWood                // wood thinner than wanted; mm of thickness
	SmallPart               // a part too small to hold; mm of its longest side
	LoosePart               // a part that may come loose while the second side is carved; mm² of it, or mm of its neck
)

var kindNames = [...]string{"trapped", "trapped core", "too deep", "out of reach", "shank", "no fit", "thin wood", "small part", "loose part"}

func (k Kind) String() string { return kindNames[k] }

// A Finding is something a maker ought to know before the first cut.
type Finding struct {
	Kind  Kind
	Layer int // its number, from 1
	Side  Side
	At    geom.Vec // on the stand
	Size  float64  // mm, mm² or mm³: see the kinds
	Text  string   // a sentence
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
		out = append(out, Finding{TrappedAir, l.Number, Both, b.Center, b.Volume, fmt.Sprintf(
			"Layer %d has an undercut that no cutter sees from either side: %s of wood stay, up to %.1f mm high.",
			l.Number, volume(b.Volume), b.Max)})
	}
	for _, b := range l.Core.Bodies(t.Limits.Trapped) {
		out = append(out, Finding{TrappedCore, l.Number, Both, b.Center, b.Volume, fmt.Sprintf(
			"The hollow of layer %d has an undercut: %s of wood stay inside, where nobody sees them.", l.Number, volume(b.Volume))})
	}
	return out
}

// volume in the words of a sentence.
func volume(mm3 float64) string {
	if mm3 < 100 {
		return fmt.Sprintf("%.0f mm³", mm3)
	}
	return fmt.Sprintf("%.1f cm³", mm3/1000)
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
		out = append(out, Finding{SmallPart, l.Number, Both, p.Box.Center(), long, fmt.Sprintf(
			"A part of layer %d is only %.0f x %.0f mm, %s: too small to hold safely.", l.Number, size.X, size.Y, volume(p.Volume))})
	}
	return out
}
