package workshop

import (
	"context"
	"errors"
	"math"
	"slices"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/par"
	"grainstack/slicing/plane"
)

// holdParts finds the tabs of every part as it lies, gives crowded parts air where the program may move them, and says what is
// held badly.
func (w *holder) holdParts(ctx context.Context, move bool) error {
	if err := w.findTabs(ctx); err != nil {
		return err
	}
	if move {
		if err := w.air(ctx); err != nil {
			return err
		}
	}
	w.sayHold()
	w.saySplinters()
	return nil
}

func (w *holder) findTabs(ctx context.Context) error {
	faults := make([]error, len(w.Parts))
	frames := w.frames()
	err := par.Spans(ctx, len(w.Parts), 1, func(i, _ int) { faults[i] = w.hold(ctx, &w.Parts[i], frames[w.Parts[i].ID]) })
	return errors.Join(append(faults, err)...)
}

// whole is a part as the place of a finding.
func (w *Workshop) whole(p *Part) finding.Place {
	box := p.Shadow.Box()
	middle, ok := plane.Within(p.Shadow)
	if !ok {
		middle = box.Min.Add(box.Max).Scale(0.5)
	}
	at := finding.Place{Layer: p.Layer, Part: p.ID.Part + 1, Reach: min(box.Size().X, box.Size().Y) / 2}
	if i := p.Layer - 1; i >= 0 && i < len(w.Figures.Layers) {
		l := &w.Figures.Layers[i]
		z := (l.Bottom + l.Top) / 2
		if p.body < len(l.Parts) { // a part may fill the least of its layer
			z = l.Parts[p.body].Box.Center().Z
		}
		at.At, at.Placed = geom.Vec{X: middle.X, Y: middle.Y, Z: z}, true
		at.Where = finding.Whereabouts(at.At, w.Figures.Size)
	}
	return at
}

// sayHold names what the tabs hold badly, and why, and where they run on over thin wood.
func (w *holder) sayHold() {
	var loose, badly, weak, crowded, uneven []finding.Place
	var thin []int
	root := 0.0
	least, full := math.Inf(1), 0.0
	for i := range w.Parts {
		p := &w.Parts[i]
		section, whole := p.LeastTab()
		switch {
		case p.crowded:
			crowded = append(crowded, w.whole(p))
		case len(p.Tabs) == 0:
			loose = append(loose, w.whole(p))
		case !p.Held && section < soundShare*whole:
			if weak = append(weak, w.whole(p)); section < least {
				least, full = section, whole
			}
		case !p.Held:
			badly = append(badly, w.whole(p))
		}
		if p.Held && p.uneven {
			uneven = append(uneven, w.whole(p))
		}
		for _, t := range p.Tabs {
			if t.Root > fewestRoot {
				thin, root = append(thin, p.Layer), math.Max(root, t.Root)
			}
		}
	}
	if len(loose) > 0 {
		w.tell(finding.Of(finding.Unheld, loose...).With(w.For.Shop.TabWidth))
	}
	if len(crowded) > 0 {
		w.tell(finding.Of(finding.Crowded, crowded...))
	}
	if len(weak) > 0 {
		w.tell(finding.Of(finding.HeldThin, weak...).With(least, full))
	}
	if len(badly) > 0 {
		w.tell(finding.Of(finding.HeldBadly, badly...).With(w.For.Shop.TabWidth))
	}
	if len(uneven) > 0 {
		w.tell(finding.Of(finding.Uneven, uneven...).With(w.For.Shop.TabWidth, w.For.Shop.TabSpacing))
	}
	if thin = slices.Compact(thin); len(thin) > 0 {
		w.tell(finding.InLayers(finding.TabsOver, thin...).With(root))
	}
}

// LeastTab is the least section of a part's tabs and what that tab has where nothing is lacking, mm²; 0 where there is none.
func (p *Part) LeastTab() (section, full float64) {
	for i, t := range p.Tabs {
		if i == 0 || t.Section < section {
			section, full = t.Section, t.Full
		}
	}
	return section, full
}

// fewestSound is how many tabs of full section hold a part at the least.
const fewestSound = 2

// A tabTry is one way to find tabs for a part.
type tabTry struct {
	width, backing float64 // in widths that the maker wants
	reach          float64 // see tabFooting
	share          float64
	framed         bool
	spare          bool // left out where the maker chose places
}

// tabTries are the ways in their order. Sound wood goes first; where that doesn't hold the part, narrow wood will do, and tabs
// may run on over a thin edge to where the wood is thick enough; a small part may have narrower ones. Where that leaves a stretch
// without a tab, weaker ones do there beside two of full section. What is held by none of these has the strongest that there
// are. The last only shows whether the panel's frame is what is missing.
var tabTries = [...]tabTry{
	{width: 1, backing: 2, reach: 2 * fewestRoot, share: soundShare, framed: true, spare: true},
	{width: 1, backing: 1, reach: mostRoot, share: soundShare, framed: true},
	{width: smallTab, backing: smallTab, reach: mostRoot, share: soundShare, framed: true, spare: true},
	{width: 1, backing: 1, reach: mostRoot, share: halfShare, framed: true},
	{width: smallTab, backing: smallTab, reach: mostRoot, share: weakShare, framed: true, spare: true},
	{width: smallTab, backing: smallTab, reach: mostRoot, share: soundShare},
}

// hold finds the tabs of one part: where the maker put them, else as few as hold it. They stand where the panel's frame is. Held is
// what has two tabs of full section at the least and tabs on all sides; a stretch longer than wanted without one is told.
func (w *holder) hold(ctx context.Context, p *Part, f *frame) error {
	own := w.Places.TabsOf(p.ID)
	p.Tabs, p.Held, p.uneven, p.crowded, p.spots = nil, false, false, false, nil
	for _, try := range tabTries {
		if len(own) > 0 && try.spare {
			continue
		}
		rules := w.tabRules(ctx, p, f, try)
		sites, err := p.seats.on(p.Shadow, rules)
		if err != nil {
			return err
		}
		spots := sites.Places(rules.Hole, rules.Foot)
		if err := ctx.Err(); err != nil {
			return err
		}
		tabs, even := spots.Choose()
		if !try.framed {
			p.crowded = !p.Held && (even || len(tabs) > 0 && len(p.Tabs) == 0)
			break
		}
		held := even || spots.AllRound(tabs)
		if len(own) > 0 {
			tabs, even, held = nearestTabs(spots, own), true, true
		}
		sound := 0
		for _, t := range tabs {
			if t.Section >= soundShare*t.Full && !p.onSplinter(t) {
				sound++
			}
		}
		held, even = held && sound >= fewestSound, even && sound >= fewestSound
		if even || held && !p.Held || !p.Held && len(tabs) > len(p.Tabs) || p.spots == nil {
			p.spots, p.Tabs, p.Held, p.uneven = spots, tabs, held, !even
		}
		if even {
			break
		}
	}
	return nil
}

// nearestTabs are the tabs that may stand nearest to where the maker wants them.
func nearestTabs(spots *panel.TabPlaces, own []geom.Vec2) (tabs []panel.Tab) {
	for _, at := range own {
		if t, ok := spots.Nearest(at); ok {
			tabs = append(tabs, t)
		}
	}
	return tabs
}

// smallTab is how much narrower the tabs of a small part may be than the maker wants.
const smallTab = 0.6

func (w *holder) tabRules(ctx context.Context, p *Part, f *frame, try tabTry) panel.TabRules {
	h := w.For.Shop
	r := panel.TabRules{Width: h.TabWidth * try.width, Backing: h.TabWidth * try.backing, Channel: w.Margin, Spacing: h.TabSpacing}
	if f != nil {
		r.Hole = func(ring int) bool { return f.within(p.Shadow[ring]) }
	}
	foot := tabFooting{part: p, thick: w.tabThickness(), panel: w.Figures.Thickness, reach: try.reach, share: try.share, length: w.Margin}
	if try.framed {
		foot.frame = f
	}
	r.Foot = func(t panel.Tab) (panel.Foot, bool) {
		if ctx.Err() != nil {
			return panel.Foot{}, false
		}
		return foot.of(t)
	}
	return r
}

// tabThickness is a third of the layer where the maker has no wish.
func (w *holder) tabThickness() float64 {
	if t := w.For.Shop.TabThickness; t > 0 {
		return math.Min(t, w.Figures.Thickness)
	}
	return w.Figures.Thickness / 3
}

// NearestTab is the tab of a part that may stand nearest to a point of the stand: what a dragged tab snaps to. ok is false
// where the part has no place for one.
func (w *Workshop) NearestTab(part panel.ID, at geom.Vec2) (t panel.Tab, ok bool) {
	p, known := w.Part(part)
	if !known || p.spots == nil {
		return t, false
	}
	return p.spots.Nearest(at)
}
