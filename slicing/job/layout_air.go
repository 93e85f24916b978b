package job

import (
	"context"

	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
)

// mostAir is the largest share of a panel of parts for which air is looked for.
const mostAir = 0.05

// airMargin is the distance between parts that leaves a frame between their gaps.
func (w *Workshop) airMargin() float64 { return 2*w.Margin + leastFrame }

// airBench is the bench with so much distance between parts.
func (w *Workshop) airBench(ctx context.Context) (*panel.Bench, error) {
	rules := w.rules()
	rules.Margin = w.airMargin()
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

// orRoomier is the workshop with a layout that leaves a frame round every part, if one on as few panels is found and has
// fewer crowded parts; else the one given.
func (w *Workshop) orRoomier(ctx context.Context, tight *Workshop, from panel.Layout, c *stock.Catalogue, watch Watch) (*Workshop, error) {
	bench, err := w.airBench(ctx)
	if err != nil {
		return tight, ctx.Err()
	}
	l, err := bench.RearrangeTold(ctx, from, w.steps()/roomSteps, func(done float64) { watch.tell(layingRoomier, done) })
	if err != nil { // such as locked parts that lie too near each other for it
		return tight, ctx.Err()
	}
	if len(l.Panels) > len(tight.Layout.Panels) || len(l.TooLarge) > len(tight.Layout.TooLarge) || len(w.Bench.Check(l)) > 0 {
		return tight, nil
	}
	roomy, err := w.laid(ctx, l, searched, c)
	if err != nil {
		return nil, err
	}
	if roomy.crowded() < tight.crowded() {
		return roomy, nil
	}
	return tight, nil
}

// air moves small parts that lie too near their neighbours for tabs to where a panel still has room for a frame round them,
// the last panel first. Locked parts stay. Fewest panels came first; this takes no further one.
func (w *Workshop) air(ctx context.Context) error {
	var small []panel.ID
	for _, p := range w.Parts {
		if p.crowded && p.Shadow.Area() <= mostAir*w.For.PanelX*w.For.PanelY {
			small = append(small, p.ID)
		}
	}
	if len(small) == 0 {
		return nil
	}
	bench, err := w.airBench(ctx)
	if err != nil {
		return err
	}
	l, moved, err := bench.Spread(ctx, w.Layout, small)
	if err != nil || moved == 0 {
		return err
	}
	w.Layout = l
	return w.findTabs(ctx)
}
