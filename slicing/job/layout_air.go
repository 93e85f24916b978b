package job

import (
	"context"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
)

// Where air is looked for: at marks so far apart, mm, for parts of at most this share of a panel.
const (
	airStep = 15.0
	mostAir = 0.05
)

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
	var bench *panel.Bench
	moved := false
	for i := range w.Parts {
		p := &w.Parts[i]
		_, from, ok := w.Layout.Find(p.ID)
		if !p.crowded || !ok || from.Locked || p.Shadow.Area() > mostAir*w.For.PanelX*w.For.PanelY {
			continue
		}
		if bench == nil {
			var err error
			if bench, err = w.airBench(ctx); err != nil {
				return err
			}
		}
		to, at, ok := w.airy(bench, from)
		if err := ctx.Err(); err != nil {
			return err
		}
		if ok {
			w.Layout = w.carried(p, to, at)
			moved = true
		}
	}
	if !moved {
		return nil
	}
	return w.findTabs(ctx)
}

// airy is a place on some panel where a part keeps the bench's distance from everything.
func (w *Workshop) airy(b *panel.Bench, from panel.Placed) (number int, at panel.Placed, ok bool) {
	for _, p := range slices.Backward(w.Layout.Panels) {
		for _, deg := range []int{from.TurnDeg, (from.TurnDeg + 180) % 360} {
			at := panel.Placed{Part: from.Part, TurnDeg: deg}
			box := b.Outline(at).Box()
			size := box.Size()
			for y := w.Edge(); y+size.Y <= w.For.PanelY-w.Edge(); y += airStep {
				for x := w.Edge(); x+size.X <= w.For.PanelX-w.Edge(); x += airStep {
					at.At = geom.Vec2{X: x, Y: y}.Sub(box.Min)
					if ok, _ := b.Fits(w.Layout, p.Number, at); ok {
						return p.Number, at, true
					}
				}
			}
		}
	}
	return 0, panel.Placed{}, false
}

// carried is the layout with a part at another place, and its share of the panels with it.
func (w *Workshop) carried(p *Part, number int, at panel.Placed) panel.Layout {
	out := panel.Layout{TooLarge: w.Layout.TooLarge}
	share := 100 * p.Shadow.Area() / (w.For.PanelX * w.For.PanelY)
	for _, q := range w.Layout.Panels {
		q.Placed = slices.Clone(q.Placed)
		if k := slices.IndexFunc(q.Placed, func(o panel.Placed) bool { return o.Part == p.ID }); k >= 0 {
			q.Placed = slices.Delete(q.Placed, k, k+1)
			q.UsedPercent -= share
		}
		if q.Number == number {
			q.Placed = append(q.Placed, at)
			q.UsedPercent += share
		}
		out.Panels = append(out.Panels, q)
	}
	return out
}
