package workshop

import (
	"cmp"
	"context"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
)

// airMargin is the distance between parts that leaves a frame between their gaps, wherever the cells of the waste lie.
func (w *holder) airMargin() float64 { return 2*w.Margin + job.LeastFrame + 2*wasteStep }

// airBench is the bench on which parts lie so far apart.
func (w *holder) airBench(ctx context.Context) (*panel.Bench, error) {
	rules := w.rules()
	rules.Frame = w.airMargin() - rules.Margin
	return panel.NewBench(ctx, w.panelParts(), rules)
}

// crowded is how many parts the tabs would hold if they had more room.
func (w *Workshop) crowded() (n int) {
	for _, p := range w.Parts {
		if p.crowded {
			n++
		}
	}
	return n
}

// roomSteps is the share of the steps that the search for a roomy layout has.
const roomSteps = 3

// freedByPanel is how many more parts have to get a hold for a panel more to be worth its wood (common practice, no source): what
// nothing holds is screwed down or lost.
const freedByPanel = 3

// orRoomier is the workshop with a layout that leaves a frame round every part, if it has fewer crowded parts, by freedByPanel
// for each panel that it takes more; else the one given.
func (w *laying) orRoomier(ctx context.Context, tight *Workshop, from panel.Layout) (*Workshop, error) {
	bench, err := (&holder{w.Workshop}).airBench(ctx)
	if err != nil {
		return tight, ctx.Err()
	}
	l, err := bench.Rearrange(ctx, from, w.steps()/roomSteps, func(done float64) { w.watch.tell(layingRoomier, done) })
	if err != nil { // such as locked parts that lie too near each other for it
		return tight, ctx.Err()
	}
	more := max(0, len(l.Panels)-len(tight.Layout.Panels))
	if tight.crowded() < freedByPanel*more || len(l.TooLarge) > len(tight.Layout.TooLarge) || len(w.Bench.Check(l)) > 0 {
		return tight, nil
	}
	roomy, err := w.laid(ctx, l, searched)
	if err != nil {
		return nil, err
	}
	if freed := tight.crowded() - roomy.crowded(); freed > 0 && freed >= freedByPanel*more {
		return roomy, nil
	}
	return tight, nil
}

// air moves parts that lie too near their neighbours for tabs to where a panel still has room for a frame round them, the last
// panel first; of those that find none the neighbours. Locked parts stay. Fewest panels came first; this takes no further one.
func (w *holder) air(ctx context.Context) error {
	if w.crowded() == 0 {
		return nil
	}
	bench, err := w.airBench(ctx)
	if err != nil {
		return err
	}
	for _, which := range []func() []panel.ID{w.crowdedParts, w.crowding} {
		l, moved, err := bench.Spread(ctx, w.Layout, which())
		if err != nil {
			return err
		}
		if moved == 0 {
			continue
		}
		layout, parts, before := w.Layout, slices.Clone(w.Parts), w.crowded()
		w.Layout = l
		if err := w.findTabs(ctx); err != nil {
			return err
		}
		if w.crowded() >= before {
			w.Layout, w.Parts = layout, parts
		}
	}
	return nil
}

// crowdedParts are those, the smallest first.
func (w *holder) crowdedParts() (ids []panel.ID) {
	var parts []*Part
	for i := range w.Parts {
		if w.Parts[i].crowded {
			parts = append(parts, &w.Parts[i])
		}
	}
	slices.SortStableFunc(parts, func(p, q *Part) int { return cmp.Compare(p.Shadow.Area(), q.Shadow.Area()) })
	for _, p := range parts {
		ids = append(ids, p.ID)
	}
	return ids
}

// crowding are the parts that lie nearer to a crowded one than a frame between them takes, by their boxes.
func (w *holder) crowding() (ids []panel.ID) {
	room := geom.Vec2{X: w.airMargin(), Y: w.airMargin()}
	for _, p := range w.Layout.Panels {
		var crowded []geom.Box2
		for _, at := range p.Placed {
			if part, ok := w.Part(at.Part); ok && part.crowded {
				b := at.ApplyBox(part.Shadow.Box())
				crowded = append(crowded, geom.Box2{Min: b.Min.Sub(room), Max: b.Max.Add(room)})
			}
		}
		for _, at := range p.Placed {
			part, ok := w.Part(at.Part)
			if !ok || part.crowded {
				continue
			}
			b := at.ApplyBox(part.Shadow.Box())
			if slices.ContainsFunc(crowded, func(c geom.Box2) bool {
				return b.Min.X < c.Max.X && b.Max.X > c.Min.X && b.Min.Y < c.Max.Y && b.Max.Y > c.Min.Y
			}) {
				ids = append(ids, at.Part)
			}
		}
	}
	return ids
}
